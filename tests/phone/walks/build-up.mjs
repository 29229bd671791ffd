// The build-up of a plan: specification and plant, mixes, bags, prices; what the plan takes, and what a change of it alters.
import assert from 'node:assert/strict';

import { small } from './every-screen.mjs';

const fill = async (phone, cells) => {
  for (const [test, text] of Object.entries(cells)) await phone.the(test).fill(text);
};
const leave = (phone) => phone.page.evaluate(() => document.activeElement?.blur());
const open = (phone, group) => phone.tap(`${group}-open`);
const rows = (phone, table) => phone.the(table).locator('tbody tr').evaluateAll((all) => all.map((row) => [...row.cells].map((cell) => cell.textContent.replace(/\s/g, ' '))));

/** Waits until a table says just this: the look at a plan comes before what the plan takes. */
async function says(phone, table, wanted) {
  let found;
  await phone.until(`${table} is ${JSON.stringify(wanted)}`, async () => JSON.stringify((found = await rows(phone, table))) === JSON.stringify(wanted)).catch((error) => {
    throw new Error(`${error.message}, but ${JSON.stringify(found)}`);
  });
}

/** The plan on the pages is thrown away, so that the next one begins empty. */
async function afresh(phone) {
  await phone.goto('#/new');
  if ((await phone.the('plan-afresh').count()) === 0) return;
  await phone.tap('plan-afresh');
  await phone.tap('plan-afresh-yes');
  await phone.page.waitForFunction(() => document.querySelector('[data-test=plan-title]')?.value === '');
}

/** A new plan of 6 by 4 m, on the page of its build-up. */
async function path(phone) {
  await afresh(phone);
  await phone.type('plan-title', 'Path to the pump house');
  await phone.tap('use-foot');
  await phone.goto('#/new/shape');
  await fill(phone, { length: '6', width: '4' });
  await phone.goto('#/new/layers');
  await phone.the('specification').waitFor();
}

/** A plate of 280 kg on 0.175 m²: 1600 kg/m². */
async function plate(phone) {
  await phone.tap('add-plant');
  await fill(phone, { 'plant-0-name': 'Plate', 'plant-0-mass': '280', 'plant-0-contact': '0,175' });
}

async function verdict(phone, wanted) {
  await phone.page.locator(`[data-test=compaction][data-verdict=${wanted}]`).waitFor();
}

