import { describe, expect, it } from 'vitest';

import { areasOf, batchesOf, isChecked, residualsOf, sidesOf, toAnswer } from './answer';

const tape = (from: string, to: string) => ({ from, to, measured_m: 5, computed_m: 5, residual_mm: 0, allowed_mm: 10, again: false });

describe('what the core says of tapes', () => {
  const two = [tape('A', 'C'), tape('B', 'C')];

  it.each([['with', ['A', 'B', 'C']], ['without', ['C']]])('is checked by a tape more than makes the corners, %s the base line among them', (_, names) => {
    const corners = names.map((name) => ({ name }));
    expect(isChecked({ ties: { corners, residuals: two } })).toBe(false);
    expect(isChecked({ ties: { corners, residuals: [...two, tape('A', 'C')] } })).toBe(true);
  });

  it('is nothing where nothing was taped', () => {
    expect(residualsOf(null)).toEqual([]);
    expect(residualsOf({ ties: null })).toEqual([]);
    expect(residualsOf({ ties: { corners: [], residuals: two } })).toHaveLength(2);
  });
});

describe('what the core says of a shape', () => {
  it('is read where it is there', () => {
    expect(areasOf({ offsets: { trapezoid_m2: 4, simpson_m2: 4.1 } })).toEqual({ trapezoid_m2: 4, simpson_m2: 4.1 });
    expect(areasOf({ offsets: null })).toBeNull();
    expect(sidesOf({ sides: [{ side: '1', length_m: 3 }] })).toEqual([{ side: '1', length_m: 3 }]);
    expect(sidesOf(undefined)).toEqual([]);
  });

  it('says batches of what is mixed here, by the parts there are', () => {
    const parts = { cement_kg: 48, sand_kg: 150, stone_kg: 0, dye_kg: 4.4 };
    const batch = { cement_kg: 24, sand_kg: 75, stone_kg: 0, dye_kg: 2.2 };
    expect(batchesOf({ concrete: null, mortar: { m3: 0.1, batches: 2, all: parts, batch } })).toEqual([
      { mix: 'mortar', m3: 0.1, count: 2, parts: [
        { part: 'cement_kg', batch: 24, all: 48 }, { part: 'sand_kg', batch: 75, all: 150 }, { part: 'dye_kg', batch: 2.2, all: 4.4 },
      ] },
    ]);
    expect(batchesOf(null)).toEqual([]);
  });

  it('asks for one answer to a caution, however often it stands', () => {
    const caution = (code: string, answer_needed: boolean) => ({ code, answer_needed });
    expect(toAnswer({ cautions: [caution('a', true), caution('b', false), caution('a', true)] })).toEqual(['a']);
  });
});
