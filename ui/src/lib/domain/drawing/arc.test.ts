import { describe, expect, it } from 'vitest';

import type { ArcView } from '../../generated/types';
import { placeArc } from './arc';

/** Hand arithmetic: chord 3.0, R 4.5: rise 257; 229 at 0.5 and 145 at 1.0 from the middle. */
const curve: ArcView = {
  radius_m: 4.5, chord_m: 3, rise_mm: 257.4, length_m: 3.059,
  from_chord: [{ at_m: 0, mm: 257.4 }, { at_m: 0.5, mm: 229.5 }, { at_m: 1, mm: 144.9 }, { at_m: 1.5, mm: 0 }],
  from_tangent: [{ at_m: 0, mm: 0 }, { at_m: 0.5, mm: 27.9 }, { at_m: 1, mm: 112.5 }, { at_m: 1.5, mm: 257.4 }, { at_m: 2, mm: 468.8 }],
};

describe('a curve on its sheet', () => {
  it('stands to one scale over its chord, the same on both sides', () => {
    const { base, offsets } = placeArc(curve, 'chord', 360, 17);
    const scale = (base[1][0] - base[0][0]) / 3;
    const tall = offsets.map(([[, y0], [, y1]]) => (y0 - y1) / scale);
    expect(tall[0]).toBeCloseTo(0.2574, 6);
    expect(offsets).toHaveLength(7);
    for (const [[x], [top]] of offsets) expect(x).toBe(top);
    expect((offsets[1]?.[0][0] ?? 0) + (offsets[2]?.[0][0] ?? 0)).toBeCloseTo(360, 6);
  });

  it.each(['chord', 'tangent'] as const)('has figures that do not run into one another, from the %s', (from) => {
    for (const width of [240, 360]) {
      const { figures } = placeArc(curve, from, width, 17);
      expect(figures.length).toBeGreaterThan(0);
      const xs = figures.map((f) => f.place[0]).sort((a, b) => a - b);
      for (let i = 1; i < xs.length; i += 1) expect((xs[i] as number) - (xs[i - 1] as number)).toBeGreaterThan(25);
    }
  });
});
