import { expect, it } from 'vitest';

import type { MixView } from '../../generated/types';
import { bagOf, dyeToABag, kilograms, partsOf } from './mix';

const parts = { cement_kg: 69, sand_kg: 231, damp_sand_kg: 242.55, stone_kg: 346.5, dye_kg: 3.45 };
const mix: MixView = {
  all: parts, batches: 4, batch: { ...parts, cement_kg: 17.25 }, bags: 3, cement_left_kg: 6, sand_m3: null, source: 'a', status: 'seen', cautions: [],
};

it('says the dye that goes with one bag', () => {
  // Pigment maker's guidance: 5 % of the cement; of a bag of 25 kg that is 1.25 kg.
  expect(bagOf(mix)).toBe(25);
  expect(dyeToABag(mix)).toBeCloseTo(1.25, 9);
  expect(dyeToABag({ ...mix, all: { ...parts, cement_kg: 0 } })).toBe(0);
});

it('leaves out what is not in the mix', () => {
  const mortar = { ...mix, all: { ...parts, stone_kg: 0, dye_kg: 0 } };
  expect(partsOf(mortar).map((part) => part.what)).toEqual(['part_cement', 'part_sand']);
});

it('weighs small parts finer', () => {
  expect([kilograms(1.553), kilograms(242.55)]).toEqual(['1.55', '242.6']);
});
