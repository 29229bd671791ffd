// Papers: each made, shown, saved; the record issued, signed, checked; extra work priced and signed.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const photo = (name) => fileURLToPath(new URL(`../../../fixtures/demo/photos/${name}`, import.meta.url));

/** Waits until every page is drawn; gives how many there are. */
export async function pages(phone) {
  await phone.the('page').first().waitFor();
  await phone.page.waitForFunction(() => {
    const rows = document.querySelectorAll('[data-test=pages] li');
    const images = document.querySelectorAll('[data-test=page]');
    return rows.length > 0 && rows.length === images.length;
  });
  return phone.the('page').evaluateAll((images) => Promise.all(images.map((i) => i.decode())).then(() => images.length));
}

/** Saves a file and reads the copy. */
export async function saved(phone, test) {
  await phone.tap(`save-${test}`);
  await phone.the('saved').first().waitFor();
  const said = await phone.text('saved');
  const path = said.slice(said.indexOf('/'));
  return { path, bytes: readFileSync(path) };
}

const open = async (phone, where) => phone.goto(`#/job/${await phone.job()}/papers/${where}`);

/** Draws with a finger: strokes as parts of the box. */
export async function draw(phone, strokes) {
  const box = phone.the('sign-box');
  await box.scrollIntoViewIfNeeded();
  const { x, y, width, height } = await box.boundingBox();
  const touch = await phone.page.context().newCDPSession(phone.page);
  const send = (type, touchPoints) => touch.send('Input.dispatchTouchEvent', { type, touchPoints });
  for (const stroke of strokes) {
    const places = stroke.map(([a, b]) => ({ x: x + a * width, y: y + b * height }));
    const down = send('touchStart', [places[0]]);
    const moves = places.slice(1).map((place) => send('touchMove', [place]));
    await Promise.all([down, ...moves, send('touchEnd', [])]);
  }
  await touch.detach();
}

const NAME = [
  [[0.1, 0.7], [0.15, 0.2], [0.2, 0.7], [0.25, 0.2], [0.3, 0.7]],
  [[0.4, 0.4], [0.45, 0.6], [0.5, 0.4], [0.55, 0.6], [0.6, 0.4], [0.9, 0.5]],
];

