import type { DipView, Drawing, JobView, Layer, LayerView, NextPlace, Phrase, PinView, StringView, Word } from '../generated/types';
import { say, sayPhrase } from '../words/say';
import { howMuch, taped, type Tape } from '../words/tape';
import type { Point } from './drawing/view';

/** How far off a dip is, and whether that is within its limits. */
type Off = Pick<DipView, 'high_mm' | 'word'>;

/** How high or low, in few words for a drawing: "high 2", "low 9", "right"; inches have their mark beside its metres. */
export function dipShort(dip: Off, tape: Tape): string {
  const off = offBy(dip, tape);
  return tape === 'mm' || off === say('dip.right') ? off : say('dip.in_inches', { off });
}

function offBy({ high_mm, word }: Off, tape: Tape): string {
  if (word === 'right' && taped(Math.abs(high_mm), tape) === '0') return say('dip.right');
  return say(high_mm > 0 ? 'dip.high' : 'dip.low', { off: howMuch(high_mm, tape) });
}

/** The answer as it fills the screen: "high 12" and "take off". */
export function answerWords(word: Word, high_mm: number, layer: Layer, tape: Tape): { answer: string; act: string } {
  const off = howMuch(high_mm, tape);
  switch (word) {
    case 'high':
      return { answer: say('dip.high', { off }), act: say(layer === 'surface' ? 'do.plate_again' : 'do.take_off') };
    case 'low':
      return { answer: say('dip.low', { off }), act: say(LOW[layer]) };
    case 'right':
      return { answer: say('dip.right'), act: say('do.leave') };
  }
}

/** An answer and what it is held against. */
type Held = Off & Pick<LayerView, 'high_by_mm' | 'low_by_mm'>;

/** The limits beside an answer; where eighths cannot tell a dip that is out from its limit, in millimetres. */
export function limitWords({ word, high_mm, high_by_mm, low_by_mm }: Held, tape: Tape): string {
  const limits = (unit: Tape) =>
    say('dip.limits', { high: howMuch(high_by_mm, unit), low: howMuch(low_by_mm, unit), unit: `@${unit}` });
  if (word === 'right') return say('dip.within', { off: offBy({ high_mm, word }, tape), limits: limits(tape) });
  const limit = high_mm > 0 ? high_by_mm : low_by_mm;
  if (tape === 'mm' || howMuch(high_mm, tape) !== howMuch(limit, tape)) return limits(tape);
  return say('dip.close', { off: offBy({ high_mm, word }, 'mm'), unit: '@mm', limits: limits('mm') });
}

/** What is asked about a reading that is far off; in inches with the same numbers to the eighth. */
export function doubtWords(doubt: Phrase, tape: Tape): string {
  const { reading, off } = doubt.values;
  const key = DOUBTS[doubt.code];
  if (tape === 'mm' || !key || typeof reading !== 'number' || typeof off !== 'number') return sayPhrase(doubt);
  return say(key, { reading: taped(reading, tape), off: taped(off, tape) });
}

const DOUBTS: Partial<Record<string, 'dip.doubt_near' | 'dip.doubt_target'>> = {
  'doubt.far_off': 'dip.doubt_near', 'doubt.far_from_target': 'dip.doubt_target',
};

/** What is done about a layer that is low: the dig is never made up with spoil. */
const LOW = { formation: 'do.fill_with_stone', sub_base: 'do.bring_up', bed: 'do.bring_up', surface: 'do.lift_and_rebed' } as const;

/** A place to dip: a pin, reached along a string from its zero. */
export interface DipStop {
  pin: string;
  from: string;
  to: string;
  at_m: number;
}

/** The places to dip in walking order: every pin once, from a string that starts or ends there. */
export function walk(pins: readonly PinView[], strings: readonly StringView[]): DipStop[] {
  return pins.flatMap(({ name }): DipStop[] => {
    const starts = strings.find((s) => s.from === name);
    if (starts) return [{ pin: name, from: starts.from, to: starts.to, at_m: 0 }];
    const ends = strings.find((s) => s.to === name);
    return ends ? [{ pin: name, from: ends.from, to: ends.to, at_m: ends.length_m }] : [];
  });
}

