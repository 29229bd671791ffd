import { numberOrText } from '../../words/typed';

/** One piece of the reference edge, as typed. */
export interface Piece {
  kind: 'straight' | 'curve';
  length: string;
  radius: string;
  turn: 'left' | 'right';
}

/** A plan as typed. What is left empty is left out of the plan, and the core says what it takes instead. */
export interface PlanForm {
  title: string;
  use: '' | 'foot' | 'car';
  customer: string;
  place: string;
  by: string;
  soil: string;
  shape: 'rectangle' | 'strip';
  length: string;
  width: string;
  pieces: Piece[];
  side: 'left' | 'right';
  start: '' | 'square' | 'round';
  end: '' | 'square' | 'round';
  levelStart: string;
  levelEnd: string;
  fall: 'falls' | 'none';
  crossfall: string;
  existing: string;
  bed: string;
  subBase: string;
  blockLength: string;
  blockWidth: string;
  blockDepth: string;
  joint: string;
  pattern: string;
  along: '' | 'edge' | 'across';
  /** What a plan file says beyond this form; it goes back into the plan untouched. */
  rest: Json;
}

export type Json = { [key: string]: unknown };

export const SOILS = [
  'heavy_clay', 'clay', 'silty_clay', 'sandy_clay', 'silt', 'sand', 'sand_well_graded', 'sandy_gravel',
] as const;
export const PATTERNS = ['stretcher', 'herringbone_90', 'herringbone_45', 'basketweave', 'stack'] as const;

/** A form with nothing typed. */
export function emptyForm(): PlanForm {
  return {
    title: '', use: '', customer: '', place: '', by: '', soil: '',
    shape: 'rectangle', length: '', width: '', pieces: [newPiece('straight')], side: 'left', start: '', end: '',
    levelStart: '', levelEnd: '', fall: 'falls', crossfall: '', existing: '',
    bed: '', subBase: '', blockLength: '', blockWidth: '', blockDepth: '', joint: '', pattern: '', along: '', rest: {},
  };
}

export function newPiece(kind: Piece['kind']): Piece {
  return { kind, length: '', radius: '', turn: 'left' };
}

/** The plan file that a form stands for. */
export function toPlan(form: PlanForm): Json {
  const levels = edgeLevels(form).map(({ level }) => level);
  const typed: Json = pruned({
    title: form.title.trim(),
    use: form.use,
    outline: form.shape === 'rectangle'
      ? { rectangle: pruned({ length_m: number(form.length), width_m: number(form.width) }) }
      : { strip: pruned({
          edge: form.pieces.map(piece),
          width_m: number(form.width), side: form.side, start: form.start, end: form.end,
        }) },
    surface: pruned({
      edge_levels: levels.length ? levels : undefined,
      crossfall_one_in: form.fall === 'none' ? null : number(form.crossfall),
    }),
    ground: pruned({ existing_mm: number(form.existing), soil: form.soil }),
    layers: pruned({ bed_mm: number(form.bed), sub_base_mm: number(form.subBase) }),
    block: pruned({
      length_mm: number(form.blockLength), width_mm: number(form.blockWidth),
      depth_mm: number(form.blockDepth), joint_mm: number(form.joint),
    }),
    bond: pruned({ pattern: form.pattern, along: form.along }),
    parties: pruned({ customer: form.customer.trim(), place: form.place.trim(), by: form.by.trim() }),
  });
  for (const key of ['surface', 'ground', 'layers', 'block', 'bond', 'parties']) {
    if (isObject(typed[key]) && Object.keys(typed[key]).length === 0) delete typed[key];
  }
  return merged({ fairfall_plan: 1, ...form.rest }, typed);
}

/** The edge's levels that were typed, each with the field it stands in. */
export function edgeLevels(form: PlanForm): { field: 'start' | 'end'; level: Json }[] {
  const levels: { field: 'start' | 'end'; level: Json }[] = [];
  if (form.levelStart.trim()) levels.push({ field: 'start', level: { at_m: 0, mm: number(form.levelStart) } });
  if (form.levelEnd.trim()) levels.push({ field: 'end', level: { at_m: edgeEnd(form), mm: number(form.levelEnd) } });
  return levels;
}

/** Where the edge ends, for the level there; nothing while a piece of it is no number yet. */
function edgeEnd(form: PlanForm): number | undefined {
  const lengths = form.shape === 'rectangle' ? [form.length] : form.pieces.map((p) => p.length);
  let end = 0;
  for (const length of lengths) {
    const value = number(length);
    if (typeof value !== 'number') return undefined;
    end += value;
  }
  return Math.round(end * 1e6) / 1e6;
}

