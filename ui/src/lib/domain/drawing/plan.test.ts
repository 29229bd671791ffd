import { describe, expect, it } from 'vitest';

import type { DimensionView, PinView } from '../../generated/types';
import { pinLabel, placeDimension, upright } from './plan';
import { inside, toGround, type Point } from './view';

const ring: Point[] = [[0, 0], [8, 0], [8, 1.2], [0, 1.2]];
/** The places that path data goes to, the numbers of an arc left out. */
const placesOf = (path = '') =>
  [...path.matchAll(/(?:[ML]|[01] [01] )(-?[\d.]+) (-?[\d.]+)(?=[LA]|$)/g)].map((m): Point => [Number(m[1]), Number(m[2])]);

const view = { scale: 60, x: 50, y: 200, turned: false };

describe('dimensions', () => {
  const side: DimensionView = { from: [0, 0], to: [8, 0], middle: [4, 0], length_m: 8, radius_m: null };

  it('lie outside the paving, whichever way the side was drawn', () => {
    for (const dimension of [side, { ...side, from: side.to, to: side.from }]) {
      const placed = placeDimension(view, ring, dimension, 17);
      expect(inside(ring, toGround(view, placed?.figure.place as Point))).toBe(false);
      for (const [, y] of placesOf(placed?.line)) expect(y).toBeCloseTo(240, 6);
    }
  });

  it('are left out where the side is too short to read', () => {
    expect(placeDimension({ ...view, scale: 2 }, ring, side, 17)).toBeNull();
  });

  it('say less where there is little room, and nothing where there is none', () => {
    const curve: DimensionView = { from: [0, 0], to: [8, 0], middle: [4, -0.4], length_m: 8.05, radius_m: 20.2 };
    expect(placeDimension(view, ring, curve, 17)?.figure.text).toBe('8.05 m, R 20.20');
    expect(placeDimension({ ...view, scale: 13 }, ring, curve, 17)?.figure.text).toBe('8.05 m');
    expect(placeDimension({ ...view, scale: 5 }, ring, curve, 17)).toBeNull();
  });

  it('of a curve keep the same distance from it all along', () => {
    // A quarter of a circle of 2 m about (0, 0), paved on its inside.
    const quarter = Array.from({ length: 31 }, (_, i): Point => {
      const angle = (i / 30) * (Math.PI / 2);
      return [2 * Math.cos(angle), 2 * Math.sin(angle)];
    });
    const curve: DimensionView = {
      from: [2, 0], to: [0, 2], middle: [Math.SQRT2, Math.SQRT2], length_m: Math.PI, radius_m: 2,
    };
    const placed = placeDimension(view, [...quarter, [0, 0]], curve, 17);
    const centre: Point = [50, 200];
    const away = (p: Point) => Math.hypot(p[0] - centre[0], p[1] - centre[1]);
    for (const place of placesOf(placed?.line)) expect(away(place)).toBeCloseTo(120 + 40, 0);
    expect(away(placed?.figure.place as Point)).toBeCloseTo(120 + 52, 6);
    expect(placed?.line).toContain('A160.0 160.0 0 0 0');
    expect(placed?.figure.text).toBe('3.14 m, R 2.00');
  });

  it.each([[[1, 0], 0], [[-1, 0], 0], [[0, 1], -90], [[0, -1], -90], [[-1, -1], 45]] as [Point, number][])(
    'read from below or from the right: %j',
    (along, turn) => expect(upright(along)).toBeCloseTo(turn, 6),
  );
});

describe('pins', () => {
  it('have their names outside the paving', () => {
    const pin: PinView = { name: 'R1', x_m: 0, y_m: 0, at_m: 0, finished_mm: 0, formation_mm: -200 };
    expect(inside(ring, toGround(view, pinLabel(view, ring, pin, 16)))).toBe(false);
  });
});
