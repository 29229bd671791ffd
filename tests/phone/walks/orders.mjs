// The order list, and deliveries ticked against it: in parts, with their ticket, short and over.
import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';

const file = (name) => fileURLToPath(new URL(`../../../fixtures/demo/photos/${name}`, import.meta.url));

/** Prices are invented. */
const ORDERS = {
  currency: 'GBP',
  offers: [
    { what: 'sub_base', supplier: 'Harrow Lane Quarry', sold_in: 'bulk_bag', holds_kg: 850, price_minor: 5200 },
    { what: 'sub_base', supplier: 'Tilling Supplies', sold_in: 'tonne', holds_kg: 1000, price_minor: 4450 },
    { what: 'bed', supplier: 'Harrow Lane Quarry', sold_in: 'bulk_bag', holds_kg: 850, price_minor: 4900 },
  ],
};

/** A path of 10 by 1.5 m held on all sides, with prices, and its order list open. */
const PLAN = {
  fairfall_plan: 1, title: 'Path with prices', use: 'foot',
  outline: { rectangle: { length_m: 10, width_m: 1.5 } },
  surface: { edge_levels: [{ at_m: 0, mm: 0 }], crossfall_one_in: 60 },
  edges: { course: 'none', restraint: 'none', held: ['reference', 'far', 'start', 'end'] },
  layers: { bed_mm: 40, sub_base_mm: 150 },
  allowances: { sub_base_t_per_m3: 2.2 },
  orders: ORDERS,
};

async function priced(phone) {
  const { jobs } = await phone.ask('shelf');
  return jobs.find((job) => job.title === PLAN.title).id;
}

/** Opens a delivery from the order list, for one of its lines. */
async function deliver(phone, line, quantity, unit) {
  await phone.tap('order-delivery');
  await phone.the('delivery-line').selectOption(line);
  await phone.type('delivery-quantity', quantity);
  if (unit) await phone.the('delivery-unit').selectOption(unit);
}

const lineOf = async (phone, job, what) => (await phone.ask('order_list', { job })).lines.find((line) => line.what === what);

