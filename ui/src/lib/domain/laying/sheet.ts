import type { LabelView, LayingProblem, LayingView } from '../../generated/types';
import { boundsOf, toSheet, type Point, type View } from '../drawing/view';

/** The corners that a drawing of a laying must hold. */
export function corners({ bounds_m: [low, high] }: Pick<LayingView, 'bounds_m'>): Point[] {
  return [low, high];
}

/** How paths of the core, in their own units with y upwards, lie on the sheet. */
export function onSheet({ scale, x, y, turned }: View, unit_m: number): string {
  const k = scale * unit_m;
  return turned ? `matrix(0 ${-k} ${-k} 0 ${x} ${y})` : `matrix(${k} 0 0 ${-k} ${x} ${y})`;
}

/** The width of the lines round blocks: fine where blocks are small on the sheet. */
export function lineWidth({ scale }: View): number {
  return Math.min(1.3, Math.max(0.3, scale * 0.006));
}

/** How a picture that was drawn at one view is moved and scaled, about the sheet's corner, to lie as at another. */
export function carried(drawn: View, view: View): { x: number; y: number; scale: number } {
  const scale = view.scale / drawn.scale;
  return { scale, x: view.x - drawn.x * scale, y: view.y - drawn.y * scale };
}

/** Whether a picture that reaches over its room by so much still fills it at another view, and is not too coarse there. */
export function covers(drawn: View, view: View, room: Point, over: Point): boolean {
  const { x, y, scale } = carried(drawn, view);
  if (drawn.turned !== view.turned || scale > 2.5) return false;
  return [x, y].every((at, i) => {
    const [size, beyond] = [room[i] ?? 0, over[i] ?? 0];
    return at - beyond * scale <= 0.5 && at + (size + beyond) * scale >= size - 0.5;
  });
}

export interface PlacedNumber {
  text: string;
  place: Point;
}

/** The numbers of the courses that have room, and always that of the course in hand. */
export function placeNumbers(view: View, { numbers, bounds_m }: Pick<LayingView, 'numbers' | 'bounds_m'>, em: number, hand: number | null): PlacedNumber[] {
  const placed = numbers.map((label) => ({ text: label.text, place: aside(view, bounds_m, label, em) }));
  const own = placed.find(({ text }) => text === String(hand));
  const shown: PlacedNumber[] = own ? [own] : [];
  const near = (p: PlacedNumber) => shown.some((other) => Math.hypot(other.place[0] - p.place[0], other.place[1] - p.place[1]) < em * 1.3);
  for (const number of placed) if (number !== own && !near(number)) shown.push(number);
  return shown;
}

/** A number stands clear of the paving's box, whatever the scale. */
function aside(view: View, bounds: LayingView['bounds_m'], { x_m, y_m }: LabelView, em: number): Point {
  const { left, right, bottom, top } = boundsOf(bounds);
  const step: Point = x_m < left ? [-1, 0] : x_m > right ? [1, 0] : y_m < bottom ? [0, -1] : y_m > top ? [0, 1] : [0, 0];
  const [x, y] = toSheet(view, [x_m, y_m]);
  const [dx, dy] = toSheet({ ...view, x: 0, y: 0, scale: 1 }, step);
  return [x + dx * em * 0.6, y + dy * em * 0.6];
}

export interface Marked {
  /** Its number in the list of problems, from 1. */
  number: number;
  problem: LayingProblem;
  place_m: Point;
}

/** The problems that have a place on the drawing, by their number in the list. */
export function marked(problems: readonly LayingProblem[]): Marked[] {
  return problems.flatMap((problem, i) => (problem.place_m ? [{ number: i + 1, problem, place_m: problem.place_m }] : []));
}
