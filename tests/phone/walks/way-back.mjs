// The phone's own Back: first what lies over the screen, then the screen.
import assert from 'node:assert/strict';

/** The shelf, then the job, as a person comes to it. */
async function openJob(phone) {
  const job = await phone.job();
  await phone.goto('');
  await phone.page.locator(`a[href="#/job/${job}"]`).first().tap();
  await phone.the('next').waitFor();
  return job;
}

const hash = (phone) => phone.page.evaluate(() => location.hash);
const open = (phone) => phone.page.locator('dialog[open]').count();

/** Back, until what it leads to is there. */
async function back(phone, what, arrived) {
  await phone.page.evaluate(() => history.back());
  await phone.until(what, arrived);
}

const toShelf = (phone) => back(phone, 'the shelf', async () => ['', '#/'].includes(await hash(phone)));

export const ways = [
  ['Back closes a sheet before it leaves the screen', async (phone) => {
    const job = await openJob(phone);
    await phone.tap('more');
    await phone.the('more-dialog').waitFor();
    await back(phone, 'the sheet is closed', async () => (await open(phone)) === 0);
    assert.equal(await hash(phone), `#/job/${job}`);
    await phone.the('next').waitFor();
    await toShelf(phone);
  }],
  ['a sheet that was closed by hand costs no second Back', async (phone) => {
    await openJob(phone);
    for (const shut of [() => phone.tap('close'), () => phone.page.keyboard.press('Escape')]) {
      await phone.tap('more');
      await phone.the('more-dialog').waitFor();
      await shut();
      await phone.until('the sheet is closed', async () => (await open(phone)) === 0);
    }
    await phone.until('the way back is as it was', () => phone.page.evaluate(() => history.state.sheets === 0));
    await toShelf(phone);
  }],
  ['from a screen that a sheet led to, Back leads to the job', async (phone) => {
    const job = await openJob(phone);
    await phone.tap('more');
    await phone.tap('tool-note');
    await phone.the('note-keep').waitFor();
    assert.equal(await open(phone), 0);
    await back(phone, 'the job', async () => (await hash(phone)) === `#/job/${job}`);
    await phone.until('no sheet is left on the way', () => phone.page.evaluate(() => history.state.sheets === 0));
    assert.equal(await open(phone), 0);
    await toShelf(phone);
  }],
  ['a screen that is finished with leads past its sheets', async (phone) => {
    const job = await openJob(phone);
    await phone.tap('more');
    await phone.tap('tool-note');
    await phone.the('note-keep').waitFor();
    await phone.tap('back');
    await phone.the('next').waitFor();
    await phone.until('the way back is as it was', () => phone.page.evaluate(() => history.state.sheets === 0));
    assert.equal(await hash(phone), `#/job/${job}`);
    await toShelf(phone);
  }],
  ['the propped-up number goes away by Back, and the reading stays', async (phone) => {
    const job = await openJob(phone);
    await phone.tap('tool-dip');
    await phone.keys('287');
    await phone.tap('prop');
    await phone.the('prop-up').waitFor();
    await back(phone, 'the number is put away', async () => (await open(phone)) === 0);
    assert.equal(await hash(phone), `#/job/${job}/dip`);
    await phone.says('dip-reading', '287');
    await phone.tap('key-clear');
    await back(phone, 'the job', async () => (await hash(phone)) === `#/job/${job}`);
  }],
];