export const orders = [
  ['the order list is under More and under Papers, each line with need, allowance, count, left over and price', async (phone) => {
    const { job } = await phone.ask('start_job', { text: JSON.stringify(PLAN) });
    await phone.goto(`#/job/${job}`);
    await phone.tap('more');
    await phone.tap('more-order');
    await phone.the('order').waitFor();
    await phone.goto(`#/job/${job}/papers`);
    await phone.tap('to-order');
    // Hand arithmetic: 10 x 1.5 x 0.15 x 2.2 = 4.95 t; with 5 % 5.1975 t; 7 bags of 850 kg are 5.95 t,
    // 752.5 kg over, 7 x 52.00 = 364.00. The other yard: 6 t for 267.00.
    await phone.says('order-sub_base', '4.95 t; with 5 % over, 5.2 t');
    await phone.says('order-sub_base', '7 bulk bags of 850 kg; 752.5 kg left over');
    await phone.says('order-sub_base', '£52.00 each, £364.00');
    await phone.says('order-sub_base-others', 'Tilling Supplies: 6 tonnes, loose; 802.5 kg left over; £44.50 each, £267.00');
    await phone.says('order-sub_base-stands', 'none here');
    await phone.says('order-missing', '4.95 t graded crushed stone');
    // Bed: 15 m2 x 0.04 x 1.8 = 1.08 t, with 5 % 1.134: 2 bags, 98.00. In all 462.00; from the quarry as much.
    await phone.says('order-prices', '£462.00');
    await phone.says('order-suppliers', 'Harrow Lane Quarry');
    await phone.says('stand-sub_base', 'the layer below is not measured');
    await phone.look('60-order');
  }],
  ['a figure that was taken says where it comes from, one press away', async (phone) => {
    await phone.goto(`#/job/${await priced(phone)}/order`);
    await phone.tap(phone.the('order-sub_base-taken').locator('summary'));
    await phone.says('order-sub_base-taken', 'Graded crushed stone, ordered over: 5 %');
    await phone.says('order-sub_base-taken', 'common practice, no source');
    const { defaults } = await phone.ask('order_list', { job: await priced(phone) });
    await phone.tap(phone.the('order-defaults').locator('summary'));
    assert.equal(await phone.the('order-defaults').locator('li').count(), defaults.length);
    await phone.look('61-order-taken');
  }],
  ['a first part comes with the photo of its ticket: what is still to come is said while typing', async (phone) => {
    const job = await priced(phone);
    await phone.goto(`#/job/${job}/order`);
    await deliver(phone, 'sub_base', '4');
    assert.equal(await phone.the('delivery-unit').inputValue(), 'bags', 'as it is sold');
    await phone.says('to-come', 'To come: 5.95 t');
    // 4 of 7 bags of 850 kg: 2.55 t are still to come.
    await phone.says('then', 'With this, 2.55 t to come');
    await phone.type('delivery-ticket', '1182');
    const camera = phone.page.waitForEvent('filechooser');
    await phone.tap('ticket-camera');
    const chooser = await camera;
    assert.equal(await chooser.element().getAttribute('capture'), 'environment');
    await chooser.setFiles(file('before.jpg'));
    await phone.the('ticket-photo').locator('img').waitFor();
    await phone.type('delivery-supplier', 'Harrow Lane Quarry');
    await phone.type('delivery-stacked', 'beside the gate');
    await phone.look('62-delivery');
    // The app is ended: everything typed is there again, the photo too.
    await phone.until('the delivery is kept', async () => (await phone.ask('drafts'))[`delivery.${job}`]?.stacked === 'beside the gate');
    await phone.hold({});
    await phone.goto(`#/job/${job}/delivery`);
    await phone.the('ticket-photo').locator('img').waitFor();
    assert.equal(await phone.the('delivery-ticket').inputValue(), '1182');
    await phone.tap('delivery-keep');
    await phone.says('order-sub_base-stands', 'short by 2.55 t');
    await phone.says('order-sub_base-delivered', '4 bags Graded crushed stone (3.4 t)');
    await phone.says('order-sub_base-delivered', 'ticket 1182, from Harrow Lane Quarry, stacked beside the gate');
    const shown = await phone.the('order-sub_base-delivered').locator('img').evaluate((img) => img.decode().then(() => img.naturalWidth));
    assert.ok(shown > 0, 'the ticket is shown');
    const [made] = (await lineOf(phone, job, 'sub_base')).deliveries;
    assert.match(made.photo, /^[0-9a-f]{64}$/);
    await phone.look('63-order-part');
  }],
  ['the second part is over, and is taken back with one press', async (phone) => {
    const job = await priced(phone);
    await phone.goto(`#/job/${job}/order`);
    await deliver(phone, 'sub_base', '3,4', 't');
    // 3.4 t are here; 5.95 t were ordered: 0.85 t over.
    await phone.says('then', 'With this, 850 kg over');
    await phone.tap('delivery-keep');
    await phone.says('order-sub_base-stands', 'over by 850 kg');
    assert.equal(await phone.the('order-sub_base-delivered').count(), 2);
    await phone.says('stand-sub_base', 'over by');
    await phone.tap('undo');
    await phone.says('order-sub_base-stands', 'short by 2.55 t');
  }],
  ['loose stone by the cubic metre is counted when it is kept', async (phone) => {
    const job = await priced(phone);
    await phone.goto(`#/job/${job}/order`);
    await deliver(phone, 'sub_base', '1', 'm3');
    await phone.says('then', 'worked out when it is kept');
    await phone.tap('delivery-keep');
    await phone.says('order-sub_base-delivered', '1 m³, loose');
    assert.ok((await lineOf(phone, job, 'sub_base')).delivered > 3400);
    await phone.tap('undo');
    await phone.says('order-sub_base-stands', 'short by 2.55 t');
  }],
  ['what matches no line stands apart, and what cannot be counted says why', async (phone) => {
    const job = await priced(phone);
    await phone.goto(`#/job/${job}/order`);
    await phone.tap('order-delivery');
    await phone.the('delivery-line').selectOption('other');
    await phone.type('delivery-what', 'Kerbs');
    await phone.type('delivery-quantity', '6');
    await phone.the('delivery-unit').selectOption('pieces');
    await phone.tap('delivery-keep');
    await phone.says('order-others', 'It does not count, because no line of the order is for this');
    await deliver(phone, 'bed', '1', 'loads');
    await phone.tap('delivery-keep');
    await phone.says('order-bed-delivered', 'It does not count, because how much a delivery in "loads" comes to is not known');
    await phone.says('order-bed-stands', 'none here');
    await phone.look('64-order-apart');
  }],
  ['no quantity is said beside its field, and nothing typed is lost', async (phone) => {
    const job = await priced(phone);
    await phone.goto(`#/job/${job}/delivery`);
    await phone.the('delivery-line').selectOption('blocks');
    await phone.type('delivery-batch', '0417');
    const before = (await phone.standing(job, 'delivery')).length;
    for (const nonsense of ['-4', '0', '2000000']) {
      await phone.type('delivery-quantity', nonsense);
      await phone.tap('delivery-keep');
      await phone.says('delivery-quantity-problem', 'This is no quantity');
      assert.equal(await phone.the('delivery-quantity').inputValue(), nonsense);
    }
    for (const nonsense of ['two packs', '1e9', '3 or 4']) {
      await phone.type('delivery-quantity', nonsense);
      await phone.says('delivery-quantity-problem', `"${nonsense}" is no measure`);
      assert.ok(await phone.the('delivery-keep').isDisabled());
    }
    assert.equal(await phone.the('delivery-batch').inputValue(), '0417');
    assert.equal((await phone.standing(job, 'delivery')).length, before);
    await phone.look('65-delivery-problem');
    await phone.type('delivery-quantity', '390');
    await phone.tap('delivery-keep');
    await phone.says('order-blocks-delivered', 'batch 0417');
  }],
  ['a ticket that is no photo is said, and the delivery stays', async (phone) => {
    const job = await priced(phone);
    await phone.goto(`#/job/${job}/delivery`);
    await phone.the('delivery-line').selectOption('bed');
    await phone.type('delivery-quantity', '1');
    const gallery = phone.page.waitForEvent('filechooser');
    await phone.tap('ticket-gallery');
    await (await gallery).setFiles({ name: 'ticket.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no photo') });
    await phone.says('fault', 'cannot be read as a photo');
    assert.equal(await phone.the('delivery-quantity').inputValue(), '1');
    await phone.tap('delivery-keep');
    await phone.says('order-bed-delivered', '1 bag Sharp sand (850 kg)');
  }],
  ['once the formation is dipped the stone is reckoned by its depth', async (phone) => {
    const job = await priced(phone);
    const { drawing } = await phone.ask('job', { job });
    const [{ from, to }] = drawing.strings;
    for (const at_m of [0.5, 1.5, 2.5]) {
      const place = { layer: 'formation', from, to, at_m, raise_mm: 0 };
      const { target_mm } = await phone.ask('dip_target', { job, ...place });
      await phone.ask('log', { job, kind: 'dip', body: { ...place, reading_mm: target_mm + 20 } });
    }
    await phone.goto(`#/job/${job}/order`);
    // Hand arithmetic: 20 mm deeper all over 15 m2 at 2.2 t/m3 is 0.66 t more than 4.95 t.
    await phone.says('stand-sub_base', '5.61 t, by 3 dips of the layer below, on average 20 mm deeper than planned');
    // 5.61 less 3.4 t: 2.21 t, three more bags.
    await phone.says('stand-sub_base', '2.21 t, or 3 bulk bags');
    await phone.look('66-order-stands');
  }],
];
