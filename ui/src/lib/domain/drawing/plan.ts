import type { DimensionView, Drawing, PinView } from '../../generated/types';
import { metres } from '../../words/measure';
import { say } from '../../words/say';
import { at } from './materials';
import { outward, toSheet, type Point, type View } from './view';

/** Everything that a plan view has to keep on the sheet. */
export function extent(drawing: Drawing): Point[] {
  return [...drawing.outline, ...drawing.pins.map((p): Point => [p.x_m, p.y_m])];
}

/** The pins of some names, and those that a string joins to them. */
export function around(drawing: Drawing, names: readonly string[]): Point[] {
  const near = new Set(names);
  for (const { from, to } of drawing.strings) {
    if (names.includes(from)) near.add(to);
    if (names.includes(to)) near.add(from);
  }
  return drawing.pins.filter((pin) => near.has(pin.name)).map((p): Point => [p.x_m, p.y_m]);
}

/** A dimension as drawn: its line beside the paving, ticks across its ends, its figure along it. */
export interface PlacedDimension {
  /** Path data: straight along a straight side, curved along a curved one. */
  line: string;
  reaches: [Point, Point][];
  ticks: [Point, Point][];
  /** Where its figure stands; along a curve, the path that it follows. */
  figure: { text: string; place: Point; turn: number; path: string };
}

const AWAY = 40; // pixels between the paving and its dimension line, past the pins' names
/** From that line out to the middle of its figure, whose letters are so large. */
const figureOut = (em: number) => Math.max(12, em * 0.62);
const LETTER = 0.62; // of the letters' size, a figure's width
const OVERHANG = 1.7; // a figure may be so much longer than the straight line it stands on
const SHORTEST = 24; // pixels a side must have to be dimensioned

/** Places a dimension beside its side; none where the side is too short at this scale. */
export function placeDimension(view: View, ring: readonly Point[], dimension: DimensionView, em: number): PlacedDimension | null {
  const [from, middle, to] = [dimension.from, dimension.middle, dimension.to].map((p) => toSheet(view, p)) as [Point, Point, Point];
  const away = sheetOutward(view, ring, dimension.middle);
  const centre = dimension.radius_m === null ? null : centreOf(from, middle, to);
  /** What it says: in full, or in short where there is little room. */
  const textFor = (room: number) => dimensionTexts(dimension).find((text) => text.length * em * LETTER < room) ?? null;
  const out = figureOut(em);
  return centre ? curved(textFor, out, from, middle, to, centre, away) : straight(textFor, out, from, to, away);
}

function dimensionTexts({ length_m, radius_m }: DimensionView): string[] {
  const length = say('in_m', { m: metres(length_m) });
  return radius_m === null ? [length] : [say('drawing.curve', { m: metres(length_m), r: metres(radius_m) }), length];
}

type TextFor = (room: number) => string | null;

function straight(textFor: TextFor, figureOut: number, from: Point, to: Point, away: Point): PlacedDimension | null {
  const chord = distance(from, to);
  const text = textFor(chord * OVERHANG);
  if (text === null || chord < SHORTEST) return null;
  const along: Point = [(to[0] - from[0]) / chord, (to[1] - from[1]) / chord];
  const side = along[0] * away[1] - along[1] * away[0] > 0 ? 1 : -1;
  const normal: Point = [-along[1] * side, along[0] * side];
  const [a, b] = [step(from, normal, AWAY), step(to, normal, AWAY)];
  return {
    line: `M${at(...step(a, along, -5))}L${at(...step(b, along, 5))}`,
    reaches: [reach(from, normal), reach(to, normal)],
    ticks: [tick(a, along, normal), tick(b, along, normal)],
    figure: { text, place: step([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], normal, figureOut), turn: upright(along), path: '' },
  };
}

