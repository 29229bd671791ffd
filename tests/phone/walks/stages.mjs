// Gates: evidence first, or a reason.
import assert from 'node:assert/strict';

const stateOf = async (phone, name) => {
  const { stages } = await phone.ask('job', { job: await phone.job() });
  return stages.find(({ stage }) => stage === name);
};

export const stages = [
  ['what is typed in a sheet is there after the phone\'s Back', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/stage/before_start`);
    await phone.tap('answer-strings_set');
    await phone.type('answer-text', 'Datum: top of the back step');
    await phone.page.goBack();
    await phone.goto(`#/job/${job}/stage/before_start`);
    await phone.tap('answer-strings_set');
    await phone.the('answer-text').waitFor();
    assert.equal(await phone.the('answer-text').inputValue(), 'Datum: top of the back step');
    await phone.the('answer-text').fill('');
    await phone.tap('close');
  }],
  ['the person answers what only they can, and the stage is done', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/stage/before_start`);
    await phone.the('stage').waitFor();
    await phone.look('16-stage');
    for (const check of ['services_marked', 'materials_on_site', 'strings_set']) {
      await phone.tap(`answer-${check}`);
      await phone.the('answer-dialog').getByTestId('answer-yes').waitFor();
      if (check === 'services_marked') await phone.look('17-answer');
      await phone.tap('answer-yes');
      await phone.the(`answer-${check}`).waitFor({ state: 'detached' });
    }
    await phone.tap('stage-done');
    await phone.the('next').waitFor();
    assert.equal((await stateOf(phone, 'before_start')).state, 'done');
  }],
  ['a gate that is not met is passed with a reason, and opened again', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/stage/excavate`);
    await phone.tap('stage-with-reason');
    await phone.the('reason').waitFor();
    assert.ok(await phone.the('reason-keep').isDisabled());
    await phone.type('reason', 'dusk, dipped by eye');
    await phone.look('18-reason');
    await phone.tap('reason-keep');
    await phone.the('next').waitFor();
    const passed = await stateOf(phone, 'excavate');
    assert.deepEqual([passed.state, passed.reason], ['passed_with_reason', 'dusk, dipped by eye']);
    await phone.goto(`#/job/${job}/stage/excavate`);
    await phone.says('stage', 'dusk, dipped by eye');
    await phone.tap('stage-reopen');
    await phone.type('reason', 'a soft spot by the gate');
    await phone.tap('reason-keep');
    await phone.the('stage-with-reason').waitFor();
    assert.equal((await stateOf(phone, 'excavate')).state, 'in_work');
  }],
  ['all stages can be reached from the section', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}`);
    await phone.tap('stages');
    await phone.tap('stage-return_visit');
    await phone.the('stage').waitFor();
    assert.equal(await phone.the('stage').getAttribute('data-state'), 'waiting');
  }],
  ['an address that leads nowhere says so', async (phone) => {
    await phone.goto('#/nowhere');
    await phone.says('lost', 'leads to no screen');
    await phone.goto('#/settings');
    assert.equal(await phone.the('lost').count(), 0);
  }],
];

/** Begins a job of its own, which stands first on the shelf from then on. */
export const fromTheGate = [
  ['a line of the gate leads to where it is logged, at its own lift', async (phone) => {
    const { job } = await phone.ask('start_sample');
    await phone.goto(`#/job/${job}/stage/sub_base`);
    await phone.tap(phone.the('way-dip').nth(1));
    await phone.the('keypad').waitFor();
    assert.equal(await phone.the('dip-layer').inputValue(), 'sub_base:2');
    await phone.goto(`#/job/${job}/stage/sub_base`);
    await phone.tap(phone.the('way-pass').first());
    await phone.the('pass-layer').waitFor();
    assert.equal(await phone.the('pass-layer').inputValue(), 'sub_base:1');
  }],
];
