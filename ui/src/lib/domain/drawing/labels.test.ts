import { describe, expect, it } from 'vitest';

import type { DipView } from '../../generated/types';
import { placeDips } from './labels';

const view = { scale: 60, x: 50, y: 200, turned: false };

describe('the words of dips', () => {
  const dip = (x_m: number, entry: string): DipView => ({
    entry, layer: 'bed', lift: null, x_m, y_m: 0.6, from: 'R1', to: 'F1', at_m: 0.6, raise_mm: 0,
    reading_mm: 0, target_mm: 0, high_mm: 2, word: 'right', superseded: false, at: '', who: '',
  });
  const words = () => 'high 2';

  it('stand beside the dot where there is room', () => {
    const [placed] = placeDips(view, [dip(1, 'a')], words, 17);
    expect(placed?.label?.anchor).toBe('start');
  });

  it('keep clear of the pins\' names', () => {
    const name = { place: [110 + 30, 164] as [number, number], text: 'F2' };
    const [placed] = placeDips(view, [dip(1, 'a')], words, 17, [name]);
    expect(placed?.label?.anchor).toBe('end');
  });

  it('never hide one another; the newest is served first', () => {
    const crowd = Array.from({ length: 12 }, (_, i) => dip(1 + i * 0.1, String(i)));
    const placed = placeDips(view, crowd, words, 17);
    expect(placed[0]?.dip.entry).toBe('11');
    expect(placed[0]?.label).not.toBeNull();
    expect(placed.some((p) => p.label === null)).toBe(true);
    expect(placed).toHaveLength(12);
  });
});
