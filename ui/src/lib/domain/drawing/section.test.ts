import { describe, expect, it } from 'vitest';

import type { Section } from '../../generated/types';
import { bandPath, blocks, sand, stones, type Band } from './materials';
import { figureFits, placeSection } from './section';

const section: Section = {
  layers: [
    { layer: 'surface', lift: null, thickness_mm: 60, measured_mm: null, state: 'planned', stage: 'lay' },
    { layer: 'bed', lift: null, thickness_mm: 40, measured_mm: null, state: 'planned', stage: 'screed' },
    { layer: 'sub_base', lift: 1, thickness_mm: 100, measured_mm: null, state: 'in_work', stage: 'sub_base' },
    { layer: 'formation', lift: null, thickness_mm: 0, measured_mm: null, state: 'done', stage: 'excavate' },
  ],
  width_m: 1.2, drop_mm: 20, crossfall_one_in: 60, ground_above_finished_mm: -15,
};
const room = { width: 220, height: 300, em: 17, annotated: true };

describe('placing a section', () => {
  it('draws every layer to the same scale', () => {
    const placed = placeSection(section, room);
    for (const { layer, band } of placed.layers) {
      expect(band.depth).toBeCloseTo(layer.thickness_mm * placed.scale, 9);
    }
  });

  it('stacks layers without gaps, from the surface down to the formation', () => {
    const { layers } = placeSection(section, room);
    layers.slice(1).forEach(({ band }, i) => {
      const over = layers[i]?.band;
      expect(band.y).toBeCloseTo((over?.y ?? 0) + (over?.depth ?? 0), 9);
    });
  });

  it('falls by the drop at the scale of the depth', () => {
    const { layers, scale } = placeSection(section, room);
    const band = layers[0]?.band as Band;
    expect(band.slope * band.width).toBeCloseTo(20 * scale, 9);
  });

  it.each([-80, -15, 0, 90])('keeps everything on the sheet with the ground at %d', (ground) => {
    for (const drop of [-30, 0, 20]) {
      const placed = placeSection({ ...section, ground_above_finished_mm: ground, drop_mm: drop }, room);
      const ys = placed.layers.flatMap(({ band }) => [band.y, band.y + band.depth + band.slope * band.width]);
      ys.push(...placed.ground.left.map(([, y]) => y), ...placed.ground.right.map(([, y]) => y));
      if (ground > -81) expect(Math.min(...ys)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...ys)).toBeLessThanOrEqual(room.height);
    }
  });

  it('marks one tick more than there are thicknesses', () => {
    expect(placeSection(section, room).ticks).toHaveLength(4);
  });

  it('survives a build-up of nothing', () => {
    const placed = placeSection({ ...section, layers: [] }, { ...room, width: 20 });
    expect(Number.isFinite(placed.scale)).toBe(true);
  });

  it('knows when a figure has no room between its ticks', () => {
    expect(figureFits(40, '100', 17)).toBe(true);
    expect(figureFits(20, '100', 17)).toBe(false);
  });
});

describe('materials', () => {
  const band: Band = { x: 10, y: 20, width: 120, depth: 40, slope: 0.1 };
  const places = (path: string) =>
    [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])] as const);

  it.each([
    ['stones', stones(band, 3)],
    ['sand', sand(band, 3).fine + sand(band, 3).coarse],
    ['blocks', blocks(band, 5, 2)],
  ])('%s stay inside their layer', (_, path) => {
    expect(places(path).length).toBeGreaterThan(20);
    for (const [x, y] of places(path)) {
      const v = y - band.y - band.slope * (x - band.x);
      expect(x).toBeGreaterThanOrEqual(band.x - 1.2);
      expect(x).toBeLessThanOrEqual(band.x + band.width + 1.2);
      expect(v).toBeGreaterThanOrEqual(-1.2);
      expect(v).toBeLessThanOrEqual(band.depth + 1.2);
    }
  });

  it('are the same every time they are drawn', () => {
    expect(stones(band, 3)).toBe(stones(band, 3));
    expect(stones(band, 3)).not.toBe(stones(band, 4));
  });

  it('outline a band by its four corners', () => {
    expect(bandPath(band)).toBe('M10 20L130 32L130 72L10 60Z');
  });
});
