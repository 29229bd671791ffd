// What is the person's own: plant, vehicles and bags kept as typed, and what they are of use for.
import assert from 'node:assert/strict';

async function settings(phone) {
  await phone.goto('#/settings');
  await phone.the('kit-kept').waitFor();
}

export const ownThings = [
  ['an own plate is kept as it is typed, and is there after a reload', async (phone) => {
    await phone.goto('');
    await phone.tap('place-settings');
    await phone.the('kit-kept').waitFor();
    await phone.look('90-settings');
    await phone.tap('add-plant');
    await phone.type('plant-0-name', 'plate 90 kg, 500 wide');
    assert.equal(await phone.the('plant-0-rating-problem').count(), 0, 'it is still being typed');
    await phone.type('plant-0-mass', '90');
    await phone.type('plant-0-contact', '0.18');
    await phone.type('plant-0-width', '500');
    await phone.type('plant-0-shakes', '4');
    await phone.says('kit-kept', 'kept on this phone');
    await phone.until('the plate is kept', async () => (await phone.ask('own_kit')).plant[0]?.vibration_m_s2 === 4);
    await phone.hold({});
    await settings(phone);
    assert.equal(await phone.the('plant-0-name').inputValue(), 'plate 90 kg, 500 wide');
    assert.equal(await phone.the('plant-0-contact').inputValue(), '0.18');
    await phone.look('91-settings-plate');
  }],
  ['what cannot be is said beside its field; it stays typed, and what was kept stays kept', async (phone) => {
    await settings(phone);
    await phone.type('plant-0-mass', '-90');
    await phone.the('plant-0-mass-problem').waitFor();
    await phone.says('kit-kept', 'Not kept yet');
    await phone.type('bag-sub_base_kg', 'a lot');
    await phone.says('bag-sub_base_kg-problem', '"a lot" is no measure');
    await phone.look('92-settings-problem');
    assert.equal((await phone.ask('own_kit')).plant[0].mass_kg, 90);
    await phone.until('it is drafted', async () => (await phone.ask('drafts')).own_kit?.bags.sub_base_kg === 'a lot');
    await phone.hold({});
    await settings(phone);
    assert.equal(await phone.the('plant-0-mass').inputValue(), '-90');
    await phone.type('plant-0-mass', '90');
    await phone.type('bag-sub_base_kg', '800');
    await phone.until('the bag is kept', async () => (await phone.ask('own_kit')).bags.sub_base_kg === 800);
    await phone.says('kit-kept', 'kept on this phone');
  }],
  ['an own trailer carries in the table of loads, an own plate is looked up in that of passes', async (phone) => {
    await settings(phone);
    await phone.tap('add-vehicle');
    await phone.type('vehicle-0-name', 'the trailer');
    await phone.the('vehicle-0-kind').selectOption('trailer');
    await phone.type('vehicle-0-volume', '1,8');
    await phone.tap('vehicle-0-name');
    await phone.says('kit-kept', 'Not kept yet');
    await phone.type('vehicle-0-mass', '2');
    await phone.until('the trailer is kept', async () => (await phone.ask('own_kit')).vehicles[0]?.mass_t === 2);
    await phone.goto('#/tables/swell');
    await phone.the('swell-vehicle').selectOption('the trailer');
    assert.deepEqual([await phone.the('swell-volume').inputValue(), await phone.the('swell-mass').inputValue()], ['1.8', '2']);
    await phone.goto('#/tables/passes');
    await phone.the('passes-own').selectOption('plate 90 kg, 500 wide');
    await phone.type('passes-overlap', '');
    await phone.type('passes-layer', '100');
    // 90 / 0.18 = 500 kg/m2.
    await phone.says('passes-table', '500 kg/m²');
    await phone.says('passes-answer', 'No published row');
  }],
  ['a pass with the own plate counts for the vibration of the day', async (phone) => {
    const { jobs } = await phone.ask('shelf');
    const job = jobs.find(({ title }) => title === 'Path with prices').id;
    await phone.goto(`#/job/${job}/pass`);
    await phone.tap(phone.the('known-plant').filter({ hasText: 'plate 90 kg' }));
    for (let pass = 1; pass <= 5; pass += 1) {
      await phone.tap('add-pass');
      await phone.says('passes-done', String(pass));
    }
    await phone.says('pass-today', 'Vibration of Mina Castle today');
    await phone.look('93-pass-today');
    const [day] = await phone.ask('vibration_days');
    const said = await phone.text('pass-today');
    assert.ok(said.includes(`${Math.round(day.exposure.points)} point`), said);
    await settings(phone);
    await phone.says('day', 'Mina Castle');
    await phone.says('day', 'reckoned with 8 m/s²');
    await phone.look('94-settings-days');
  }],
  ['the hours of a stage make the own rates once the job is handed over', async (phone) => {
    await settings(phone);
    await phone.says('own-rates', 'None yet');
    const { jobs } = await phone.ask('shelf');
    const job = jobs.find(({ title }) => title === 'Path with prices').id;
    await phone.goto(`#/job/${job}/stage/compact_formation`);
    await phone.type('stage-hours', 'all morning');
    await phone.says('stage-hours-problem', '"all morning" is no measure');
    assert.ok(await phone.the('stage-with-reason').isDisabled());
    await phone.type('stage-hours', '1,5');
    await phone.look('95-stage-hours');
    await phone.tap('stage-with-reason');
    await phone.type('reason', 'no services here, as the owner showed us; dry and firm');
    await phone.tap('reason-keep');
    await phone.the('next').waitFor();
    await phone.ask('log', { job, kind: 'stage', body: { stage: 'hand_over', done: true, reason: 'only the formation was ours' } });
    await settings(phone);
    // Hand arithmetic: one and a half hours on 15 m2 are 0.1 h a square metre; the book's is 0.05.
    await phone.the('own-rates-table').waitFor();
    const rows = await phone.the('own-rates-table').locator('tbody tr').allInnerTexts();
    assert.deepEqual(rows.map((row) => row.split(/\s*\t\s*/)), [['Trim and compact the formation', '1', '0.05', '0.1']]);
    await phone.look('96-own-rates');
  }],
  ['a screen that cannot be read says so, and is read again', async (phone) => {
    await phone.hold({});
    await phone.context.route('**/assets/Settings-*.js', (route) => route.abort());
    await phone.goto('#/settings');
    await phone.says('fault', 'could not be read from the app');
    await phone.context.unroute('**/assets/Settings-*.js');
    await phone.tap('again');
    await phone.the('kit-kept').waitFor();
  }],
  ['a machine that is added and taken away leaves nothing', async (phone) => {
    await settings(phone);
    const before = await phone.ask('own_kit');
    await phone.tap('add-plant');
    const row = before.plant.length;
    await phone.type(`plant-${row}-mass`, '60');
    await phone.tap(`plant-${row}-name`);
    await phone.says('kit-kept', 'Not kept yet');
    await phone.tap(`plant-${row}-away`);
    await phone.says('kit-kept', 'kept on this phone');
    assert.deepEqual(await phone.ask('own_kit'), before);
  }],
];
