// The first minute: a name, an empty shelf, the sample job.
import assert from 'node:assert/strict';

export const begin = [
  ['the first start asks for a name, once', async (phone) => {
    await phone.goto('');
    await phone.the('first-name').waitFor();
    await phone.look('01-first-name');
    assert.ok(await phone.the('person-keep').isDisabled());
    await phone.type('person-name', ' Mina Castle ');
    const taps = await phone.counting(() => phone.tap('person-keep'));
    await phone.the('sample-job').waitFor();
    await phone.look('02-shelf-empty');
    assert.equal((await phone.ask('shelf')).person, 'Mina Castle');
    await phone.goto('');
    await phone.the('sample-job').waitFor();
    assert.equal(await phone.the('first-name').count(), 0);
    assert.equal(taps, 1);
  }],
  ['the sample job opens on its section', async (phone) => {
    await phone.goto('');
    const taps = await phone.counting(() => phone.tap('sample-job'));
    await phone.the('next').waitFor();
    await phone.look('03-today');
    const job = await phone.job();
    const { title, next, section } = await phone.ask('job', { job });
    assert.ok((await phone.page.locator('h1').innerText()).endsWith(title));
    assert.equal(await phone.text('next'), next.text);
    assert.ok(section.layers.length >= 5, 'formation, two lifts, bed and blocks');
    return `${taps} tap`;
  }],
];