export const buildUp = [
  ['a specification and a plate are named, and lifts and passes are there', async (phone) => {
    await path(phone);
    await verdict(phone, 'none');
    await phone.says('compaction', 'Name a specification and a machine');
    const taps = await phone.counting(async () => {
      await phone.type('sub-base', '200');
      await plate(phone);
      await phone.the('caution.no_specification').waitFor();
      await says(phone, 'lifts', [['lift 1', '100', 'no figure'], ['lift 2', '100', 'no figure']]);
      await phone.look('80-no-specification');
      await phone.tap('specification-reinstatement_A8.1');
    });
    // Specification for the Reinstatement of Openings in Roads (Scotland), table A8.1: a plate of 1400 to
    // 1800 kg/m² takes 5 passes over 100 mm of granular material; 150 and 200 mm are not permitted.
    await verdict(phone, 'not_permitted');
    await phone.says('compaction', '200 mm in one lift is not permitted');
    await says(phone, 'lifts', [['lift 1', '100', '5'], ['lift 2', '100', '5']]);
    await phone.says('compaction', 'not known without the width');
    await open(phone, 'plant-0-more');
    await phone.type('plant-0-width', '420');
    // 26.04 m² over strips of 0.345 m at 20 m a minute: 3.8 minutes (hand arithmetic).
    await phone.says('compaction', '3.8 minutes');
    await phone.tap(phone.the('compaction-source').locator('summary'));
    await phone.says('compaction-source', 'Table A8.1');
    await phone.look('81-lifts');
    return `${taps} taps`;
  }],
  ['a plate too light for the table is told what to do', async (phone) => {
    await path(phone);
    await plate(phone);
    await phone.tap('specification-reinstatement_A8.1');
    await verdict(phone, 'ok');
    await fill(phone, { 'plant-0-mass': '90', 'plant-0-contact': '0,18' });
    await verdict(phone, 'no_row');
    await phone.says('compaction', 'No published row for a plate this light');
    const lift = phone.the('default-layers.lift_mm');
    await phone.tap(lift.locator('summary'));
    await phone.says('default-layers.lift_mm', 'Lifts of at most 100 mm');
  }],
  ['mortar is batched, and dye beyond what colours is cautioned', async (phone) => {
    await path(phone);
    await open(phone, 'mixes');
    await fill(phone, { mortar: '0,1', dye: '9', 'dye-colour': 'red' });
    await phone.the('caution.dye_saturated').waitFor();
    await phone.until('the dye is in the batch', async () => (await rows(phone, 'mortar-batch')).length === 3);
    const batch = await rows(phone, 'mortar-batch');
    assert.deepEqual(batch.map(([part]) => part), ['cement', 'sand, dry', 'dye']);
    // Nine parts in a hundred of the mass of cement.
    const [cement, dye] = [batch[0], batch[2]].map((row) => Number(row[2]));
    assert.ok(Math.abs(dye - cement * 0.09) < 0.06, `${dye} kg of dye to ${cement} kg of cement`);
    await phone.look('82-mortar');
    await phone.type('dye', '12');
    await leave(phone);
    await phone.says('dye-problem', 'a number from 0 to 10 % of the mass of cement');
    await phone.says('mixes-says', '1 to put right');
  }],
  ['an offer has its price, and comes to a total', async (phone) => {
    await path(phone);
    await phone.type('sub-base', '200');
    await open(phone, 'prices');
    await phone.tap('add-offer');
    await phone.the('offer-0-what').selectOption('sub_base');
    await phone.the('offer-0-sold-in').selectOption('tonne');
    await phone.type('offer-0-price', '38,50');
    await leave(phone);
    await phone.says('currency-problem', 'There are prices and no currency');
    await phone.type('currency', 'gbp');
    assert.equal(await phone.the('currency').inputValue(), 'GBP');
    // 6.2 by 4.2 m, 0.2 m thick, at 2.2 t/m³ and 5 % beyond: 12.03 t, so 13 at 38.50 (hand arithmetic).
    await phone.says('offer-0-comes', '£500.50');
    await phone.says('offer-0-comes', '13 tonnes');
    await phone.says('order-total', '£500.50');
    await phone.tap('add-offer');
    await phone.the('offer-1-what').selectOption('blocks');
    await phone.the('offer-1-sold-in').selectOption('pack');
    await leave(phone);
    await phone.the('offer-1').filter({ hasText: 'What one holds is not known' }).waitFor();
    await phone.tap('offer-1-held-holds_m2');
    await fill(phone, { 'offer-1-holds': '9,8', 'offer-1-price': '240' });
    await phone.says('offer-1-comes', '3 packs');
    await phone.says('prices-says', '£1,220.50');
    await phone.look('83-offers');
  }],
  ['what cannot be is said beside its field, and found again from the check', async (phone) => {
    await path(phone);
    await open(phone, 'bags');
    await phone.type('bag-cement', '0');
    await plate(phone);
    await open(phone, 'plant-0-more');
    await fill(phone, { 'plant-0-frame': '400', 'plant-0-width': '420' });
    await leave(phone);
    await phone.says('bag-cement-problem', '0 is out of bounds');
    await phone.says('plant-0-contact-problem', 'larger than the plate');
    await phone.type('plant-0-contact', '');
    await leave(phone);
    await phone.says('plant-0-rating-problem', 'This plant has no rating');
    await phone.look('84-wrong');
    await phone.tap('step-check');
    await phone.the('problems').waitFor();
    assert.equal(await phone.the('problem').count(), 2);
    await phone.tap(phone.the('problem').filter({ hasText: 'Bags' }).locator('a'));
    await phone.the('bag-cement').waitFor();
    await phone.until('the field has the focus', () => phone.page.evaluate(() => document.activeElement?.dataset.test === 'bag-cement'));
    assert.ok(await phone.the('bag-cement').isVisible(), 'its group is open');
  }],
  ['what was typed is there when the app comes back, and goes into the plan', async (phone) => {
    await path(phone);
    await plate(phone);
    await phone.tap('specification-highway_800');
    await open(phone, 'vehicles');
    await phone.tap('add-vehicle');
    await phone.type('vehicle-0-name', 'Trailer');
    await phone.the('vehicle-0-kind').selectOption('trailer');
    await fill(phone, { 'vehicle-0-volume': '1,2', 'vehicle-0-mass': '2' });
    await open(phone, 'membranes');
    await phone.tap('membrane-under_bed');
    await open(phone, 'hours');
    await phone.type('rate-dig', '2');
    await open(phone, 'allowances');
    await phone.type('surcharge', '12');
    await phone.says('vehicles-says', 'by Trailer');
    await phone.until('it is kept', async () => (await phone.ask('drafts'))['plan.new']?.form.surcharge === '12');
    await phone.goto('#/new/layers');
    await phone.the('specification').waitFor();
    await phone.says('vehicles-says', 'by Trailer');
    assert.equal(await phone.the('plant-0-contact').inputValue(), '0,175');
    await phone.goto('#/new/check');
    await phone.the('takes').waitFor();
    await phone.look('85-check');
    await phone.tap('plan-keep');
    await phone.the('next').waitFor();
    const { plan } = await phone.ask('job', { job: await phone.job() });
    assert.deepEqual(
      [plan.specification, plan.plant, plan.vehicles, plan.membranes, plan.rates, plan.layers],
      ['highway_800', [{ name: 'Plate', mass_kg: 280, contact_m2: 0.175 }], [{ name: 'Trailer', kind: 'trailer', volume_m3: 1.2, mass_t: 2 }], { under_bed: {} }, { dig_h_per_m3: 2 }, { surcharge_mm: 12 }],
    );
  }],
  ['what a person keeps as their own is put into a plan', async (phone) => {
    const kept = await phone.ask('own_kit');
    await phone.ask('keep_own_kit', { plant: [{ name: 'Small plate', kind: 'vibrating_plate', mass_kg: 90, contact_m2: 0.18 }], bags: { cement_kg: 20 }, vehicles: [] });
    await path(phone);
    await phone.tap('add-own-plant-0');
    assert.equal(await phone.the('plant-0-mass').inputValue(), '90');
    assert.equal(await phone.the('add-own-plant-0').count(), 0, 'it is there once');
    await open(phone, 'bags');
    await phone.tap('bags-own');
    assert.equal(await phone.the('bag-cement').inputValue(), '20');
    await phone.ask('keep_own_kit', kept);
    await afresh(phone);
  }],
  ['a revision says what it alters', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/plan/check`);
    await phone.the('takes').waitFor();
    assert.equal(await phone.the('altered').count(), 0, 'nothing is altered yet');
    await phone.goto(`#/job/${job}/plan/layers`);
    await phone.type('sub-base', '200');
    await phone.tap('step-check');
    await phone.the('altered-table').waitFor();
    const altered = async () => Object.fromEntries((await rows(phone, 'altered-table')).map(([name, before, after]) => [name, [before, after]]));
    // Its rows come as the core answers, one after the other.
    await phone.until('the stone is in it', async () => 'Stone' in (await altered()));
    const was = await altered();
    // 26.04 m² at 2.2 t/m³, 100 mm thick and 200 (hand arithmetic).
    assert.deepEqual(was.Stone, ['5.73 t', '11.46 t']);
    assert.ok(!('Area' in was), 'what stays is not in it');
    await phone.look('86-altered');
    for (const fold of ['fold-loads', 'fold-hours', 'fold-hand', 'fold-ranges']) await phone.tap(`${fold}-open`);
    await phone.the('takes-ranges').waitFor();
    await phone.look('87-takes');
    await phone.goto(`#/job/${job}/plan`);
    await phone.tap('plan-afresh');
    await phone.tap('plan-afresh-yes');
  }],
  ['the gate lists what is not on site, one below the other', async (phone) => {
    const job = await phone.job();
    await phone.goto(`#/job/${job}/stage/before_start`);
    const materials = phone.the('evidence').filter({ hasText: 'materials' });
    await materials.locator('li').first().waitFor();
    assert.ok((await materials.locator('li').count()) >= 5);
    await phone.says('evidence', 'graded crushed stone');
    await phone.look('88-gate');
  }],
  ['all of it, narrow, dark, turned and with large letters', async (phone) => {
    const job = await phone.job();
    const narrow = { width: 320, height: 640 };
    const turned = { width: 844, height: 390 };
    const ways = { narrow: { viewport: narrow, screen: narrow }, dark: { colorScheme: 'dark' }, turned: { viewport: turned, screen: turned }, large: {} };
    for (const [way, how] of Object.entries(ways)) {
      await phone.hold(how);
      if (way === 'large') {
        await phone.context.addInitScript(() => {
          document.addEventListener('DOMContentLoaded', () => { document.documentElement.style.fontSize = '200%'; });
        });
      }
      for (const step of ['layers', 'check']) {
        await phone.goto(`#/job/${job}/plan/${step}`);
        await phone.the('compaction').waitFor();
        await phone.page.evaluate(() => document.querySelectorAll('details').forEach((fold) => { fold.open = true; }));
        await phone.page.waitForLoadState('networkidle');
        await phone.look(`89-${step}-${way}`);
        assert.deepEqual(await small(phone), [], `${step}, ${way}`);
      }
    }
    await phone.hold({});
  }],
];
