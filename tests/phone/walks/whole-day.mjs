// The whole demo job by touch alone, from its plan file to the issued record: each line of its diary
// through its own screen, then the diary that the record carries held against the lines.
import assert from 'node:assert/strict';

import { plan, planFile, lines } from '../day/demo.mjs';
import { Hand } from '../day/hand.mjs';
import { workLines } from '../day/lines.mjs';
import { pages, saved } from './papers.mjs';

/** A job of its own from the plan file, opened through the screens. */
async function begin(phone) {
  await phone.goto('');
  await phone.tap('new-job');
  const input = phone.the('plan-file');
  await input.waitFor({ state: 'attached' });
  const open = phone.page.locator(`label[for="${await input.getAttribute('id')}"]`);
  const [chooser] = await Promise.all([phone.page.waitForEvent('filechooser'), phone.tap(open)]);
  await chooser.setFiles(planFile);
  await phone.tap('plan-keep');
  await phone.the('next').waitFor();
  return new Hand(phone, await phone.job());
}
async function issue(hand) {
  const { phone } = hand;
  await hand.paper('papers/record', 'paper-record');
  await phone.tap('issue');
  await phone.tap('issue-confirm');
  await phone.the('issued').waitFor();
  return pages(phone);
}

export const wholeDay = [
  ['the whole demo job, from the plan file to the issued record', async (phone) => {
    const hand = await begin(phone);
    const { worked } = await workLines(hand, lines());
    const shown = await issue(hand);
    return `${worked.length} lines in ${phone.taps} taps, ${shown} pages`;
  }],
];
