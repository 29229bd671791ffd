// What the phone around the screens does: the camera that outlives the app, the screen that stays
// awake, the buzz, the share sheet. The phone is a folder (tests/src/phone.rs).
import assert from 'node:assert/strict';
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';

const photo = (name) => fileURLToPath(new URL(`../../../fixtures/demo/photos/${name}`, import.meta.url));

/** The camera's folder, with these photos in it. */
function pictures(phone, files) {
  const folder = join(phone.folder, 'Pictures');
  mkdirSync(folder, { recursive: true });
  for (const [name, from] of Object.entries(files)) {
    if (from === null) writeFileSync(join(folder, name), '');
    else copyFileSync(photo(from), join(folder, name));
  }
  return () => readdirSync(folder).sort();
}

/** Counts what the page asks of the browser for a phone's hardware. */
async function watched(phone, wakeLock) {
  await phone.hold({});
  await phone.context.addInitScript((given) => {
    globalThis.asked = [];
    navigator.vibrate = (ms) => globalThis.asked.push(`buzz ${ms}`) > 0;
    const request = async (kind) => {
      globalThis.asked.push(`lock ${kind}`);
      if (!given) throw new DOMException('low on battery', 'NotAllowedError');
      return { release: async () => globalThis.asked.push('let go') };
    };
    Object.defineProperty(navigator, 'wakeLock', { value: { request } });
  }, wakeLock);
}

const asked = (phone) => phone.page.evaluate(() => globalThis.asked);

/** Android's web view as the page meets it: Tauri's way down passes on text alone. */
async function inWebView(phone) {
  await phone.hold({});
  await phone.context.addInitScript(() => {
    const invoke = async (command, args) => {
      const body = JSON.stringify(args, (_, value) => (value instanceof Uint8Array ? [...value] : value));
      const headers = { 'content-type': 'application/json' };
      const response = await fetch(`/ipc/${command}`, { method: 'POST', headers, body });
      if (!response.ok) throw await response.json();
      const json = response.headers.get('content-type') === 'application/json';
      return json ? response.json() : response.arrayBuffer();
    };
    globalThis.__TAURI_INTERNALS__ = { invoke };
  });
}

