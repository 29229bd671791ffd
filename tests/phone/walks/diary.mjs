// The diary: nothing goes away.
import assert from 'node:assert/strict';

export const diary = [
  ['an entry is struck with a reason and stays, struck through', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    await phone.tap('place-diary');
    const note = phone.page.locator('[data-test=entry][data-kind=note]');
    await note.waitFor();
    await phone.look('19-diary');
    const taps = await phone.counting(async () => {
      await phone.tap(note.getByTestId('strike'));
      await phone.the('strike-reason').waitFor();
      await phone.look('20-strike');
      assert.ok(await phone.the('strike-keep').isDisabled());
      await phone.the('strike-reason').fill('it was dry from noon');
      await phone.tap('strike-keep');
    });
    await phone.page.locator('[data-test=entry][data-kind=note][data-struck=true]').waitFor();
    await phone.look('21-struck');
    assert.ok((await note.innerText()).includes('it was dry from noon'));
    const entry = (await phone.ask('diary', { job })).find((e) => e.kind === 'note');
    assert.deepEqual([entry.struck.who, entry.struck.reason], ['Mina Castle', 'it was dry from noon']);
    return `${taps} taps and the reason`;
  }],
  ['the diary of one stage', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/diary`);
    const entries = await phone.ask('diary', { job });
    const shown = phone.the('entry');
    await shown.nth(entries.length - 1).waitFor();
    assert.equal(await shown.count(), entries.length);
    await phone.the('diary-stage').selectOption('excavate');
    const wanted = entries.filter((e) => e.stage === 'excavate').length;
    await phone.page.waitForFunction((n) => document.querySelectorAll('[data-test=entry]').length === n, wanted);
    assert.ok(wanted > 0);
  }],
  ['another person takes the phone in one tap and a name', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/diary`);
    await phone.tap('who');
    await phone.the('who-dialog').getByTestId('person-name').waitFor();
    await phone.look('22-who');
    await phone.type('person-name', 'Tobin');
    await phone.tap('person-keep');
    await phone.says('who', 'Tobin');
    const taps = await phone.counting(async () => {
      await phone.tap('who');
      await phone.tap(phone.the('person').filter({ hasText: 'Mina Castle' }));
      await phone.says('who', 'Mina Castle');
    });
    return `back again in ${taps} taps`;
  }],
];
