import { describe, expect, it } from 'vitest';

import type { LabelView } from '../../generated/types';
import { toSheet, type Point, type View } from '../drawing/view';
import { carried, covers, onSheet, placeNumbers } from './sheet';

const UNIT = 1e-4;

/** A place of a path under an SVG matrix (SVG 2, section 8.5). */
function through(matrix: string, [x, y]: Point): Point {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = matrix.replace(/[^-\d.e ]|^matrix/g, '').trim().split(' ').map(Number);
  return [a * x + c * y + e, b * x + d * y + f];
}

describe('paths on the sheet', () => {
  it.each([false, true])('lie where their places lie, turned: %s', (turned) => {
    const view: View = { scale: 37, x: 12, y: 340, turned };
    const place: Point = [4.2, -1.7];
    const [x, y] = through(onSheet(view, UNIT), [place[0] / UNIT, place[1] / UNIT]);
    const [wantX, wantY] = toSheet(view, place);
    expect([x, y]).toEqual([expect.closeTo(wantX, 6), expect.closeTo(wantY, 6)]);
  });
});

describe('a picture drawn once', () => {
  const drawn: View = { scale: 40, x: 30, y: 300, turned: false };

  it.each([{ x: 55, y: 290, scale: 40 }, { x: -20, y: 410, scale: 71 }])('is carried to where it would be drawn: %j', (to) => {
    const view = { ...drawn, ...to };
    const { x, y, scale } = carried(drawn, view);
    const [px, py] = toSheet(drawn, [2, 3]);
    const [wantX, wantY] = toSheet(view, [2, 3]);
    expect([px * scale + x, py * scale + y]).toEqual([expect.closeTo(wantX, 9), expect.closeTo(wantY, 9)]);
  });

  it('fills the room until its edge comes in', () => {
    const covered = (to: Partial<View>) => covers(drawn, { ...drawn, ...to }, [300, 400], [150, 200]);
    expect([covered({}), covered({ x: 179 }), covered({ x: 182 }), covered({ y: 101 }), covered({ y: 98 })]).toEqual([true, true, false, true, false]);
    expect(covered({ scale: 10 })).toBe(false);
    expect(covered({ scale: 120 })).toBe(false);
    expect(covered({ turned: true })).toBe(false);
  });
});

describe('the numbers of courses', () => {
  const numbers: LabelView[] = Array.from({ length: 30 }, (_, i) => ({ text: String(i + 1), x_m: -0.08, y_m: i * 0.1 }));
  const laid = { numbers, bounds_m: [[0, 0], [4, 3]] as [[number, number], [number, number]] };
  const view: View = { scale: 60, x: 50, y: 300, turned: false };

  it('stand clear of the paving and of each other', () => {
    const placed = placeNumbers(view, laid, 17, null);
    expect(placed.length).toBeGreaterThan(3);
    expect(placed.every(({ place: [x] }) => x < 50 - 17 * 0.5)).toBe(true);
    const ys = placed.map(({ place }) => place[1]).sort((a, b) => a - b);
    expect(ys.every((y, i) => i === 0 || y - (ys[i - 1] ?? 0) >= 17)).toBe(true);
  });

  it('always has that of the course in hand', () => {
    expect(placeNumbers(view, laid, 17, 14).map(({ text }) => text)).toContain('14');
  });
});