export const device = [
  ['while passes are logged the page holds the screen awake, and lets go of it after', async (phone) => {
    await watched(phone, true);
    await phone.goto(`#/job/${await phone.job()}/pass`);
    await phone.the('add-pass').waitFor();
    await phone.until('the screen is held', async () => (await asked(phone)).includes('lock screen'));
    await phone.tap('back');
    await phone.the('next').waitFor();
    await phone.until('the screen may sleep', async () => (await asked(phone)).includes('let go'));
    assert.ok(!existsSync(join(phone.folder, 'awake')), 'the app was not asked as well');
  }],
  ['where the page may not, the app holds the screen awake', async (phone) => {
    await watched(phone, false);
    await phone.goto(`#/job/${await phone.job()}/pass`);
    await phone.the('add-pass').waitFor();
    await phone.until('the screen is held', async () => existsSync(join(phone.folder, 'awake')));
    await phone.tap('back');
    await phone.the('next').waitFor();
    await phone.until('the screen may sleep', async () => !existsSync(join(phone.folder, 'awake')));
  }],
  ['a dip that is kept is felt', async (phone) => {
    await watched(phone, true);
    await phone.goto(`#/job/${await phone.job()}/dip`);
    await phone.says('dip-target', /\d/);
    const [should] = (await phone.text('dip-target')).match(/\d+(?= mm)/);
    await phone.keys(should);
    await phone.the('answer').waitFor();
    assert.deepEqual(await asked(phone), []);
    await phone.tap('key-keep');
    await phone.says('dip-kept', 'kept');
    await phone.until('a short buzz', async () => (await asked(phone)).includes('buzz 40'));
    await phone.tap('undo');
    await phone.until('the dip is taken back', async () => (await phone.the('dip-kept').textContent()) === '');
    await phone.tap('key-clear');
  }],
  ['what the camera left of a kept photo is removed, and of another it stays', async (phone) => {
    await phone.hold({});
    const job = await phone.job();
    const names = pictures(phone, {
      'JPEG_20260612_081500_1.jpg': 'stone.jpg', 'JPEG_20260612_081600_2.jpg': null, 'JPEG_20260612_070000_3.jpg': 'bed.jpg',
    });
    await phone.goto(`#/job/${job}`);
    const camera = phone.page.waitForEvent('filechooser');
    await phone.tap('tool-photo');
    await (await camera).setFiles(photo('stone.jpg'));
    await phone.the('photo-in-hand').waitFor();
    assert.deepEqual(names(), ['JPEG_20260612_070000_3.jpg']);
    await phone.tap('photo-leave');
    await phone.the('camera').waitFor();
  }],
  ['a photo taken while the phone had closed the app is offered with what was typed', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    const camera = phone.page.waitForEvent('filechooser');
    await phone.tap('tool-photo');
    await camera;
    await phone.the('photo-stage').selectOption('bed');
    const again = phone.page.waitForEvent('filechooser');
    await phone.tap('camera');
    await again;
    // The camera is open; the system ends the app; the camera writes its photo all the same.
    await phone.hold({});
    const names = pictures(phone, { 'JPEG_20260612_090000_4.jpg': 'haunch.jpg' });
    await phone.goto(`#/job/${job}/photo`);
    await phone.the('photo-left').waitFor();
    await phone.look('13-photo-left');
    assert.equal(await phone.the('photo-stage').inputValue(), 'bed');
    assert.deepEqual(names(), ['JPEG_20260612_070000_3.jpg']);
    const before = (await phone.standing(job, 'photo')).length;
    await phone.tap('photo-keep');
    await phone.the('photo-taken').first().waitFor();
    assert.equal((await phone.standing(job, 'photo')).length, before + 1);
    await phone.tap('undo');
    await phone.until('it is taken back', async () => (await phone.standing(job, 'photo')).length === before);
    rmSync(join(phone.folder, 'Pictures'), { recursive: true });
  }],
  ["a photo crosses Android's web view, which passes on text alone", async (phone) => {
    await inWebView(phone);
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    const camera = phone.page.waitForEvent('filechooser');
    await phone.tap('tool-photo');
    await (await camera).setFiles(photo('blocks.jpg'));
    const shown = phone.the('photo-in-hand').locator('img');
    await shown.waitFor();
    assert.ok((await shown.evaluate((img) => img.decode().then(() => img.naturalWidth))) > 0);
    await phone.tap('photo-leave');
    await phone.the('camera').waitFor();
  }],
  ["a paper to check crosses Android's web view as well", async (phone) => {
    await inWebView(phone);
    await phone.goto(`#/job/${await phone.job()}/papers/check`);
    await phone.the('check-file').setInputFiles({ name: 'a.pdf', mimeType: 'application/pdf', buffer: Buffer.from('%PDF-1.7 cut short') });
    await phone.the('verdict').waitFor();
    assert.equal(await phone.the('verdict').getAttribute('data-ok'), 'false');
    assert.match(await phone.text('not-held'), /cannot be read/);
  }],
  ['an issued record is shared through the phone, and saved only where a place is chosen', async (phone) => {
    await phone.hold({});
    await phone.goto(`#/job/${await phone.job()}/papers/record`);
    await phone.tap('share-1');
    await phone.until('it is shared', async () => existsSync(join(phone.folder, 'shared')));
    const [file] = readdirSync(join(phone.folder, 'shared'));
    assert.equal(readFileSync(join(phone.folder, 'shared', file)).subarray(0, 5).toString(), '%PDF-');
    writeFileSync(join(phone.folder, 'no-place'), '');
    await phone.tap('save-1');
    await phone.says('saved', 'no place was chosen');
    rmSync(join(phone.folder, 'no-place'));
    await phone.tap('save-1');
    await phone.says('saved', file);
  }],
];
