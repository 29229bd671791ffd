import { inList, isObject, number, objectOf, objectsOf, one, pruned, typedOf, type Json } from './json';
import { withSpare, written } from './rows';

export const SHAPES = ['rectangle', 'strip', 'ties', 'boundary', 'offsets'] as const;
export type ShapeKind = (typeof SHAPES)[number];

/** One piece of a strip's edge, as typed. */
export interface Piece {
  kind: 'straight' | 'curve';
  length: string;
  radius: string;
  turn: Hand;
}

export type Hand = 'left' | 'right';

/** One side of a boundary, to its end. */
export interface BoundarySide {
  kind: 'straight' | 'curve';
  x: string;
  y: string;
  radius: string;
  turn: Hand;
}

/** A corner by two tapes. */
export type Tie = { name: string; a: string; b: string; side: Hand };
/** A tape between two corners. */
export type TieCheck = { from: string; to: string; measured: string };
/** How far the shape reaches on both sides of a base line. */
export type Station = { at: string; left: string; right: string };
export type Corner = { x: string; y: string };

/** Something that is not paved: a cover, a gully, a tree. */
export interface Hole {
  kind: 'circle' | 'rectangle' | 'polygon';
  x: string;
  y: string;
  radius: string;
  length: string;
  width: string;
  turn: string;
  corners: Corner[];
  /** Water drains into it. */
  drain: boolean;
}

/** The shape of a plan as typed; every kind keeps what was typed for it while another is chosen. */
export interface ShapeForm {
  shape: ShapeKind;
  length: string;
  width: string;
  pieces: Piece[];
  side: Hand;
  start: '' | 'square' | 'round';
  end: '' | 'square' | 'round';
  startX: string;
  startY: string;
  sides: BoundarySide[];
  base: string;
  corners: Tie[];
  checks: TieCheck[];
  stations: Station[];
  holes: Hole[];
}

/** The cells that make a row count as written. */
export const TIE_CELLS = ['a', 'b'] as const;
export const CHECK_CELLS = ['from', 'to', 'measured'] as const;
export const STATION_CELLS = ['at', 'left', 'right'] as const;
export const CORNER_CELLS = ['x', 'y'] as const;

const HANDS = ['left', 'right'] as const;
const ENDS = ['', 'square', 'round'] as const;

export function emptyShape(): ShapeForm {
  return {
    shape: 'rectangle', length: '', width: '', pieces: [newPiece('straight')], side: 'left', start: '', end: '',
    startX: '', startY: '', sides: [newSide('straight')], base: '', corners: [newTie([])], checks: [newCheck()],
    stations: [newStation()], holes: [],
  };
}

export function newPiece(kind: Piece['kind']): Piece {
  return { kind, length: '', radius: '', turn: 'left' };
}

export function newSide(kind: BoundarySide['kind']): BoundarySide {
  return { kind, x: '', y: '', radius: '', turn: 'left' };
}

/** The next corner: its name is the next letter that is free, its side that of the one before. */
export function newTie(before: readonly Tie[]): Tie {
  const taken = new Set(['A', 'B', ...before.map((c) => c.name.trim())]);
  const letters = Array.from({ length: 24 }, (_, i) => String.fromCharCode(67 + i));
  const name = letters.find((letter) => !taken.has(letter)) ?? `C${before.length + 1}`;
  return { name, a: '', b: '', side: before.at(-1)?.side ?? 'left' };
}

export function newCheck(): TieCheck {
  return { from: '', to: '', measured: '' };
}

export function newStation(): Station {
  return { at: '', left: '', right: '' };
}

export function newCorner(): Corner {
  return { x: '', y: '' };
}

export function newHole(kind: Hole['kind']): Hole {
  return { kind, x: '', y: '', radius: '', length: '', width: '', turn: '', corners: [newCorner()], drain: false };
}

