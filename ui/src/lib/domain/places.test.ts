import { describe, expect, it } from 'vitest';

import { asideWords } from './places';

const beside = (aside_m: number, at_m = 1.2) => ({ from: 'R1', to: 'R2', length_m: 2.4, at_m, aside_m, sag_mm: null });

describe('a place beside its string', () => {
  it('is under it, or to one hand of it', () => {
    expect(asideWords(beside(0.002))).toBe('Under the string, 1.20 m from R1.');
    expect(asideWords(beside(0.3))).toContain('0.30 m to its left');
    expect(asideWords(beside(-0.3))).toContain('0.30 m to its right');
    expect(asideWords(beside(0, 0))).toBe('At R1, under the string.');
    expect(asideWords(beside(0, 2.398))).toBe('At R2, under the string.');
  });
});
