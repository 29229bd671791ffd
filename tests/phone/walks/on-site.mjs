// What is logged on a site besides dips, passes and photos, and what follows from it.
import assert from 'node:assert/strict';

const view = async (phone) => phone.ask('job', { job: await phone.job() });
const gate = async (phone, name) => (await view(phone)).stages.find(({ stage }) => stage === name).gate;
const has = async (phone, stage, code, met) => (await gate(phone, stage)).some((line) => line.says.code === code && line.met === met);

/** A place on the first string of the job. */
async function place(phone, test, at) {
  const [string] = (await view(phone)).drawing.strings;
  await phone.the(`${test}-string`).selectOption(`${string.from}>${string.to}`);
  await phone.type(`${test}-at`, at);
}

export const onSite = [
  ['a soft spot is found, holds its stage, and is filled', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/soft-spots`);
    await place(phone, 'spot', '0,4');
    await phone.type('spot-text', 'half a metre across, clay comes up');
    await phone.look('site-1-soft-spot');
    await phone.tap('spot-keep');
    await phone.the('spot-fill').waitFor();
    assert.ok(await has(phone, 'compact_formation', 'next.soft_spots_open', false));
    await phone.goto(`#/job/${job}/soft-spots`);
    await phone.tap('spot-fill');
    await phone.type('fill-depth', '9000');
    await phone.type('fill-with', 'crushed stone');
    await phone.tap('fill-keep');
    await phone.says('fill-dialog', 'from 0 to 2000 mm');
    await phone.type('fill-depth', '150');
    await phone.tap('fill-keep');
    await phone.says('soft-spots', 'filled with crushed stone');
    assert.ok(await has(phone, 'compact_formation', 'gate.soft_spots_filled', true));
  }],
  ['the weather is noted with its temperature', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}/weather`);
    await phone.tap('weather-sky-wet');
    await phone.type('weather-temperature', '-400');
    await phone.tap('weather-keep');
    await phone.page.getByText('from -40 to 60 °C').first().waitFor();
    await phone.type('weather-temperature', '8,5');
    await phone.look('site-2-weather');
    await phone.tap('weather-keep');
    await phone.the('next').waitFor();
    const { weather } = (await view(phone)).site;
    assert.deepEqual([weather.sky, weather.temperature_c], ['wet', 8.5]);
  }],
  ['stone is logged as spread, and dry stone is to be watered', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}/spread`);
    await phone.type('spread-loose', '95');
    await phone.tap('spread-damp-dry');
    await phone.look('site-3-spread');
    assert.match(await phone.page.locator('main').innerText(), /Water it evenly before the plate/);
    await phone.tap('spread-damp-watered');
    await phone.tap('spread-keep');
    await phone.the('next').waitFor();
    const [spread] = (await view(phone)).site.spreads;
    assert.deepEqual([spread.loose_mm, spread.damp], [95, 'watered']);
  }],
  ['edge concrete says what it bears, by the temperature', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}/concrete`);
    await phone.type('concrete-where', 'far edge, gate to bend');
    await phone.type('concrete-temperature', '5');
    await phone.tap('concrete-keep');
    // Counted at 20 °C an hour at 5 °C is half an hour (Nurse-Saul with a datum of -10 °C, from memory):
    // 24 hours take 48.
    await phone.says('concrete-age', 'No plate beside it for about 48 hours');
    await phone.look('site-4-concrete');
  }],
  ['a drop test is dipped round by round at the same places', async (phone) => {
    await phone.goto(`#/job/${await phone.job()}/drop-test`);
    for (const [i, at] of ['0', '0,5', '1'].entries()) await place(phone, `drop-${i}`, at);
    for (const i of [0, 1, 2]) await phone.type(`drop-${i}-reading`, '100');
    await phone.tap('drop-keep');
    await phone.says('drop-says', 'Make one pass');
    // Hand arithmetic: 0, 1 and 1 mm, mean 0.7, none over 2.
    for (const [i, reading] of ['100', '101', '101'].entries()) await phone.type(`drop-${i}-reading`, reading);
    await phone.tap('drop-keep');
    await phone.says('drop-says', 'this plate does no more');
    await phone.look('site-5-drop-test');
  }],
  ['a snag holds the handing over until it is put right', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/snags`);
    await phone.type('snag-text', 'a lip of 4 mm beside the gate');
    await phone.the('snag-due').fill('2026-12-18');
    await phone.tap('snag-keep');
    await phone.the('snag-close').waitFor();
    assert.ok(await has(phone, 'hand_over', 'next.snags', false));
    await phone.look('site-6-snag');
    await phone.tap('snag-close');
    await phone.type('snag-done', 'lifted and relaid');
    await phone.tap('snag-closed');
    await phone.says('snags', 'lifted and relaid');
    assert.ok(await has(phone, 'hand_over', 'gate.snags', true));
  }],
  ['packs are opened and emptied, and too few are said', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/packs`);
    await phone.says('packs-says', 'turn by turn');
    await phone.type('pack-label', 'batch 12, grey');
    await phone.tap('pack-keep');
    await phone.says('packs', 'batch 12, grey');
    await phone.says('packs-says', 'Only 1 pack is open');
    await phone.tap('pack-keep');
    await phone.the('pack-empty').nth(1).waitFor();
    await phone.tap('pack-keep');
    await phone.says('packs-says', '3 packs are open');
    await phone.look('site-7-packs');
    await phone.tap(phone.the('pack-empty').first());
    await phone.says('packs', 'laid to its last block');
    await phone.says('packs-says', 'Only 2 packs are open');
  }],
  ['what is typed of a snag is there after the phone was closed', async (phone) => {
    const hash = `#/job/${await phone.job()}/snags`;
    await phone.goto(hash);
    await phone.type('snag-text', 'a chipped block');
    await phone.page.reload();
    await phone.the('snag-text').waitFor();
    assert.equal(await phone.the('snag-text').inputValue(), 'a chipped block');
    await phone.the('snag-text').fill('');
  }],
];
