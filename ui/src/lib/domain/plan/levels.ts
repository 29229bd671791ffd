import { isObject, number, objectOf, objectsOf, pruned, same, typedOf, unlessEmpty, type Json } from './json';
import { withSpare, written } from './rows';

/** A level at a place along an edge. */
export type LevelAt = { at: string; mm: string };
/** A level at a place on the ground. */
export type Spot = { x: string; y: string; mm: string };

/** A building that the paving meets. */
export type Wall = { edge: string; damp: string; threshold: string };

/** Two planes that meet in a line, each falling away from it. */
export interface Planes {
  from: Spot;
  to: Spot;
  left: string;
  right: string;
  leftLevel: boolean;
  rightLevel: boolean;
}

/** Levels as typed: the finished surface, the ground before the dig, and the buildings beside it. */
export interface LevelsForm {
  surface: 'edge' | 'spots' | 'planes';
  levelStart: string;
  levelEnd: string;
  levels: LevelAt[];
  fall: 'falls' | 'none' | 'far';
  crossfall: string;
  farStart: string;
  farEnd: string;
  far: LevelAt[];
  spots: Spot[];
  planes: Planes;
  leastFall: string;
  ground: 'one' | 'spots';
  existing: string;
  groundSpots: Spot[];
  against: Wall[];
}

export const LEVEL_CELLS = ['at', 'mm'] as const;
export const SPOT_CELLS = ['x', 'y', 'mm'] as const;

export const newLevel = (): LevelAt => ({ at: '', mm: '' });
export const newSpot = (): Spot => ({ x: '', y: '', mm: '' });
export const newWall = (edge: string): Wall => ({ edge, damp: '', threshold: '' });

export function emptyLevels(): LevelsForm {
  return {
    surface: 'edge', levelStart: '', levelEnd: '', levels: [newLevel()], fall: 'falls', crossfall: '',
    farStart: '', farEnd: '', far: [newLevel()], spots: [newSpot()],
    planes: { from: newSpot(), to: newSpot(), left: '', right: '', leftLevel: false, rightLevel: false },
    leastFall: '', ground: 'one', existing: '', groundSpots: [newSpot()], against: [],
  };
}

/** A level of an edge as it goes into the plan, with the field it was typed in: a row by its number. */
export interface PlacedLevel {
  field: 'start' | 'end' | number;
  level: Json;
}

/** The levels of an edge that were typed, in their order along it. One at the end waits for the edge to have one. */
export function levelsAlong(start: string, between: readonly LevelAt[], end: string, edgeEnd: number | undefined): PlacedLevel[] {
  const placed: PlacedLevel[] = [];
  if (start.trim()) placed.push({ field: 'start', level: { at_m: 0, mm: number(start) } });
  written(between, LEVEL_CELLS).forEach(({ at, mm }, row) => placed.push({ field: row, level: pruned({ at_m: number(at), mm: number(mm) }) }));
  if (end.trim() && edgeEnd !== undefined) placed.push({ field: 'end', level: { at_m: edgeEnd, mm: number(end) } });
  return placed;
}

export function edgeLevels(form: LevelsForm, edgeEnd: number | undefined): PlacedLevel[] {
  return levelsAlong(form.levelStart, form.levels, form.levelEnd, edgeEnd);
}

export function farLevels(form: LevelsForm, edgeEnd: number | undefined): PlacedLevel[] {
  return levelsAlong(form.farStart, form.far, form.farEnd, edgeEnd);
}

/** The plan's `surface` for what is typed. */
export function toSurface(form: LevelsForm, edgeEnd: number | undefined): Json | undefined {
  const least_fall_one_in = number(form.leastFall);
  if (form.surface === 'spots') return pruned({ spots: spotsOut(form.spots), least_fall_one_in });
  if (form.surface === 'planes') return pruned({ planes: planesOut(form.planes), least_fall_one_in });
  const listed = (placed: PlacedLevel[]) => (placed.length ? placed.map(({ level }) => level) : undefined);
  const across = {
    falls: () => ({ crossfall_one_in: number(form.crossfall) }),
    none: () => ({ crossfall_one_in: null }),
    far: () => ({ far_levels: farLevels(form, edgeEnd).map(({ level }) => level) }),
  }[form.fall]();
  return unlessEmpty({ edge_levels: listed(edgeLevels(form, edgeEnd)), ...across, least_fall_one_in });
}

