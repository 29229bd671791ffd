// Passes with a plate: one large pad.
import assert from 'node:assert/strict';

export const passes = [
  ['the plate is named once, and a pass is one tap', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}`);
    await phone.tap('tool-pass');
    await phone.the('plant-name').waitFor();
    await phone.look('08-plant');
    await phone.type('plant-name', 'plate 90 kg, 500 wide');
    await phone.tap('plant-keep');
    await phone.the('add-pass').waitFor();
    await phone.look('09-pass');
    const taps = await phone.counting(async () => {
      await phone.tap('add-pass');
      await phone.says('passes-done', '1');
    });
    await phone.tap('moving-still_moving');
    await phone.tap('add-pass');
    await phone.says('passes-done', '2');
    await phone.look('10-pass-twice');
    const [row] = (await phone.ask('job', { job })).passes;
    assert.deepEqual([row.done, row.plant, row.still_moving], [2, 'plate 90 kg, 500 wide', true]);
    return `${taps} tap`;
  }],
  ['a pass too many is taken back', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/pass`);
    await phone.says('passes-done', '2');
    await phone.tap('undo');
    await phone.says('passes-done', '1');
    assert.equal((await phone.standing(job, 'pass')).length, 1);
  }],
  ['an interruption is picked up where it was', async (phone) => {
    await phone.hold({});
    await phone.goto(`#/job/${await phone.job()}`);
    const taps = await phone.counting(async () => {
      await phone.tap('tool-pass');
      await phone.says('passes-done', '1');
      await phone.tap('moving-nothing_moves');
      await phone.tap('add-pass');
      await phone.says('passes-done', '2');
    });
    return `${taps} taps from the section, with what moves under the plate`;
  }],
];
