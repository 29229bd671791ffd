// The whole demo job by touch alone, from its plan file to the issued record: each line of its diary
// through its own screen, then the diary that the record carries held against the lines.
import assert from 'node:assert/strict';

import { lines, plan, planFile } from '../day/demo.mjs';
import { Hand } from '../day/hand.mjs';
import { carried, sameDiary, sameStand } from '../day/held.mjs';
import { workLines } from '../day/lines.mjs';
import { pages, saved } from './papers.mjs';

/** A job of its own from the plan file, opened through the screens. */
async function begin(phone) {
  const before = (await phone.ask('shelf')).jobs.length;
  await phone.goto('');
  await phone.tap('new-job');
  const input = phone.the('plan-file');
  await input.waitFor({ state: 'attached' });
  const open = phone.page.locator(`label[for="${await input.getAttribute('id')}"]`);
  const [chooser] = await Promise.all([phone.page.waitForEvent('filechooser'), phone.tap(open)]);
  await chooser.setFiles(planFile);
  await phone.tap('plan-keep');
  await phone.the('next').waitFor();
  const { jobs } = await phone.ask('shelf');
  assert.deepEqual([jobs.length, jobs[0].title], [before + 1, plan().title]);
  return new Hand(phone, jobs[0].id);
}

/** Issues the record, saves it and has the copy checked; gives the copy and how many pages are shown. */
async function issue(hand) {
  const { phone } = hand;
  await hand.paper('papers/record', 'paper-record');
  await phone.tap('issue');
  await phone.tap('issue-confirm');
  await phone.the('issued').waitFor();
  const shown = await pages(phone);
  await phone.look('day-record');
  const { path, bytes } = await saved(phone, '1');
  await hand.paper('papers/check', 'paper-check');
  await phone.the('check-file').setInputFiles(path);
  await phone.the('verdict').waitFor();
  assert.equal(await phone.the('verdict').getAttribute('data-ok'), 'true');
  return { bytes, shown };
}

export const wholeDay = [
  ['the whole demo job, from the plan file to the issued record', async (phone) => {
    await phone.hold({});
    const before = phone.taps;
    const hand = await begin(phone);
    const { worked, dips } = await workLines(hand, lines());
    const { bytes, shown } = await issue(hand);
    const photos = sameDiary(carried(bytes), worked);
    const entries = await hand.ask('diary');
    assert.deepEqual(entries.map(({ id }) => id).slice(1, -1), worked.map(({ id }) => id));
    assert.equal(entries.at(-1).kind, 'record');
    sameStand(await hand.view(), entries, worked, dips);
    assert.ok(shown > 1, `${shown} pages`);
    return `${worked.length} lines in ${phone.taps - before} taps, ${photos.size} photos, ${shown} pages`;
  }],
];
