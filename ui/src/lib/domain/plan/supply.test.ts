import { describe, expect, it } from 'vitest';

import { emptyForm, fromPlan, toPlan, type PlanForm } from './form';
import { money, priceOf, priceTyped } from './price';
import { heldIn } from './supply';

const base = { fairfall_plan: 1, title: 'Path', use: 'foot', outline: { rectangle: { length_m: 6, width_m: 4 } } };

/** Every key of the plan file that says what compacts, carries, is mixed and is bought. */
const everything = {
  specification: 'reinstatement_A8.1',
  plant: [
    { name: 'Plate', kind: 'vibrating_plate', mass_kg: 280, contact_m2: 0.175, rating: 1600, frame_length_mm: 700, width_mm: 420, overlap_mm: 80, speed_m_per_min: 22, vibration_m_s2: 2.4, vibration: 'measured' },
    { name: 'Rammer', kind: 'vibro_tamper', mass_kg: 62 },
  ],
  vehicles: [{ name: 'Trailer', kind: 'trailer', volume_m3: 1.2, mass_t: 2 }],
  bags: {
    sub_base_kg: 800, bed_kg: 810, joint_sand_kg: 20, cement_kg: 25, fine_aggregate_kg: 820, coarse_aggregate_kg: 830, mortar_sand_kg: 840, dye_kg: 1.5,
  },
  mixes: { concrete: 'ST2', cement_class: '42.5', by_hand: true, mixer_l: 110, mortar_m3: 0.1, mortar_parts: 4, dye_percent: 5, dye_colour: 'red' },
  membranes: { under_sub_base: {}, under_bed: { lap_mm: 250, roll_width_m: 2, roll_length_m: 50 } },
  layers: { bed_mm: 40, sub_base_mm: 150, surcharge_mm: 12 },
  allowances: { loose_sand_t_per_m3: 1.45, ground_t_per_m3: 1.8, joint_top_up_percent: 15 },
  rates: { dig_h_per_m3: 2, spoil_h_per_m3: 1, formation_h_per_m2: 0.1, sub_base_h_per_t: 0.8, lay_h_per_m2: 1.5, joint_h_per_m2: 0.06, haunch_h_per_m3: 7 },
  orders: {
    currency: 'GBP',
    allowance_percent: {
      sub_base: 4, bed: 6, joint_sand: 1, cement: 2, fine_aggregate: 3, coarse_aggregate: 5, concrete: 7, mortar_sand: 8, dye: 9, membrane_under_sub_base: 10, membrane_under_bed: 11,
    },
    offers: [
      { what: 'sub_base', supplier: 'The quarry', sold_in: 'tonne', price_minor: 3850 },
      { what: 'sub_base', sold_in: 'bulk_bag', holds_kg: 850, price_minor: 4205 },
      { what: 'blocks', sold_in: 'pack', holds_m2: 9.8, price_minor: 24000 },
      { what: 'blocks', sold_in: 'pack', holds_pieces: 400 },
      { what: 'concrete', sold_in: 'cubic_metre', holds_m3: 0.25, price_minor: 0 },
    ],
  },
};

