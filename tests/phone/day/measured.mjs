// Dips, passes and drop tests: lines of the diary kept through their own screens.
import { layerKey } from './demo.mjs';

/** Types a measure over the keypad, unless it stands there. */
async function measure(phone, test, number) {
  const text = await phone.text(test);
  const shown = Number(text.match(/([\d.]+) m?m$/)[1]) * (/lowered/.test(text) ? -1 : 1);
  if (shown === number) return;
  await phone.tap(test);
  await phone.keys(`${Math.abs(number)}${number < 0 ? '-' : ''}`);
  await phone.tap('key-keep');
}

export async function dip(hand, body, { dips }) {
  const { phone } = hand;
  const { from, to, at_m, raise_mm = 0, reading_mm } = body;
  await hand.tool('dip');
  await phone.the('keypad').waitFor();
  await hand.choose('dip-layer', layerKey(body));
  await hand.choose('dip-string', `${from}>${to}`);
  await measure(phone, 'dip-at', at_m);
  await measure(phone, 'dip-raise', raise_mm);
  const { target_mm, word, high_mm, doubt } = await hand.ask('dip_target', { ...body, raise_mm });
  await phone.says('dip-target', new RegExp(`\\b${target_mm.toFixed(0)}\\s*mm$`));
  await phone.keys(String(reading_mm));
  await phone.says('answer', word === 'right' ? 'right' : `${word} ${Math.abs(high_mm).toFixed(0)}`);
  await phone.tap(doubt ? 'doubt-keep' : 'key-keep');
  await phone.the('answer').waitFor({ state: 'detached' });
  dips.push({ ...body, word });
  return { raise_mm, ...body };
}

/** The machine in hand is this one. */
async function plant(hand, name) {
  const { phone } = hand;
  const dialog = phone.the('plant-dialog');
  if (!(await dialog.isVisible())) {
    if ((await phone.the('plant').textContent()).endsWith(name)) return;
    await phone.tap('plant');
  }
  await phone.the('plant-name').waitFor();
  const known = phone.page.getByTestId('known-plant').and(phone.page.getByText(name, { exact: true }));
  if (await known.count()) await phone.tap(known);
  else {
    await phone.type('plant-name', name);
    await phone.tap('plant-keep');
  }
  await dialog.waitFor({ state: 'hidden' });
}

export async function pass(hand, body) {
  const { phone } = hand;
  await hand.tool('pass');
  await phone.the('add-pass').waitFor();
  await plant(hand, body.plant);
  await hand.choose('pass-layer', layerKey(body));
  const done = Number(await phone.text('passes-done'));
  if (body.still_moving !== undefined) await phone.tap(body.still_moving ? 'moving-still_moving' : 'moving-nothing_moves');
  await phone.tap('add-pass');
  await phone.says('passes-done', new RegExp(`^\\s*${done + 1}\\s*$`));
  return body;
}

export async function drop_round(hand, body) {
  const { phone } = hand;
  await hand.more('drop-test');
  await hand.choose('drop-layer', layerKey(body));
  await hand.type('drop-plant', body.plant ?? '');
  for (const [i, reading] of body.readings.entries()) {
    if ((await phone.the(`drop-${i}-string`).count()) === 0) await phone.tap('drop-more');
    await hand.onString(`drop-${i}`, reading.place);
    await hand.type(`drop-${i}-reading`, reading.reading_mm);
  }
  await phone.tap('drop-keep');
  await phone.until('the round is kept', async () => (await phone.the('drop-0-reading').inputValue()) === '');
  return body;
}