function planesOut({ from, to, left, right, leftLevel, rightLevel }: Planes): Json {
  const fall = (typed: string, level: boolean) => (level ? null : number(typed));
  return pruned({
    line: { from: spotOut(from), to: spotOut(to) }, left_one_in: fall(left, leftLevel), right_one_in: fall(right, rightLevel),
  });
}

const spotOut = ({ x, y, mm }: Spot): Json => pruned({ x_m: number(x), y_m: number(y), mm: number(mm) });
const spotsOut = (spots: readonly Spot[]): Json[] => written(spots, SPOT_CELLS).map(spotOut);

/** The levels of the plan's `ground` for what is typed. */
export function toGround(form: LevelsForm): Json {
  if (form.ground === 'spots') return { spots: spotsOut(form.groundSpots) };
  return pruned({ existing_mm: number(form.existing) });
}

/** The plan's `against` for what is typed; nothing where no building stands by. */
export function toAgainst(walls: readonly Wall[]): Json[] | undefined {
  if (walls.length === 0) return undefined;
  return walls.map(({ edge, damp, threshold }) => pruned({ edge: sideOut(edge), damp_course_mm: number(damp), threshold_mm: number(threshold) }));
}

/** A side by its name, or by its number. */
export function sideOut(side: string): string | number {
  return /^\d+$/.test(side) ? Number(side) : side;
}

/** The form of a plan's levels. What it cannot say comes back otherwise, and is found by comparing. */
export function readLevels(plan: Json, edgeEnd: number | undefined): LevelsForm {
  const form = emptyLevels();
  const [surface, ground] = [objectOf(plan.surface), objectOf(plan.ground)];
  const edge = alongIn(surface.edge_levels, edgeEnd);
  const far = alongIn(surface.far_levels, edgeEnd);
  return {
    ...form,
    surface: 'spots' in surface ? 'spots' : 'planes' in surface ? 'planes' : 'edge',
    levelStart: edge.start, levelEnd: edge.end, levels: edge.between,
    fall: 'far_levels' in surface ? 'far' : surface.crossfall_one_in === null ? 'none' : 'falls',
    crossfall: typedOf(surface.crossfall_one_in),
    farStart: far.start, farEnd: far.end, far: far.between,
    spots: spotsIn(surface.spots), planes: planesIn(surface.planes),
    leastFall: typedOf(surface.least_fall_one_in),
    ground: 'spots' in ground ? 'spots' : 'one',
    existing: typedOf(ground.existing_mm), groundSpots: spotsIn(ground.spots),
    against: objectsOf(plan.against).map((wall) => ({
      edge: typedOf(wall.edge), damp: typedOf(wall.damp_course_mm), threshold: typedOf(wall.threshold_mm),
    })),
  };
}

function alongIn(list: unknown, edgeEnd: number | undefined): { start: string; end: string; between: LevelAt[] } {
  const levels = objectsOf(list).sort((a, b) => Number(a.at_m) - Number(b.at_m));
  const [start] = levels.filter((l) => l.at_m === 0);
  const end = levels.find((l) => l !== start && edgeEnd !== undefined && same(l.at_m, edgeEnd));
  const between = levels.filter((l) => l !== start && l !== end).map((l): LevelAt => ({ at: typedOf(l.at_m), mm: typedOf(l.mm) }));
  return { start: typedOf(start?.mm), end: typedOf(end?.mm), between: withSpare(between, LEVEL_CELLS, newLevel) };
}

function spotsIn(list: unknown): Spot[] {
  return withSpare(objectsOf(list).map(spotIn), SPOT_CELLS, newSpot);
}

function spotIn(spot: Json): Spot {
  return { x: typedOf(spot.x_m), y: typedOf(spot.y_m), mm: typedOf(spot.mm) };
}

function planesIn(value: unknown): Planes {
  if (!isObject(value)) return emptyLevels().planes;
  const line = objectOf(value.line);
  return {
    from: spotIn(objectOf(line.from)), to: spotIn(objectOf(line.to)),
    left: typedOf(value.left_one_in), right: typedOf(value.right_one_in),
    leftLevel: value.left_one_in === null, rightLevel: value.right_one_in === null,
  };
}