function curved(textFor: TextFor, figureOut: number, from: Point, middle: Point, to: Point, centre: Point, away: Point): PlacedDimension | null {
  const radius = distance(centre, middle);
  const out: Point = [(middle[0] - centre[0]) / radius, (middle[1] - centre[1]) / radius];
  const sign = out[0] * away[0] + out[1] * away[1] > 0 ? 1 : -1;
  const turned = angleOver(centre, from, middle) + angleOver(centre, middle, to);
  const [beside, outer] = [radius + sign * AWAY, radius + sign * (AWAY + figureOut)];
  const text = textFor(turned * outer);
  if (text === null || beside < AWAY) return null;
  const normalAt = ([x, y]: Point): Point => [(sign * (x - centre[0])) / radius, (sign * (y - centre[1])) / radius];
  const [n0, n1] = [normalAt(from), normalAt(to)];
  const sweep = cross(from, middle, to) > 0 ? 1 : 0;
  const arc = (r: number, start: Point, end: Point, way: number) =>
    `M${at(...start)}A${r.toFixed(1)} ${r.toFixed(1)} 0 ${turned > Math.PI ? 1 : 0} ${way} ${at(...end)}`;
  // The figure runs from left to right, whichever way its side was drawn.
  const [start, end] = [step(from, n0, AWAY + figureOut), step(to, n1, AWAY + figureOut)];
  const chord: Point = [end[0] - start[0], end[1] - start[1]];
  const forwards = Math.abs(upright(chord) - (Math.atan2(chord[1], chord[0]) * 180) / Math.PI) < 1;
  const [a, b] = [step(from, n0, AWAY), step(to, n1, AWAY)];
  return {
    line: arc(beside, a, b, sweep),
    reaches: [reach(from, n0), reach(to, n1)],
    ticks: [tick(a, [-n0[1], n0[0]], n0), tick(b, [-n1[1], n1[0]], n1)],
    figure: {
      text, place: step(middle, out, sign * (AWAY + figureOut)), turn: upright([-out[1], out[0]]),
      path: forwards ? arc(outer, start, end, sweep) : arc(outer, end, start, 1 - sweep),
    },
  };
}

function reach(place: Point, normal: Point): [Point, Point] {
  return [step(place, normal, 6), step(place, normal, AWAY + 5)];
}

/** The slash across the end of a dimension line, the same way at both ends. */
function tick(place: Point, along: Point, normal: Point): [Point, Point] {
  const slash: Point = [along[0] - normal[0], along[1] - normal[1]];
  return [step(place, slash, -4), step(place, slash, 4)];
}

/** The centre of the circle through three places; none where they lie in a line. */
function centreOf([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): Point | null {
  const d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by));
  if (Math.abs(d) < 1e-3) return null;
  const [a, b, c] = [ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy];
  return [(a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d, (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d];
}

function cross(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

function angleOver(centre: Point, a: Point, b: Point): number {
  const [va, vb] = [Math.atan2(a[1] - centre[1], a[0] - centre[0]), Math.atan2(b[1] - centre[1], b[0] - centre[0])];
  const turn = Math.abs(va - vb);
  return turn > Math.PI ? 2 * Math.PI - turn : turn;
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** A pin's name stands outside the paving. */
export function pinLabel(view: View, ring: readonly Point[], pin: PinView, distance: number): Point {
  const place: Point = [pin.x_m, pin.y_m];
  return step(toSheet(view, place), sheetOutward(view, ring, place), distance);
}

function sheetOutward(view: View, ring: readonly Point[], place: Point): Point {
  const out = outward(ring, place, 8 / view.scale);
  const flat: View = { ...view, x: 0, y: 0, scale: 1 };
  return toSheet(flat, out);
}

function step([x, y]: Point, [dx, dy]: Point, by: number): Point {
  return [x + dx * by, y + dy * by];
}

/** Degrees to turn figures so that they run along a line and never stand on their heads. */
export function upright([dx, dy]: Point): number {
  const turn = (Math.atan2(dy, dx) * 180) / Math.PI;
  if (turn > 89.5) return turn - 180;
  if (turn <= -90.5) return turn + 180;
  return turn;
}
