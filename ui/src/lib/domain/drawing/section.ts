import type { Section, SectionLayer } from '../../generated/types';
import type { Band } from './materials';

/** The room that a section is drawn in, in pixels. */
export interface SectionRoom {
  width: number;
  height: number;
  /** Size of the letters. */
  em: number;
  /** Draw dimensions, fall and leaders; without them only the layers and the ground. */
  annotated: boolean;
}

/** A layer placed on the sheet. */
export interface PlacedLayer {
  layer: SectionLayer;
  band: Band;
  /** Where its leader starts. */
  dot: [number, number];
}

/** A section placed on the sheet: depth exaggerated, everything else to that one scale. */
export interface PlacedSection {
  /** Pixels for a millimetre of depth. */
  scale: number;
  left: number;
  right: number;
  /** Top first; the formation last, as a band without depth. */
  layers: PlacedLayer[];
  /** The dimension line's place across, and its ticks from the top down. */
  dimensionX: number;
  ticks: number[];
  /** Ground and the sides of the dig, from the outer left over the formation to the outer right. */
  ground: { left: [number, number][]; right: [number, number][] };
  /** Baselines for the fall above and the width below. */
  fallY: number;
  widthY: number;
  /** How many blocks are drawn across. */
  blocks: number;
}

const SIDE = 24; // the ground shown on either side of the dig
const BATTER = 9; // how far the side of the dig leans out
const UNDER = 14; // the ground shown under the formation

/** Places a section in its room. */
export function placeSection(section: Section, room: SectionRoom): PlacedSection {
  const { em, annotated } = room;
  const depth = section.layers.reduce((sum, l) => sum + l.thickness_mm, 0) || 1;
  const above = Math.max(0, section.ground_above_finished_mm);
  const drop = Math.min(Math.abs(section.drop_mm), depth * 0.4) * Math.sign(section.drop_mm);
  const rise = Math.max(0, -drop); // a surface that climbs away from the edge needs room above

  const fallY = annotated ? em * 1.1 : 0;
  const head = annotated ? em * 1.9 : 3;
  const foot = UNDER + (annotated ? em * 1.7 : 0);
  const scale = Math.max(0.05, (room.height - head - foot) / (depth + Math.abs(drop) + above));

  const left = (annotated ? em * 1.85 : 0) + SIDE;
  const right = room.width - SIDE - (annotated ? 10 : 0);
  const across = Math.max(1, right - left);
  const slope = (drop * scale) / across;
  const top = head + (above + rise) * scale;

  let y = top;
  const ticks = [y];
  const layers = section.layers.map((layer): PlacedLayer => {
    const thick = layer.thickness_mm * scale;
    const band: Band = { x: left, y, width: across, depth: thick, slope };
    const along = across - Math.min(12, across * 0.2);
    const dot: [number, number] = [left + along, y + slope * along + thick / 2];
    y += thick;
    if (thick > 0) ticks.push(y);
    return { layer, band, dot };
  });

  const fall = slope * across;
  const groundY = top - section.ground_above_finished_mm * scale;
  const rightGroundY = groundY + fall;
  return {
    scale, left, right, layers, ticks, fallY,
    dimensionX: em * 1.2,
    ground: {
      left: [[left - SIDE, groundY], [left - BATTER, groundY], [left - 2, y]],
      right: [[right + 2, y + fall], [right + BATTER, rightGroundY], [right + SIDE, rightGroundY]],
    },
    widthY: room.height - em * 0.45,
    blocks: Math.min(9, Math.max(3, Math.round(section.width_m / 0.21))),
  };
}

/** Rotated figures of a dimension fit between its ticks; others are left to the text beside. */
export function figureFits(gap: number, figure: string, em: number): boolean {
  return gap >= figure.length * em * 0.62;
}