export const papers = [
  ['a draft is drawn up, and the record issued', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    await phone.tap('place-papers');
    await phone.the('paper-record').waitFor();
    await phone.look('23-papers');
    await phone.tap('paper-record');
    assert.ok((await pages(phone)) > 0);
    await phone.look('24-record-draft');
    assert.deepEqual((await phone.ask('job', { job })).records, []);
    const taps = await phone.counting(async () => {
      await phone.tap('issue');
      await phone.the('issue-confirm').waitFor();
      await phone.look('24-issue');
      await phone.tap('issue-confirm');
      await phone.the('issued').waitFor();
    });
    await pages(phone);
    await phone.look('25-issued');
    const [record] = (await phone.ask('job', { job })).records;
    assert.deepEqual([record.number, record.who], [1, 'Mina Castle']);
    return `${taps} taps`;
  }],
  ['an issued record is saved as a PDF, and checked', async (phone) => {
    await open(phone, 'record');
    await pages(phone);
    const { path, bytes } = await saved(phone, '1');
    assert.equal(bytes.subarray(0, 5).toString(), '%PDF-', path);
    await phone.tap('back');
    await phone.tap('paper-check');
    await phone.the('check-file').setInputFiles(path);
    await phone.the('verdict').waitFor();
    assert.equal(await phone.the('verdict').getAttribute('data-ok'), 'true');
    assert.match(await phone.text('held'), /digest/i);
    assert.match(await phone.text('limits'), /true/);
    await phone.look('26-check-holds');
    // One digit of the attached diary.
    const changed = Buffer.from(bytes);
    const at = changed.indexOf('"reading_mm":') + 13;
    assert.ok(at > 13, 'the diary is attached');
    changed[at] = changed[at] === 0x39 ? 0x38 : changed[at] + 1;
    await phone.the('check-file').setInputFiles({ name: 'copy.pdf', mimeType: 'application/pdf', buffer: changed });
    await phone.says('verdict', 'does not hold');
    assert.match(await phone.text('not-held'), /diary/);
    await phone.look('27-check-broken');
  }],
  ['the sheets are made, shown and saved', async (phone) => {
    await open(phone, 'setting_out');
    const plain = await pages(phone);
    await phone.look('28-setting-out');
    await phone.tap(phone.page.locator('label', { has: phone.the('templates') }));
    await phone.until('templates follow', async () => (await phone.the('page').count()) >= plain && (await pages(phone)) >= plain);
    for (const kind of ['order_list', 'care_sheet']) {
      await open(phone, kind);
      assert.ok((await pages(phone)) > 0, kind);
      await phone.look(`29-${kind}`);
      const { path, bytes } = await saved(phone, 'paper');
      assert.equal(bytes.subarray(0, 5).toString(), '%PDF-', path);
    }
  }],
  ['data is saved for other programs', async (phone) => {
    await open(phone, 'data');
    await phone.the('data-days').waitFor();
    await phone.look('30-data');
    const { bytes } = await saved(phone, 'dips');
    assert.match(bytes.toString(), /^[a-z_]+,/);
    await phone.tap(phone.the('data-shapes').locator('summary'));
    assert.match(await phone.text('data-shapes'), /"features"/);
  }],
  ['extra work is priced as it is typed, with its photo', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    await phone.tap('more');
    await phone.tap(phone.the('more-dialog').getByTestId('tool-change'));
    await phone.the('change-what').waitFor();
    assert.ok(await phone.the('change-keep').isDisabled());
    await phone.type('change-what', 'Soft spot by the gate dug out and filled with stone');
    await phone.type('change-quantity', '0,45');
    await phone.type('change-rate', '96.505');
    await phone.type('change-currency', 'gbp');
    await phone.says('change-rate-problem', 'no amount');
    await phone.look('31-extra-work-wrong');
    await phone.type('change-rate', '96.50');
    await phone.says('change-price', '43.43 GBP');
    await phone.type('change-agreed', 'on site, with the customer');
    const camera = phone.page.waitForEvent('filechooser');
    await phone.tap('camera');
    await (await camera).setFiles(photo('formation.jpg'));
    await phone.the('photo-in-hand').locator('img').waitFor();
    await phone.look('32-extra-work');
    await phone.tap('change-keep');
    await pages(phone);
    await phone.look('33-change-note');
    const [change] = (await phone.ask('job', { job })).changes;
    assert.deepEqual([change.number, change.quantity, change.price, change.who], [1, '0.45 m³', '43.43 GBP', 'Mina Castle']);
  }],
  ['a change note is signed with a finger', async (phone) => {
    const job = await phone.job();
    await open(phone, 'change_note/1');
    await phone.tap('sign');
    await phone.the('sign-box').waitFor();
    assert.ok(await phone.the('sign-keep').isDisabled());
    await phone.type('sign-name', 'Odile Farrow');
    await draw(phone, [...NAME, [[0.95, 0.9], [0.97, 0.2]]]);
    await phone.tap('sign-undo');
    await phone.look('34-sign');
    // What is drawn outlives the app being closed.
    await phone.until('it is kept', async () => JSON.parse((await phone.ask('drafts'))[`sign.${job}.1`]?.strokes ?? '[]').length === 2);
    await open(phone, 'check');
    await phone.goto(`#/job/${job}/sign/1`);
    assert.equal(await phone.the('sign-box').locator('path:not(.line)').count(), 2);
    await phone.tap('sign-keep');
    await phone.says('signatures', 'Odile Farrow');
    await pages(phone);
    await phone.look('35-change-signed');
    const [signed] = await phone.standing(job, 'signature');
    assert.match(signed.says.text, /^Signed by Odile Farrow, customer/i);
  }],
  ['who cannot draw signs from a keyboard, and the paper says so', async (phone) => {
    const job = await phone.job();
    await open(phone, 'record');
    await phone.the('sign').focus();
    await phone.page.keyboard.press('Enter');
    await phone.the('sign-cannot').waitFor();
    await phone.the('sign-cannot').focus();
    await phone.page.keyboard.press('Enter');
    await phone.says('sign-typed', 'not drawn');
    await phone.the('sign-name').fill('Odile Farrow');
    await phone.look('36-sign-typed');
    await phone.page.keyboard.press('Enter');
    await phone.says('signatures', 'name typed, not drawn');
    await pages(phone);
    await phone.look('37-record-signed');
    const signed = (await phone.standing(job, 'signature')).map((entry) => entry.says.text);
    assert.ok(signed.some((text) => /^Name typed, not drawn, by Odile Farrow/.test(text)), signed.join('\n'));
  }],
  ['a paper in the making is stopped in words, or was too far', async (phone) => {
    const job = await phone.job();
    const issues = async () => (await phone.ask('job', { job })).records.length;
    const before = await issues();
    await open(phone, 'record');
    await pages(phone);
    await phone.tap('issue');
    await phone.tap('issue-confirm');
    await phone.tap('stop');
    await phone.until('it is over', async () => (await phone.the('stop').count()) === 0);
    const stopped = (await phone.the('fault').count()) > 0;
    if (stopped) {
      await phone.says('fault', 'was stopped');
      await phone.look('38-stopped');
    }
    assert.equal(await issues(), stopped ? before : before + 1);
    return stopped ? 'stopped' : 'too far to be stopped';
  }],
];
