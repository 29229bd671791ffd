import type { DipView } from '../../generated/types';
import { toSheet, type Point, type View } from './view';

/** A dip's words beside its cross, where they hide no other; the cross alone where there is no room. */
export interface PlacedDip {
  dip: DipView;
  place: Point;
  label: Label | null;
}

/** Where words stand, and which part of them. */
export interface Label {
  place: Point;
  anchor: 'start' | 'end' | 'middle';
}

interface Box {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

const LETTER = 0.58; // of the letters' size, the width of one
const CROSS = 4; // half the width of a cross

/** Words and their place on the sheet; of those that stand there already, their middle. */
export interface Standing {
  place: Point;
  text: string;
}

/** Places the words of dips, newest first, beside, below or above their crosses. */
export function placeDips(
  view: View, dips: readonly DipView[], wordsOf: (dip: DipView) => string, em: number, standing: readonly Standing[] = [],
): PlacedDip[] {
  const newest = dips.map((dip) => ({ dip, place: toSheet(view, [dip.x_m, dip.y_m]), text: wordsOf(dip) })).reverse();
  const labels = placeWords(newest, em, standing);
  return newest.map(({ dip, place }, i) => ({ dip, place, label: labels[i] ?? null }));
}

/** Places words by their places on the sheet, the first ones first; none where they would hide others. */
export function placeWords(words: readonly Standing[], em: number, standing: readonly Standing[] = []): (Label | null)[] {
  const taken = new Taken();
  for (const { place: [x, y], text } of standing) {
    const half = (text.length * em * LETTER) / 2;
    taken.add({ x0: x - half, x1: x + half, y0: y - em / 2, y1: y + em / 2 });
  }
  const own = words.map(({ place: [x, y] }): Box => ({ x0: x - CROSS, y0: y - CROSS, x1: x + CROSS, y1: y + CROSS }));
  own.forEach((box) => taken.add(box));
  return words.map(({ place, text }, i) => {
    const width = text.length * em * LETTER;
    const free = choices(place, width, em).find(({ box }) => taken.free(box, own[i]));
    if (!free) return null;
    taken.add(free.box);
    return { place: free.place, anchor: free.anchor };
  });
}

/** A figure and the places on its line where it may stand. */
export interface OnLine {
  text: string;
  places: readonly Point[];
}

/** Places a figure on each line, in the first of its places where it hides nothing; none where there is no room. */
export function placeOnLines(lines: readonly OnLine[], em: number, standing: readonly Standing[]): (Point | null)[] {
  const taken = new Taken();
  const box = ([x, y]: Point, text: string): Box => {
    const half = (text.length * em * LETTER) / 2;
    return { x0: x - half, x1: x + half, y0: y - em / 2, y1: y + em / 2 };
  };
  for (const { place, text } of standing) taken.add(box(place, text));
  return lines.map(({ text, places }) => {
    const free = places.find((place) => taken.free(box(place, text), undefined));
    if (free) taken.add(box(free, text));
    return free ?? null;
  });
}

/** The middle of words that were placed. */
export function middleOf({ place: [x, y], anchor }: Label, text: string, em: number): Point {
  const half = (text.length * em * LETTER) / 2;
  return [anchor === 'start' ? x + half : anchor === 'end' ? x - half : x, y - em * 0.35];
}

function choices([x, y]: Point, width: number, em: number): (Label & { box: Box })[] {
  const box = (x0: number, y0: number): Box => ({ x0, y0, x1: x0 + width, y1: y0 + em });
  return [
    { place: [x + 7, y + em * 0.35], anchor: 'start', box: box(x + 7, y - em * 0.5) },
    { place: [x - 7, y + em * 0.35], anchor: 'end', box: box(x - 7 - width, y - em * 0.5) },
    { place: [x + 5, y + em * 1.2], anchor: 'start', box: box(x + 5, y + em * 0.3) },
    { place: [x - 5, y + em * 1.2], anchor: 'end', box: box(x - 5 - width, y + em * 0.3) },
    { place: [x + 5, y - em * 0.5], anchor: 'start', box: box(x + 5, y - em * 1.35) },
    { place: [x - 5, y - em * 0.5], anchor: 'end', box: box(x - 5 - width, y - em * 1.35) },
    { place: [x, y + em * 1.25], anchor: 'middle', box: box(x - width / 2, y + em * 0.35) },
    { place: [x, y - em * 0.6], anchor: 'middle', box: box(x - width / 2, y - em * 1.45) },
  ];
}

const CELL = 64; // pixels; a drawing of thousands of dips is looked through cell by cell

/** What is taken on the sheet. */
class Taken {
  private readonly cells = new Map<string, Box[]>();

  add(box: Box): void {
    for (const key of keys(box)) {
      const cell = this.cells.get(key);
      if (cell) cell.push(box);
      else this.cells.set(key, [box]);
    }
  }

  free(box: Box, own: Box | undefined): boolean {
    return keys(box).every((key) => !this.cells.get(key)?.some((other) => other !== own && overlap(other, box)));
  }
}

function keys({ x0, y0, x1, y1 }: Box): string[] {
  const list: string[] = [];
  for (let x = Math.floor(x0 / CELL); x <= Math.floor(x1 / CELL); x += 1) {
    for (let y = Math.floor(y0 / CELL); y <= Math.floor(y1 / CELL); y += 1) list.push(`${x},${y}`);
  }
  return list;
}

function overlap(a: Box, b: Box): boolean {
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}