describe('what compacts, carries, is mixed and is bought', () => {
  it('comes back to the same plan, whole and key by key, and is shown whole', () => {
    const parts = [everything, ...Object.entries(everything).map(([key, value]) => ({ [key]: value }))];
    for (const part of parts) {
      const plan = { ...base, ...part };
      const form = fromPlan(plan) as PlanForm;
      expect(form, JSON.stringify(part)).not.toBeNull();
      expect(toPlan(form)).toEqual(plan);
      expect(form.rest).toEqual({});
    }
  });

  it('comes back with any one of its members alone, and with any one left out', () => {
    for (const [key, value] of Object.entries(everything)) {
      if (typeof value !== 'object' || Array.isArray(value)) continue;
      for (const [member, said] of Object.entries(value)) {
        const { [member]: _, ...others } = value as Record<string, unknown>;
        for (const part of [{ [member]: said }, others]) {
          const plan = { ...base, [key]: part };
          expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
        }
      }
    }
  });

  it('comes back with a machine, a vehicle or an offer that says only one thing', () => {
    for (const [key, list] of [['plant', everything.plant], ['vehicles', everything.vehicles]] as const) {
      for (const [member, said] of Object.entries(list[0] ?? {})) {
        const plan = { ...base, [key]: [{ [member]: said }] };
        expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
      }
    }
    for (const offer of [{ what: 'bed' }, { supplier: 'Yard' }, { holds_m2: 3 }, { price_minor: 5 }]) {
      const plan = { ...base, orders: { offers: [offer] } };
      expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
    }
  });

  it('tells a mixer that was named from one that was not', () => {
    const plan = { ...base, mixes: { by_hand: false } };
    expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
    expect(toPlan(emptyForm()).mixes).toBeUndefined();
  });

  it.each([
    ['a machine with a key of its own', { plant: [{ name: 'Plate', colour: 'red' }] }],
    ['an offer that says twice what one holds', { orders: { offers: [{ what: 'bed', sold_in: 'bag', holds_kg: 20, holds_m3: 0.01 }] } }],
    ['a machine that is a text', { plant: ['Plate'] }],
  ])('is not shown half where there is %s', (_, part) => {
    expect(fromPlan({ ...base, ...part })).toBeNull();
  });

  it('keeps what the form has no field for', () => {
    const plan = { ...base, bags: { cement_kg: 25, lime_kg: 20 }, mixes: { by_hand: 'yes' }, orders: { ring: 'before eight', currency: 'GBP' } };
    expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
  });

  it('is laid over a draft that was kept before these fields were there', () => {
    const { plant: _, mixes: __, ...older } = emptyForm();
    expect(toPlan({ ...emptyForm(), ...older, title: 'Path' }).plant).toBeUndefined();
    expect(toPlan({ ...emptyForm(), rates: {}, bags: { cement_kg: '25' } }).bags).toEqual({ cement_kg: 25 });
  });

  it('sends what is no number as it was typed', () => {
    const form: PlanForm = { ...emptyForm(), bags: { cement_kg: 'a lot' } };
    expect(toPlan(form).bags).toEqual({ cement_kg: 'a lot' });
  });
});

describe('a price', () => {
  // Minor units after ISO 4217: two digits for the pound and the euro, none for the yen, three for the dinar of Kuwait.
  it.each([['4,85', 'GBP', 485], ['38.5', 'EUR', 3850], ['1200', 'JPY', 1200], ['1.234', 'KWD', 1234], ['0', 'GBP', 0], ['19.99', '', 1999]])(
    '%s %s is %d in minor units', (typed, currency, minor) => expect(priceOf(typed, currency)).toBe(minor));

  it('comes back as it was typed, for every whole number of minor units', () => {
    for (const currency of ['GBP', 'JPY', 'KWD', 'nonsense']) {
      for (let minor = 0; minor < 20_000; minor += 7) expect(priceOf(priceTyped(minor, currency), currency)).toBe(minor);
    }
  });

  it('keeps a fraction of a penny, and words, for the core to refuse', () => {
    expect(priceOf('4.855', 'GBP')).toBe(485.5);
    expect(priceOf('about five', 'GBP')).toBe('about five');
    expect(priceOf(' ', 'GBP')).toBeUndefined();
    expect(priceOf(priceTyped(485.5, 'GBP'), 'GBP')).toBe(485.5);
  });

  it('is said with its currency', () => {
    expect(money(122050, 'GBP')).toBe('£1,220.50');
    expect(money(122050, 'GB')).toBe('1220.50');
  });
});

describe('what one of something holds', () => {
  it('is counted in what the goods are measured in, or in what they are sold by', () => {
    expect(heldIn('pieces')).toEqual(['holds_pieces', 'holds_m2']);
    expect(heldIn('kg')).toEqual(['holds_kg', 'holds_m3']);
    expect([heldIn('m2'), heldIn('m3')]).toEqual([['holds_m2'], ['holds_m3']]);
  });
});
