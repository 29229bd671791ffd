import type { ArcView, OffsetView } from '../../generated/types';
import { wholeMm } from '../../words/measure';
import { at } from './materials';
import type { Point } from './view';

/** What the offsets of a curve are measured from. */
export type ArcFrom = 'chord' | 'tangent';

/** A curve placed on its sheet: the base that is measured along, the curve, and the offsets between. */
export interface PlacedArc {
  height: number;
  base: [Point, Point];
  curve: string;
  offsets: [Point, Point][];
  figures: { place: Point; text: string; anchor: 'middle' | 'end'; strong: boolean }[];
}

const SIDE = 12; // pixels clear at either side
const LETTER = 0.62; // of the letters' size, the width of a figure

/** Places a curve in a width, to one scale both ways, with a figure at each offset that has room. */
export function placeArc(arc: ArcView, from: ArcFrom, width: number, em: number): PlacedArc {
  return from === 'chord' ? overChord(arc, width, em) : besideTangent(arc, width, em);
}

function overChord(arc: ArcView, width: number, em: number): PlacedArc {
  const scale = Math.max(1, width - 2 * SIDE) / arc.chord_m;
  const rise = (arc.rise_mm / 1000) * scale;
  const baseY = em * 1.7 + rise;
  const toSheet = ({ at_m, mm }: OffsetView, side: 1 | -1): Point => [width / 2 + side * at_m * scale, baseY - (mm / 1000) * scale];
  const r = (arc.radius_m * scale).toFixed(1);
  const base: [Point, Point] = [[width / 2 - (arc.chord_m / 2) * scale, baseY], [width / 2 + (arc.chord_m / 2) * scale, baseY]];
  const offsets = arc.from_chord.flatMap((offset) =>
    (offset.at_m === 0 ? ([1] as const) : ([1, -1] as const)).map((side): [Point, Point] => {
      const [x, y] = toSheet(offset, side);
      return [[x, baseY], [x, y]];
    }),
  );
  const figures = spaced(arc.from_chord.slice(0, -1), em, (offset) => toSheet(offset, 1)[0]).map((offset) => {
    const [x, y] = toSheet(offset, 1);
    return { place: [x, y - em * 0.45] as Point, text: wholeMm(offset.mm), anchor: 'middle' as const, strong: offset.at_m === 0 };
  });
  return { height: baseY + em * 0.8, base, curve: `M${at(...base[0])}A${r} ${r} 0 0 1 ${at(...base[1])}`, offsets, figures };
}

function besideTangent(arc: ArcView, width: number, em: number): PlacedArc {
  const last = arc.from_tangent.at(-1) ?? { at_m: 1, mm: 0 };
  const scale = Math.max(1, width - 2 * SIDE - em) / Math.max(last.at_m, last.mm / 1000);
  const baseY = em * 0.8;
  const toSheet = ({ at_m, mm }: OffsetView): Point => [SIDE + at_m * scale, baseY + (mm / 1000) * scale];
  const r = (arc.radius_m * scale).toFixed(1);
  const end = toSheet(last);
  const base: [Point, Point] = [[SIDE, baseY], [SIDE + last.at_m * scale, baseY]];
  const offsets = arc.from_tangent.map((offset): [Point, Point] => {
    const [x, y] = toSheet(offset);
    return [[x, baseY], [x, y]];
  });
  const figures = spaced(arc.from_tangent.filter((o) => o.at_m > 0).reverse(), em, (offset) => toSheet(offset)[0]).map((offset) => {
    const [x, y] = toSheet(offset);
    // Beside the end of its offset, on the outside of the curve however steep it has become.
    return { place: [x - 3, y + em * 1.05] as Point, text: wholeMm(offset.mm), anchor: 'end' as const, strong: false };
  });
  return { height: end[1] + em * 1.5, base, curve: `M${at(...base[0])}A${r} ${r} 0 0 1 ${at(...end)}`, offsets, figures };
}

/** Offsets whose figures do not run into one another; the first is kept always. */
function spaced(offsets: readonly OffsetView[], em: number, across: (offset: OffsetView) => number): OffsetView[] {
  const half = (offset: OffsetView) => (wholeMm(offset.mm).length * em * LETTER) / 2 + em * 0.15;
  const kept: OffsetView[] = [];
  for (const offset of offsets) {
    const last = kept.at(-1);
    if (!last || Math.abs(across(offset) - across(last)) >= half(offset) + half(last)) kept.push(offset);
  }
  return kept;
}
