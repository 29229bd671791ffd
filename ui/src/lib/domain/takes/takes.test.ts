import { describe, expect, it } from 'vitest';

import type { MoverView, PlanFigures, TakesView } from '../../generated/types';
import { altered, quantities } from './altered';
import { amount, between, loadsOf, together } from './amounts';

const mover = (assumption: MoverView['assumption'], least: number, most: number): MoverView => ({
  assumption, between: [least, most], quantity: [1, 2], says: { code: '', values: {}, text: '' },
});

describe('quantities in words', () => {
  it('stand in one unit beside one another', () => {
    expect(together('kg', [900, 1400])).toEqual(['0.9', '1.4 t']);
    expect(together('kg', [63.3, 163.2])).toEqual(['63', '163 kg']);
    expect(together('m3', [9.54, 11.3])).toEqual(['9.5', '11.3 m³']);
    expect([amount('pieces', 201), amount('m2', 26.44)]).toEqual(['201', '26.4 m²']);
  });

  it('say how far an assumption may be otherwise without a sign', () => {
    expect(between(mover('dig_depth', -20, 20))).toBe('20 mm either way');
    expect(between(mover('swell', 25, 30))).toBe('25 to 30 %');
    expect(between(mover('stone_top', -25, 10))).toBe('25 mm low to 10 high');
  });

  it('say loads once where the least and the most are the same', () => {
    expect([loadsOf({ loads: [9, 9] }), loadsOf({ loads: [10, 11] })]).toEqual(['9', '10 to 11']);
  });
});

describe('a plan held against the one in force', () => {
  const figures: PlanFigures = {
    area_m2: 24, perimeter_m: 20, dig_depth_mm: 313, dig_solid_m3: 8.2, dig_loose_m3: [10.2, 10.6], sub_base_t: 11.46, bed_t: 1.73,
    blocks: 1206, joint_sand_kg: 100, haunch_m3: 0.28, defaults: [], cautions: [],
  };
  const takes: TakesView = {
    specification: null, plant: null, lifts: [{ thickness_mm: 100, passes: 5 }, { thickness_mm: 100, passes: 5 }], compaction: null, pass_min: null,
    loads: [{ vehicle: 'Trailer', kind: 'trailer', loads: [9, 9], filled_by: 'volume' }], hours: [], person_hours: 77, ranges: [], by_hand: [], by_hand_t: 31.3,
  };

  it('alters nothing where nothing differs', () => {
    expect(altered(quantities(figures, takes), quantities(figures, takes))).toEqual([]);
  });

  it('has a row for what differs, and one for what is only in one of them', () => {
    const now = { ...takes, lifts: [{ thickness_mm: 150, passes: null }], loads: [{ ...takes.loads[0], vehicle: 'Skip' }] } as TakesView;
    expect(altered(quantities(figures, takes), quantities({ ...figures, sub_base_t: 14.3 }, now))).toEqual([
      ['Loads, Trailer', '9', '–'],
      ['Stone', '11.46 t', '14.3 t'],
      ['Lifts of stone', '2 of 100 mm', '1 of 150 mm'],
      ['Passes', '5', 'no figure'],
      ['Loads, Skip', '–', '9'],
    ]);
  });
});
