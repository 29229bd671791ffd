// The completion record: a draft to look at, then an issue with its number.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

/** Waits until every page is drawn; gives how many there are. */
async function pages(phone) {
  await phone.the('page').first().waitFor();
  await phone.page.waitForFunction(() => {
    const rows = document.querySelectorAll('[data-test=pages] li');
    const images = document.querySelectorAll('[data-test=page]');
    return rows.length > 0 && rows.length === images.length;
  });
  return phone.the('page').evaluateAll((images) => Promise.all(images.map((i) => i.decode())).then(() => images.length));
}

export const papers = [
  ['a draft is drawn up, and the record issued', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    await phone.tap('place-papers');
    assert.ok((await pages(phone)) > 0);
    await phone.look('23-papers');
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
  ['an issued record is saved as a PDF', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}/papers`);
    await phone.tap('save-1');
    await phone.the('saved').waitFor();
    const said = await phone.text('saved');
    const path = said.slice(said.indexOf('/'));
    assert.equal(readFileSync(path).subarray(0, 5).toString(), '%PDF-', said);
  }],
];
