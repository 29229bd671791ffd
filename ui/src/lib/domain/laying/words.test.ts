import { describe, expect, it } from 'vitest';

import type { CutSizeFigures } from '../../generated/types';
import { blocksOf, cutName, jointsOf } from './words';

const size = (long_mm: number, short_mm: number): CutSizeFigures => ({ long_mm, short_mm, width_mm: 100, saw_cuts: 1, count: 2, fraction: 0.5 });

describe('a laying in words', () => {
  it('names a cut piece by its sides', () => {
    expect(cutName(size(99, 99))).toBe('99\u00a0×\u00a0100');
    expect(cutName(size(150, 48))).toBe('150 and 48 × 100, end at an angle');
    expect(cutName(size(141, 0))).toBe('141 to a point × 100');
  });

  it('says joints once where they are the same on both sides', () => {
    expect([jointsOf(3, 3.02), jointsOf(3, 6.757)]).toEqual(['3', '3–6.8']);
  });

  it('says what is cut beside what is whole', () => {
    expect([blocksOf({ whole: 43, cut: 1 }), blocksOf({ whole: 20, cut: 0 })]).toEqual(['43\u00a0+\u00a01', '20']);
  });
});