/** The layer to measure: the one that the sentence of the day speaks of, else the one in work or wanting. */
export function layerInHand({ next, section, layers }: Pick<JobView, 'next' | 'section' | 'layers'>): LayerView | undefined {
  const named = typeof next.values.layer === 'string' ? next.values.layer.replace('@layer.', '') : null;
  const lift = typeof next.values.lift === 'number' ? next.values.lift : null;
  const inWork = section.layers.find((l) => l.state === 'in_work');
  return (
    layers.find((l) => (lift === null ? l.layer === named && l.lift === null : l.layer === 'sub_base' && l.lift === lift)) ??
    layers.find((l) => l.layer === inWork?.layer && l.lift === inWork.lift) ??
    layers.find((l) => l.out > 0) ??
    layers.find((l) => !l.covered) ??
    layers.at(-1)
  );
}

/** Within so much on the ground, a dip is at the pin. */
const SAME_PLACE_M = 0.05;

/** The newest dip of a layer at a pin; none reads "not measured". */
export function dipAt(dips: readonly DipView[], pin: PinView, layer: Layer, lift: number | null): DipView | null {
  const here = dips.filter(
    (d) =>
      d.layer === layer && d.lift === lift && !d.superseded &&
      Math.hypot(d.x_m - pin.x_m, d.y_m - pin.y_m) <= SAME_PLACE_M,
  );
  return here.at(-1) ?? null;
}

/** The stop to go to after one: the next not yet dipped, round to the start; none when all are. */
export function nextStop(stops: readonly DipStop[], after: number, dipped: (stop: DipStop) => boolean): number | null {
  for (let i = 1; i <= stops.length; i += 1) {
    const index = (after + i) % stops.length;
    const stop = stops[index];
    if (stop && !dipped(stop)) return index;
  }
  return null;
}

/** The string between two pins: one of the plan's, or another stretched for a dip. */
export function stringBetween(
  { pins, strings }: Pick<Drawing, 'pins' | 'strings'>,
  from: string,
  to: string,
): StringView | null {
  const [a, b] = [from, to].map((name) => pins.find((p) => p.name === name));
  const listed = strings.find((s) => s.from === from && s.to === to);
  if (listed || !a || !b || a === b) return listed ?? null;
  return { from, to, length_m: Math.hypot(b.x_m - a.x_m, b.y_m - a.y_m), sag_mm: null };
}

/** Within so much on the ground, a dip of one layer is at the place of another's, as the core has it. */
const SAME_DIP_M = 0.15;

/**
 * The places of the layer below and of them those that this one is not dipped at yet, where a crew dips beside
 * the pins: layers are proved at the same places. None where a pin was dipped, for then the pins are walked.
 */
export function placesBelow({ layers, dips, drawing }: Pick<JobView, 'layers' | 'dips' | 'drawing'>, layer: Layer, lift: number | null): { all: DipView[]; left: DipView[] } {
  const below = layers[layers.findIndex((l) => l.layer === layer && l.lift === lift) - 1];
  const near = (a: { x_m: number; y_m: number }, b: { x_m: number; y_m: number }, m: number) => Math.hypot(a.x_m - b.x_m, a.y_m - b.y_m) <= m;
  const places = dips.filter((d) => !d.superseded && d.layer === below?.layer && d.lift === below.lift);
  if (places.some((d) => drawing.pins.some((pin) => near(d, pin, SAME_PLACE_M)))) return { all: [], left: [] };
  const here = dips.filter((d) => d.layer === layer && d.lift === lift);
  return { all: places, left: places.filter((place) => !here.some((d) => near(d, place, SAME_DIP_M))) };
}

/** Where to dip once the pins are done: the widest spot without a dip; none when it is covered. */
export function suggested(layer: LayerView | undefined): NextPlace | null {
  return layer && !layer.covered ? layer.next_place : null;
}

/** The place along a string between two pins. */
export function along(from: PinView, to: PinView, length_m: number, at_m: number): Point {
  const share = length_m > 0 ? at_m / length_m : 0;
  return [from.x_m + (to.x_m - from.x_m) * share, from.y_m + (to.y_m - from.y_m) * share];
}

/** The place along a string that is nearest to a place on the ground, to the centimetre. */
export function nearestAlong(from: PinView, to: PinView, length_m: number, [x, y]: Point): { at_m: number; away_m: number } {
  const [dx, dy] = [to.x_m - from.x_m, to.y_m - from.y_m];
  const square = dx * dx + dy * dy;
  const share = square > 0 ? ((x - from.x_m) * dx + (y - from.y_m) * dy) / square : 0;
  const held = Math.min(1, Math.max(0, share));
  const away_m = Math.hypot(x - from.x_m - dx * held, y - from.y_m - dy * held);
  return { at_m: Math.round(held * length_m * 100) / 100, away_m };
}
