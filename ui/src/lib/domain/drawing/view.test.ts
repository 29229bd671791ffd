import { describe, expect, it } from 'vitest';

import { fit, inside, outward, pathOf, toGround, toSheet, zoomAt, type Point } from './view';

const path: Point[] = [[0, 0], [8, 0], [8, 1.2], [0, 1.2]];

describe('fitting the ground on the sheet', () => {
  it('turns a long job a quarter on an upright phone', () => {
    expect(fit(path, 360, 600, 40).turned).toBe(true);
    expect(fit(path, 800, 300, 40).turned).toBe(false);
    expect(fit(path, 360, 600, 40, false).turned).toBe(false);
  });

  it.each([[360, 600], [800, 300], [300, 120]])('keeps the margin clear in %d by %d', (width, height) => {
    const view = fit(path, width, height, 40);
    for (const [x, y] of path.map((p) => toSheet(view, p))) {
      expect(x).toBeGreaterThanOrEqual(39.9);
      expect(x).toBeLessThanOrEqual(width - 39.9);
      expect(y).toBeGreaterThanOrEqual(39.9);
      expect(y).toBeLessThanOrEqual(height - 39.9);
    }
  });

  it('does not mirror: left of the line on the ground is left of it on the sheet', () => {
    for (const [width, height] of [[360, 600], [800, 300]] as const) {
      const view = fit(path, width, height, 40);
      const [a, b, c] = [toSheet(view, [0, 0]), toSheet(view, [8, 0]), toSheet(view, [4, 1])];
      const cross = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
      expect(cross).toBeLessThan(0); // y grows downwards on the sheet
    }
  });
});

describe('between ground and sheet', () => {
  it.each([true, false])('comes back to where it was, turned: %s', (turned) => {
    const view = { scale: 73, x: 31, y: 402, turned };
    const [x, y] = toGround(view, toSheet(view, [2.35, -0.8]));
    expect(x).toBeCloseTo(2.35, 9);
    expect(y).toBeCloseTo(-0.8, 9);
  });

  it.each([true, false])('zooms about the finger, turned: %s', (turned) => {
    const view = { scale: 50, x: 10, y: 300, turned };
    const finger: Point = [120, 200];
    const under = toGround(view, finger);
    const again = toGround(zoomAt(view, 2.5, finger, 10, 4000), finger);
    expect(again[0]).toBeCloseTo(under[0], 9);
    expect(again[1]).toBeCloseTo(under[1], 9);
  });

  it('stops zooming at its limits', () => {
    const view = { scale: 50, x: 0, y: 0, turned: false };
    expect(zoomAt(view, 1000, [0, 0], 20, 400).scale).toBe(400);
    expect(zoomAt(view, 0.001, [0, 0], 20, 400).scale).toBe(20);
  });

  it('draws a ring closed and a line open', () => {
    const view = { scale: 10, x: 0, y: 0, turned: false };
    expect(pathOf(view, [[0, 0], [1, 2]], false)).toBe('M0.0 0.0L10.0 -20.0');
    expect(pathOf(view, [[0, 0], [1, 2]], true).endsWith('Z')).toBe(true);
    expect(pathOf(view, [], true)).toBe('');
  });
});

describe('inside and outside', () => {
  it('tells them apart', () => {
    expect(inside(path, [4, 0.6])).toBe(true);
    expect(inside(path, [4, 1.4])).toBe(false);
  });

  it('points away from the paving, at a side and at a corner', () => {
    const [, down] = outward(path, [4, 0], 0.1);
    expect(down).toBeLessThan(-0.99);
    const [x, y] = outward(path, [8, 1.2], 0.1);
    expect(x).toBeGreaterThan(0.5);
    expect(y).toBeGreaterThan(0.5);
  });
});
