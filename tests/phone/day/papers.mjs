// What is on paper: extra work, signatures, photos; lines of the diary kept through their own screens.
import { draw } from '../walks/papers.mjs';
import { picture } from './demo.mjs';

const BOX = [1000, 400];

export async function change(hand, { file, ...body }) {
  const { phone } = hand;
  await hand.more('change', 'tool-change');
  await phone.type('change-what', body.what);
  await hand.choose('change-unit', body.unit);
  if (body.unit !== 'sum') await phone.type('change-quantity', String(body.quantity));
  await phone.type('change-rate', (body.rate_minor / 100).toFixed(2));
  await hand.type('change-currency', body.currency);
  await phone.says('change-price', body.currency);
  await hand.type('change-agreed', body.agreed);
  if (file) await hand.photograph('camera', picture(file));
  await phone.tap('change-keep');
  await phone.the('signatures').waitFor();
  return { ...body, ...(file ? { photo: { file } } : {}) };
}

export async function signature(hand, body, { named }) {
  const { phone } = hand;
  const change = named.get(body.change);
  if (change) {
    const { number } = (await hand.view()).changes.find(({ entry }) => entry === change);
    await hand.paper(`papers/change_note/${number}`, `paper-change_note-${number}`);
  } else await hand.paper('papers/record', 'paper-record');
  await hand.leave('sign');
  await phone.tap(`sign-role-${body.role}`);
  await hand.type('sign-name', body.name);
  if (body.typed) await phone.tap('sign-cannot');
  else await draw(phone, body.strokes.map((stroke) => stroke.map(([x, y]) => [x / BOX[0], y / BOX[1]])));
  await hand.leave('sign-keep');
  await phone.says('signatures', body.name);
  return change ? { ...body, change } : body;
}

export async function photo(hand, { file, ...body }) {
  const { phone } = hand;
  await hand.home();
  await hand.photograph('tool-photo', picture(file));
  await hand.choose('photo-stage', body.stage);
  if (body.pin) await phone.choose('photo-pin', body.pin);
  await hand.type('caption', body.caption);
  await phone.tap('photo-keep');
  const taken = phone.the('photo-taken').filter({ hasText: body.caption ?? '' }).first();
  await taken.locator('img').waitFor();
  return { ...body, sha256: { file } };
}
