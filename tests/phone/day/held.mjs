// What a job has kept, held against the lines that were worked.
import assert from 'node:assert/strict';

import { layerKey, plan } from './demo.mjs';

/** The pen takes no place nearer than this to the one before, in parts of a box 1000 wide. */
const STEP = 4;
const near = ([a, b], [x, y]) => Math.hypot(a - x, b - y);

/** The entries that a sealed record carries. */
export function carried(pdf) {
  const text = pdf.toString('latin1');
  const start = text.indexOf('stream\n', text.indexOf('application#2Fjsonl')) + 'stream\n'.length;
  const end = text.indexOf('endstream', start);
  return pdf.subarray(start, end).toString('utf8').trim().split('\n').map((line) => JSON.parse(line));
}

/** The kept strokes run through every place of the drawn ones, besides those too near to the one before. */
function sameStrokes(kept, drawn, what) {
  assert.equal(kept.length, drawn.length, `${what}: strokes`);
  for (const [i, stroke] of drawn.entries()) {
    let at = 0;
    for (const place of stroke) {
      const next = kept[i][at];
      if (next && near(next, place) <= 1.5) at += 1;
      else assert.ok(at > 0 && near(kept[i][at - 1], place) < STEP + 1.5, `${what}: stroke ${i + 1} misses ${place}`);
    }
    assert.equal(at, kept[i].length, `${what}: stroke ${i + 1} has places that nobody drew`);
  }
}

/** A body without its photo and strokes, which are held against the line's on their own. */
function plain({ strokes: _, ...body }) {
  for (const key of ['sha256', 'photo']) if (key in body) body[key] = 'a photo';
  return body;
}

/** The diary has the plan, every line as it was worked, and the record. */
export function sameDiary(entries, worked) {
  assert.deepEqual(entries.map(({ kind }) => kind), ['plan', ...worked.map(({ kind }) => kind)]);
  assert.deepEqual(entries[0].body, { plan: plan() });
  const photos = new Map();
  for (const [i, line] of worked.entries()) {
    const what = `line ${i + 1}, ${line.kind}`;
    const entry = entries[i + 1];
    assert.deepEqual([entry.id, entry.who], [line.id, line.who], what);
    assert.deepEqual(plain({ ...entry.body }), plain({ ...line.body }), what);
    if (line.body.strokes) sameStrokes(entry.body.strokes, line.body.strokes, what);
    const { file } = line.body.sha256 ?? line.body.photo ?? {};
    if (!file) continue;
    const hash = entry.body.sha256 ?? entry.body.photo;
    assert.equal(photos.get(file) ?? hash, hash, `${what}: ${file} is another photo than before`);
    photos.set(file, hash);
  }
  assert.equal(new Set(photos.values()).size, photos.size, 'two photos are one');
  return photos;
}

/** What the job says of itself follows from the lines: what is struck, measured, closed, issued. */
export function sameStand(view, shown, worked, dips) {
  const struck = new Map(worked.filter(({ kind }) => kind === 'strike').map(({ body }) => [body.entry, body.reason]));
  for (const { id, struck: mark } of shown) assert.equal(mark?.reason, struck.get(id), `whether ${id} is struck`);
  assert.equal(shown.filter((entry) => entry.struck).length, struck.size);
  const counts = measured(worked, dips, struck);
  const stand = view.layers.map((layer) => [layerKey(layer), layer.in, layer.out]);
  assert.deepEqual(stand, view.layers.map((layer) => [layerKey(layer), ...(counts.get(layerKey(layer)) ?? [0, 0])]));
  assert.deepEqual(stages(view), closed(view, worked));
  assert.deepEqual(view.records.map(({ number }) => number), [1]);
}

/** Dips in and out by layer, as they were answered; the newest at a place counts. */
function measured(worked, dips, struck) {
  const newest = new Map();
  const kept = worked.filter(({ kind }) => kind === 'dip');
  for (const [i, { word, ...dip }] of dips.entries()) {
    if (!struck.has(kept[i].id)) newest.set([layerKey(dip), dip.from, dip.to, dip.at_m].join(), [layerKey(dip), word]);
  }
  const counts = new Map();
  for (const [layer, word] of newest.values()) {
    const [within, out] = counts.get(layer) ?? [0, 0];
    counts.set(layer, word === 'right' ? [within + 1, out] : [within, out + 1]);
  }
  return counts;
}

const stages = ({ stages: all }) => all.map(({ stage, state, reason }) => [stage, state === 'done' || state === 'passed_with_reason', reason]);

/** Each stage as its last line leaves it. Work is done: none before the handing over is open. */
function closed(view, worked) {
  const last = new Map(worked.filter(({ kind }) => kind === 'stage').map(({ body }) => [body.stage, body]));
  return view.stages.map(({ stage }) => {
    const { done = false, reason = '' } = last.get(stage) ?? {};
    assert.ok(done || stage === 'hand_over' || stage === 'return_visit', `no line closes ${stage}`);
    return [stage, done, done ? reason : ''];
  });
}