/** The plan's `outline` for what is typed. */
export function toOutline(form: ShapeForm): Json {
  switch (form.shape) {
    case 'rectangle':
      return { rectangle: pruned({ length_m: number(form.length), width_m: number(form.width) }) };
    case 'strip':
      return { strip: pruned({
        edge: form.pieces.map(pieceOut), width_m: number(form.width), side: form.side, start: form.start, end: form.end,
      }) };
    case 'boundary':
      return { boundary: { start: [number(form.startX) ?? 0, number(form.startY) ?? 0], sides: form.sides.map(sideOut) } };
    case 'ties':
      return { ties: pruned({ base_m: number(form.base), corners: tiesOut(form), checks: listed(checksOut(form)) }) };
    case 'offsets':
      return { offsets: { stations: written(form.stations, STATION_CELLS).map(({ at, left, right }) =>
        pruned({ at_m: number(at), left_m: number(left), right_m: number(right) })) } };
  }
}

function pieceOut({ kind, length, radius, turn }: Piece): Json {
  return kind === 'straight'
    ? { straight_m: inList(length) }
    : { arc_m: inList(length), ...pruned({ radius_m: number(radius), turn }) };
}

function sideOut({ kind, x, y, radius, turn }: BoundarySide): Json {
  const place = [inList(x), inList(y)];
  return kind === 'straight' ? { to: place } : pruned({ arc_to: place, radius_m: number(radius), turn });
}

function tiesOut(form: ShapeForm): Json[] {
  return written(form.corners, TIE_CELLS).map(({ name, a, b, side }) => pruned({ name: name.trim(), a_m: number(a), b_m: number(b), side }));
}

function checksOut(form: ShapeForm): Json[] {
  return written(form.checks, CHECK_CELLS).map(({ from, to, measured }) => pruned({ from, to, measured_m: number(measured) }));
}

function listed<T>(list: T[]): T[] | undefined {
  return list.length ? list : undefined;
}

/** The plan's `holes` for what is typed; nothing where there are none. */
export function toHoles(holes: readonly Hole[]): Json[] | undefined {
  return listed(holes.map((hole) => {
    const { x, y, radius, length, width, turn } = hole;
    const place = { x_m: number(x), y_m: number(y) };
    const drain = hole.drain ? { drain: true } : {};
    if (hole.kind === 'circle') return { circle: pruned({ ...place, radius_m: number(radius) }), ...drain };
    if (hole.kind === 'polygon') return { polygon: written(hole.corners, CORNER_CELLS).map((c) => [inList(c.x), inList(c.y)]), ...drain };
    return { rectangle: pruned({ ...place, length_m: number(length), width_m: number(width), turn_deg: number(turn) }), ...drain };
  }));
}

/** The form of a plan's `outline` and `holes`. What it cannot say comes back otherwise, and is found by comparing. */
export function readShape(outline: unknown, holes: unknown): ShapeForm {
  const form = { ...emptyShape(), holes: objectsOf(holes).map(holeOf) };
  const kinds = objectOf(outline);
  const shape = SHAPES.find((kind) => isObject(kinds[kind]));
  if (!shape) return form;
  const said = objectOf(kinds[shape]);
  form.shape = shape;
  switch (shape) {
    case 'rectangle':
      return { ...form, length: typedOf(said.length_m), width: typedOf(said.width_m) };
    case 'strip':
      return {
        ...form, width: typedOf(said.width_m), pieces: objectsOf(said.edge).map(pieceIn),
        side: one(said.side, HANDS, 'left'), start: one(said.start, ENDS, ''), end: one(said.end, ENDS, ''),
      };
    case 'boundary': {
      const [x, y] = Array.isArray(said.start) ? (said.start as unknown[]) : [];
      return { ...form, startX: typedOf(x), startY: typedOf(y), sides: objectsOf(said.sides).map(sideIn) };
    }
    case 'ties': {
      const corners = objectsOf(said.corners).map((c): Tie => ({ name: typedOf(c.name), a: typedOf(c.a_m), b: typedOf(c.b_m), side: one(c.side, HANDS, 'left') }));
      const checks = objectsOf(said.checks).map((c): TieCheck => ({ from: typedOf(c.from), to: typedOf(c.to), measured: typedOf(c.measured_m) }));
      return { ...form, base: typedOf(said.base_m), corners: withSpare(corners, TIE_CELLS, newTie), checks: withSpare(checks, CHECK_CELLS, newCheck) };
    }
    case 'offsets': {
      const stations = objectsOf(said.stations).map((s): Station => ({ at: typedOf(s.at_m), left: typedOf(s.left_m), right: typedOf(s.right_m) }));
      return { ...form, stations: withSpare(stations, STATION_CELLS, newStation) };
    }
  }
}

