/** A place in the box of a signature: 1000 wide and 400 high, y down. */
export type Place = [number, number];
export type Strokes = Place[][];

export const BOX = { width: 1000, height: 400 } as const;

/** How far a pen moves, in the box, before another place is taken. */
const LEAST_STEP = 4;
/** What the core takes at most. */
const MOST_PLACES = 20_000;

/** A place on the screen as a place in the box; what is drawn outside lies on its edge. */
export function placeIn(box: DOMRectReadOnly, x: number, y: number): Place {
  const within = (part: number, most: number) => Math.round(Math.min(Math.max(part, 0), 1) * most);
  return [within((x - box.left) / box.width, BOX.width), within((y - box.top) / box.height, BOX.height)];
}

/** Strokes with one more place on the last of them, unless it lies where the pen already is. */
export function drawnOn(strokes: Strokes, place: Place): Strokes {
  const last = strokes.at(-1);
  const before = last?.at(-1);
  if (!last || !before) return strokes;
  const moved = Math.hypot(place[0] - before[0], place[1] - before[1]);
  const places = strokes.reduce((sum, stroke) => sum + stroke.length, 0);
  if (moved < LEAST_STEP || places >= MOST_PLACES) return strokes;
  return [...strokes.slice(0, -1), [...last, place]];
}

/** Whether anything is drawn that is more than dots. */
export const isDrawn = (strokes: Strokes): boolean => strokes.some((stroke) => stroke.length > 1);

/** A stroke as a path. */
export const pathOf = (stroke: readonly Place[]): string => `M${stroke.map(([x, y]) => `${x} ${y}`).join('L')}`;

/** Strokes as they were kept; nothing where they are none. */
export function readStrokes(text: string): Strokes {
  try {
    const kept: unknown = JSON.parse(text);
    const isPlace = (p: unknown) => Array.isArray(p) && p.length === 2 && p.every((n) => Number.isInteger(n));
    return Array.isArray(kept) && kept.every((s) => Array.isArray(s) && s.every(isPlace)) ? (kept as Strokes) : [];
  } catch {
    return [];
  }
}