/** The form for a plan; none where the plan says what this form cannot. */
export function fromPlan(plan: unknown): PlanForm | null {
  if (!isObject(plan)) return null;
  const form = read(plan);
  form.rest = minus(plan, toPlan(form));
  return same(toPlan(form), { fairfall_plan: 1, ...plan }) ? form : null;
}

function read(plan: Json): PlanForm {
  const at = (...path: string[]) =>
    path.reduce<unknown>((value, key) => (isObject(value) ? value[key] : undefined), plan);
  const text = (...path: string[]) => {
    const value = at(...path);
    return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
  };
  const one = <T extends string>(value: string, of: readonly T[], or: T) => of.find((o) => o === value) ?? or;
  const strip = at('outline', 'strip');
  const shape = isObject(strip) ? 'strip' : 'rectangle';
  const levels = at('surface', 'edge_levels');
  const list = Array.isArray(levels) ? (levels as unknown[]).filter(isObject) : [];
  const [first, last] = [list.find((l) => l.at_m === 0), list.find((l) => l.at_m !== 0)];
  const ends = ['', 'square', 'round'] as const;
  const pieces = at('outline', 'strip', 'edge');
  return {
    ...emptyForm(),
    title: text('title'),
    use: one(text('use'), ['', 'foot', 'car'], ''),
    customer: text('parties', 'customer'), place: text('parties', 'place'), by: text('parties', 'by'),
    soil: text('ground', 'soil'),
    shape,
    length: text('outline', 'rectangle', 'length_m'),
    width: text('outline', shape, 'width_m'),
    pieces: Array.isArray(pieces) ? (pieces as unknown[]).map(pieceOf) : [newPiece('straight')],
    side: one(text('outline', 'strip', 'side'), ['left', 'right'], 'left'),
    start: one(text('outline', 'strip', 'start'), ends, ''),
    end: one(text('outline', 'strip', 'end'), ends, ''),
    levelStart: first ? String(first.mm) : '',
    levelEnd: last ? String(last.mm) : '',
    fall: at('surface', 'crossfall_one_in') === null ? 'none' : 'falls',
    crossfall: text('surface', 'crossfall_one_in'),
    existing: text('ground', 'existing_mm'),
    bed: text('layers', 'bed_mm'), subBase: text('layers', 'sub_base_mm'),
    blockLength: text('block', 'length_mm'), blockWidth: text('block', 'width_mm'),
    blockDepth: text('block', 'depth_mm'), joint: text('block', 'joint_mm'),
    pattern: text('bond', 'pattern'),
    along: typeof at('bond', 'along') === 'string' ? one(text('bond', 'along'), ['', 'edge', 'across'], '') : '',
  };
}

function pieceOf(value: unknown): Piece {
  const piece = isObject(value) ? value : {};
  if ('arc_m' in piece) {
    return { kind: 'curve', length: String(piece.arc_m), radius: String(piece.radius_m), turn: piece.turn === 'right' ? 'right' : 'left' };
  }
  return { ...newPiece('straight'), length: String(piece.straight_m) };
}

function piece({ kind, length, radius, turn }: Piece): Json {
  return kind === 'straight'
    ? { straight_m: number(length) ?? '' }
    : pruned({ arc_m: number(length) ?? '', radius_m: number(radius), turn });
}

/** A number, the text as it was typed where it is none, or nothing where nothing was typed. */
function number(typed: string): number | string | undefined {
  return typed.trim() === '' ? undefined : numberOrText(typed);
}

function pruned(value: Json): Json {
  return Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined && v !== ''));
}

function isObject(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function merged(under: Json, over: Json): Json {
  const result: Json = { ...under };
  for (const [key, value] of Object.entries(over)) {
    const below = result[key];
    result[key] = isObject(below) && isObject(value) ? merged(below, value) : value;
  }
  return result;
}

/** What one object says that the other does not say at all. */
function minus(whole: Json, said: Json): Json {
  const rest: Json = {};
  for (const [key, value] of Object.entries(whole)) {
    if (!(key in said)) rest[key] = value;
    else if (isObject(value) && isObject(said[key])) {
      const inner = minus(value, said[key]);
      if (Object.keys(inner).length) rest[key] = inner;
    }
  }
  return rest;
}

function same(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) < 1e-6;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((v, i) => same(v, b[i]));
  if (isObject(a) && isObject(b)) {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    return [...keys].every((key) => same(a[key], b[key]));
  }
  return a === b;
}
