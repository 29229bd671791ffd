// Gates, deliveries and what is written or struck: lines of the diary kept through their own screens.
import { hours } from './demo.mjs';

export async function check(hand, body) {
  const { phone } = hand;
  const { stages } = await hand.view();
  const { stage: name } = stages.find(({ gate }) => gate.some((line) => line.check === body.check));
  await hand.stage(name);
  await phone.tap(`answer-${body.check}`);
  await hand.type('answer-text', body.text);
  await phone.tap('answer-yes');
  await phone.the(`answer-${body.check}`).waitFor({ state: 'detached' });
  await phone.the('answer-dialog').waitFor({ state: 'hidden' });
  return body;
}

export async function stage(hand, body) {
  const { phone } = hand;
  await hand.stage(body.stage);
  await hand.type('stage-hours', hours(body.worked_min));
  if (body.done && !body.reason) await phone.tap('stage-done');
  else {
    await phone.tap(body.done ? 'stage-with-reason' : 'stage-reopen');
    await phone.type('reason', body.reason);
    await phone.tap('reason-keep');
  }
  if (body.done) await phone.the('next').waitFor();
  else await phone.the('stage-reopen').waitFor({ state: 'detached' });
  return body;
}

/** A delivery is ticked against the line of the order that has its name, where there is one. */
export async function delivery(hand, body) {
  const { phone } = hand;
  await hand.more('delivery', 'tool-delivery');
  const options = phone.the('delivery-line').locator('option');
  await options.nth(2).waitFor({ state: 'attached' });
  const offered = await options.evaluateAll((all) => all.map(({ value, textContent }) => [value, textContent]));
  const [named] = offered.find(([value, words]) => value && words.startsWith(body.what)) ?? ['other'];
  const chosen = body.line ?? named;
  await phone.choose('delivery-line', chosen);
  if (chosen === 'other') await phone.type('delivery-what', body.what);
  await hand.type('delivery-quantity', body.quantity);
  await hand.choose('delivery-unit', body.unit);
  for (const key of ['ticket', 'supplier', 'batch', 'colour', 'stacked']) await hand.type(`delivery-${key}`, body[key]);
  await phone.tap('delivery-keep');
  await phone.the('order').waitFor();
  return chosen === 'other' ? body : { ...body, line: chosen };
}

export async function note(hand, body) {
  const { phone } = hand;
  await hand.more('note', 'tool-note');
  await phone.type('note-text', body.text);
  await phone.tap('note-keep');
  await phone.the('next').waitFor();
  return body;
}

export async function strike(hand, body, { named }) {
  const { phone } = hand;
  const struck = named.get(body.entry);
  const entries = (await hand.ask('diary')).filter((entry) => entry.struck === null);
  const { kind, says } = entries.find(({ id }) => id === struck);
  // Entries of one day stand in their order; several may say the same.
  const same = entries.filter((entry) => entry.kind === kind && entry.says.text.includes(says.text));
  await hand.place('diary');
  const rows = phone.page.locator(`[data-test=entry][data-kind=${kind}][data-struck=false]`).filter({ hasText: says.text });
  const entry = rows.nth(same.findIndex(({ id }) => id === struck));
  await phone.tap(entry.getByTestId('strike'));
  await phone.type('strike-reason', body.reason);
  await phone.tap('strike-keep');
  await phone.page.locator('[data-test=entry][data-struck=true]').filter({ hasText: body.reason }).waitFor();
  return { ...body, entry: struck };
}