function pieceIn(piece: Json): Piece {
  if (!('arc_m' in piece)) return { ...newPiece('straight'), length: typedOf(piece.straight_m) };
  return { kind: 'curve', length: typedOf(piece.arc_m), radius: typedOf(piece.radius_m), turn: one(piece.turn, HANDS, 'left') };
}

function sideIn(side: Json): BoundarySide {
  const place = side.arc_to ?? side.to;
  const [x, y] = Array.isArray(place) ? (place as unknown[]) : [];
  return {
    kind: 'arc_to' in side ? 'curve' : 'straight', x: typedOf(x), y: typedOf(y),
    radius: typedOf(side.radius_m), turn: one(side.turn, HANDS, 'left'),
  };
}

function holeOf(hole: Json): Hole {
  const kind = (['circle', 'rectangle', 'polygon'] as const).find((k) => k in hole) ?? 'circle';
  const said = objectOf(hole[kind]);
  const corners = Array.isArray(hole.polygon)
    ? (hole.polygon as unknown[]).map((corner): Corner => {
        const [x, y] = Array.isArray(corner) ? (corner as unknown[]) : [];
        return { x: typedOf(x), y: typedOf(y) };
      })
    : [];
  return {
    kind, x: typedOf(said.x_m), y: typedOf(said.y_m), radius: typedOf(said.radius_m), length: typedOf(said.length_m),
    width: typedOf(said.width_m), turn: typedOf(said.turn_deg), corners: withSpare(corners, CORNER_CELLS, newCorner), drain: hole.drain === true,
  };
}

/** Where the reference edge ends along itself; nothing while a measure of it is no number yet. */
export function edgeEnd(form: ShapeForm): number | undefined {
  switch (form.shape) {
    case 'rectangle':
      return sum([form.length]);
    case 'strip':
      return sum(form.pieces.map((p) => p.length));
    case 'ties':
      return sum([form.base]);
    case 'boundary':
      return firstSide(form);
    case 'offsets':
      return sum([written(form.stations, STATION_CELLS).at(-1)?.at ?? '']);
  }
}

function sum(lengths: readonly string[]): number | undefined {
  let end = 0;
  for (const length of lengths) {
    const value = number(length);
    if (typeof value !== 'number') return undefined;
    end += value;
  }
  return rounded(end);
}

/** The first side of a boundary: its chord, or the arc over it, 2 R asin(c / 2R). */
function firstSide({ startX, startY, sides: [side] }: ShapeForm): number | undefined {
  if (!side) return undefined;
  const [x0, y0, x1, y1] = [number(startX) ?? 0, number(startY) ?? 0, number(side.x), number(side.y)];
  if (typeof x0 !== 'number' || typeof y0 !== 'number' || typeof x1 !== 'number' || typeof y1 !== 'number') return undefined;
  const chord = Math.hypot(x1 - x0, y1 - y0);
  if (side.kind === 'straight') return rounded(chord);
  const radius = number(side.radius);
  if (typeof radius !== 'number' || chord > 2 * radius) return undefined;
  return rounded(2 * radius * Math.asin(chord / (2 * radius)));
}

function rounded(metres: number): number {
  return Math.round(metres * 1e6) / 1e6;
}
