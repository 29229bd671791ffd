// Photos from the camera, and what is none.
import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';

const file = (name) => fileURLToPath(new URL(`../../../fixtures/demo/photos/${name}`, import.meta.url));

/** Opens the photo screen; the camera opens at once and gives this file. */
async function take(phone, files) {
  await phone.goto(`#/job/${await phone.job()}`);
  const camera = phone.page.waitForEvent('filechooser');
  await phone.tap('tool-photo');
  const chooser = await camera;
  assert.equal(await chooser.element().getAttribute('capture'), 'environment');
  assert.equal(await chooser.element().getAttribute('accept'), 'image/*');
  await chooser.setFiles(files);
}

export const photos = [
  ['the camera opens at once, and the photo lands on the stage in hand', async (phone) => {
    const job = await phone.job();
    const { stage } = await phone.ask('job', { job });
    const taps = await phone.counting(async () => {
      await take(phone, file('before.jpg'));
      await phone.the('photo-in-hand').locator('img').waitFor();
      await phone.look('11-photo-in-hand');
      await phone.the('caption').fill('the cracked slabs by the door');
      await phone.tap('photo-keep');
      await phone.the('photo-taken').locator('img').waitFor();
    });
    await phone.look('12-photo-kept');
    const shown = await phone.the('photo-taken').locator('img').evaluate((img) => img.decode().then(() => img.naturalWidth));
    assert.ok(shown > 0, 'the photo is shown');
    const [photo] = (await phone.ask('job', { job })).photos;
    assert.deepEqual([photo.stage, photo.caption, photo.who], [stage, 'the cracked slabs by the door', 'Mina Castle']);
    return `${taps} taps, besides those of the camera`;
  }],
  ['a text file is said to be no photo, and the next one is kept', async (phone) => {
    const job = await phone.job();
    await take(phone, { name: 'notes.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('Tuesday: 12 high by the door') });
    await phone.says('fault', 'cannot be read as a photo');
    await phone.look('13-photo-none');
    const camera = phone.page.waitForEvent('filechooser');
    await phone.tap('gallery');
    await (await camera).setFiles(file('formation.jpg'));
    await phone.the('photo-in-hand').locator('img').waitFor();
    await phone.the('photo-stage').selectOption('compact_formation');
    await phone.tap('photo-keep');
    await phone.the('photo-taken').waitFor();
    assert.equal((await phone.standing(job, 'photo')).length, 2);
  }],
  ['what still needs a photo before it is hidden is listed', async (phone) => {
    const job = await phone.job();
    const { stages } = await phone.ask('job', { job });
    const lacks = stages.filter((s) => s.gate.some((line) => !line.met && line.says.code === 'next.photo'));
    assert.ok(lacks.length > 0, 'the sub-base has no photo yet');
    await phone.goto(`#/job/${job}/photo`);
    await phone.the('photos-missing').waitFor();
    assert.equal(await phone.the('photos-missing').locator('li').count(), lacks.length);
  }],
];
