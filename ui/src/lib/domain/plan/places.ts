import type { Problem } from '../../generated/types';
import type { Step } from '../../state/route';
import { say, type Key } from '../../words/say';
import { BAGGED, bagKey, BEYOND, HELD, RATES } from './supply';

/** Where a problem of the plan stands on the phone: on which page, and in words, at what. */
export interface PlanPlace {
  step: Step;
  words: string;
}

/** A list of the plan file: its page, what one row of it is called, and its cells by their key. */
interface Listed {
  at: string;
  step: Step;
  row: Key;
  cells: Record<string, Key>;
}

const XY = { x_m: 'cell.x', y_m: 'cell.y', mm: 'cell.mm' } as const;
const CURVE = { radius_m: 'shape.radius', turn: 'shape.turn' } as const;

const MACHINE = {
  name: 'plant.name', kind: 'plant.kind', rating: 'plant.rating', mass_kg: 'plant.mass', contact_m2: 'plant.contact',
  frame_length_mm: 'plant.frame', width_mm: 'plant.width', overlap_mm: 'plant.overlap', speed_m_per_min: 'plant.speed',
  vibration_m_s2: 'plant.vibration', vibration: 'plant.vibration_how',
} as const;
const OFFER: Record<string, Key> = {
  what: 'prices.what', supplier: 'prices.supplier', sold_in: 'prices.sold_in', price_minor: 'prices.price',
  ...Object.fromEntries(HELD.map((key) => [key, 'prices.holds' as const])),
};
const ROLL = { lap_mm: 'membranes.lap', roll_width_m: 'membranes.roll_width', roll_length_m: 'membranes.roll_length' } as const;

const LISTS: readonly Listed[] = [
  { at: '/outline/strip/edge', step: 'shape', row: 'shape.piece_n', cells: { straight_m: 'shape.length', arc_m: 'shape.arc', ...CURVE } },
  { at: '/outline/boundary/sides', step: 'shape', row: 'shape.side_n', cells: { 'to/0': 'cell.x', 'to/1': 'cell.y', 'arc_to/0': 'cell.x', 'arc_to/1': 'cell.y', ...CURVE } },
  { at: '/outline/ties/corners', step: 'shape', row: 'ties.corner_n', cells: { name: 'ties.name', a_m: 'ties.a', b_m: 'ties.b', side: 'ties.side' } },
  { at: '/outline/ties/checks', step: 'shape', row: 'ties.check_n', cells: { from: 'ties.from', to: 'ties.to', measured_m: 'ties.measured' } },
  { at: '/outline/offsets/stations', step: 'shape', row: 'offsets.station_n', cells: { at_m: 'offsets.at', left_m: 'hand.left', right_m: 'hand.right' } },
  { at: '/holes', step: 'shape', row: 'hole_n', cells: {
    'circle/x_m': 'cell.x', 'circle/y_m': 'cell.y', 'circle/radius_m': 'hole.radius', 'rectangle/x_m': 'cell.x', 'rectangle/y_m': 'cell.y',
    'rectangle/length_m': 'shape.length', 'rectangle/width_m': 'shape.width', 'rectangle/turn_deg': 'hole.turn',
  } },
  { at: '/surface/edge_levels', step: 'levels', row: 'levels.level_n', cells: { at_m: 'levels.at', mm: 'cell.mm' } },
  { at: '/surface/far_levels', step: 'levels', row: 'levels.far_n', cells: { at_m: 'levels.at', mm: 'cell.mm' } },
  { at: '/surface/spots', step: 'levels', row: 'levels.spot_n', cells: XY },
  { at: '/ground/spots', step: 'levels', row: 'levels.ground_spot_n', cells: XY },
  { at: '/against', step: 'levels', row: 'against.wall_n', cells: { edge: 'against.edge', damp_course_mm: 'against.damp', threshold_mm: 'against.threshold' } },
  { at: '/plant', step: 'layers', row: 'plant.machine_n', cells: MACHINE },
  { at: '/vehicles', step: 'layers', row: 'vehicles.n', cells: { name: 'vehicles.name', kind: 'vehicles.kind', volume_m3: 'vehicles.volume', mass_t: 'vehicles.mass' } },
  { at: '/orders/offers', step: 'layers', row: 'prices.offer_n', cells: OFFER },
];

/** Objects of the plan file whose members are of one kind, all on the page of the build-up: what they are called together, and one by one. */
const KINDS: readonly { at: string; of: Key; cells: Record<string, Key> }[] = [
  { at: '/bags', of: 'bags', cells: Object.fromEntries(BAGGED.map((goods) => [bagKey(goods), `bought.${goods}` as const])) },
  { at: '/rates', of: 'hours', cells: Object.fromEntries(RATES.map(({ key, task }) => [key, `task.${task}` as const])) },
  { at: '/orders/allowance_percent', of: 'prices.beyond', cells: Object.fromEntries(BEYOND.map((goods) => [goods, `bought.${goods}` as const])) },
  { at: '/membranes/under_sub_base', of: 'membranes.under_sub_base', cells: ROLL },
  { at: '/membranes/under_bed', of: 'membranes.under_bed', cells: ROLL },
  { at: '/membranes', of: 'membranes', cells: ROLL },
];

/** Everything else that has a field of its own, or a page; the first that begins a place counts. */
const PLACES: readonly [string, Step, Key | null][] = [
  ['/title', 'use', 'plan.title'],
  ['/use', 'use', 'plan.use'],
  ['/parties/customer', 'use', 'plan.customer'],
  ['/parties/place', 'use', 'plan.place'],
  ['/parties/by', 'use', 'plan.by'],
  ['/ground/soil', 'use', 'plan.soil'],
  ['/ground/cbr_percent', 'use', 'plan.cbr'],
  ['/outline/rectangle/length_m', 'shape', 'shape.length'],
  ['/outline/rectangle/width_m', 'shape', 'shape.width'],
  ['/outline/strip/width_m', 'shape', 'shape.width'],
  ['/outline/strip/side', 'shape', 'shape.side'],
  ['/outline/ties/base_m', 'shape', 'ties.base'],
  ['/outline/boundary/start', 'shape', 'boundary.start'],
  ['/outline/boundary/sides', 'shape', 'boundary.sides'],
  ['/outline/strip/edge', 'shape', 'shape.edge'],
  ['/outline/ties/corners', 'shape', 'ties.corners'],
  ['/outline/ties/checks', 'shape', 'ties.checks'],
  ['/outline/offsets/stations', 'shape', 'offsets.stations'],
  ['/outline', 'shape', 'shape.kind'],
  ['/holes', 'shape', 'holes'],
  ['/edges/held', 'shape', 'held'],
  ['/surface/crossfall_one_in', 'levels', 'levels.crossfall'],
  ['/surface/least_fall_one_in', 'levels', 'levels.least_fall'],
  ['/surface/planes/line/from', 'levels', 'planes.from'],
  ['/surface/planes/line/to', 'levels', 'planes.to'],
  ['/surface/planes/left_one_in', 'levels', 'planes.left'],
  ['/surface/planes/right_one_in', 'levels', 'planes.right'],
  ['/surface', 'levels', 'levels.surface'],
  ['/against', 'levels', 'against'],
  ['/answers', 'levels', 'answers'],
  ['/ground/existing_mm', 'levels', 'levels.existing'],
  ['/ground', 'levels', 'levels.ground'],
  ['/layers/bed_mm', 'layers', 'layers.bed'],
  ['/layers/sub_base_mm', 'layers', 'layers.sub_base'],
  ['/layers/surcharge_mm', 'layers', 'allowances.surcharge'],
  ['/layers/lift_mm', 'layers', 'layers.lift'],
  ['/specification', 'layers', 'compact.held'],
  ['/plant', 'layers', 'plant'],
  ['/vehicles/skip', 'layers', 'vehicle.usual_skip'],
  ['/vehicles/barrow', 'layers', 'vehicle.usual_barrow'],
  ['/vehicles', 'layers', 'vehicles'],
  ['/bags', 'layers', 'bags'],
  ['/mixes/concrete', 'layers', 'mixes.concrete'],
  ['/mixes/cement_class', 'layers', 'mixes.cement'],
  ['/mixes/by_hand', 'layers', 'mixes.by'],
  ['/mixes/mixer_l', 'layers', 'mixes.mixer_l'],
  ['/mixes/mortar_m3', 'layers', 'mixes.mortar'],
  ['/mixes/mortar_parts', 'layers', 'mixes.parts'],
  ['/mixes/dye_percent', 'layers', 'mixes.dye'],
  ['/mixes/dye_colour', 'layers', 'mixes.colour'],
  ['/mixes', 'layers', 'mixes'],
  ['/membranes', 'layers', 'membranes'],
  ['/rates', 'layers', 'hours'],
  ['/orders/currency', 'layers', 'prices.currency'],
  ['/orders/allowance_percent', 'layers', 'prices.beyond'],
  ['/orders/offers/concrete', 'layers', 'bought.concrete'],
  ['/orders', 'layers', 'prices'],
  ['/allowances/loose_sand_t_per_m3', 'layers', 'allowances.loose_sand'],
  ['/allowances/ground_t_per_m3', 'layers', 'allowances.ground'],
  ['/allowances/joint_top_up_percent', 'layers', 'allowances.top_up'],
  ['/blocks/count', 'blocks', 'blocks.counted'],
  ['/edges/restraint', 'layers', 'edges.restraint'],
  ['/edges/overdig_mm', 'layers', 'edges.overdig'],
  ['/allowances/swell_percent', 'layers', 'rates.swell'],
  ['/allowances/sub_base_t_per_m3', 'layers', 'rates.sub_base'],
  ['/allowances/bed_t_per_m3', 'layers', 'rates.bed'],
  ['/allowances/joint_sand_t_per_m3', 'layers', 'rates.joint_sand'],
  ['/block/length_mm', 'blocks', 'blocks.length'],
  ['/block/width_mm', 'blocks', 'blocks.width'],
  ['/block/depth_mm', 'blocks', 'blocks.depth'],
  ['/block/joint_mm', 'blocks', 'blocks.joint'],
  ['/block/joint_limits_mm/0', 'blocks', 'blocks.joint_least'],
  ['/block/joint_limits_mm/1', 'blocks', 'blocks.joint_most'],
  ['/block/joint_limits_mm', 'blocks', 'blocks.joint_limits'],
  ['/block', 'blocks', 'blocks.block'],
  ['/bond/along', 'blocks', 'blocks.along'],
  ['/bond/start_mm/0', 'blocks', 'blocks.start_along'],
  ['/bond/start_mm/1', 'blocks', 'blocks.start_across'],
  ['/bond/start_mm', 'blocks', 'blocks.start'],
  ['/bond/keep_laps', 'blocks', 'laid.keep_laps'],
  ['/bond', 'blocks', 'blocks.bond'],
  ['/edges/course', 'blocks', 'edges.course'],
  ['/edges', 'layers', null],
  ['/layers', 'layers', null],
  ['/allowances/blocks_percent', 'blocks', 'rates.blocks'],
  ['/allowances', 'layers', null],
  ['/parties', 'use', null],
];

/** The page and the words of a JSON pointer into a plan file. */
export function placeOf(pointer: string): PlanPlace {
  for (const { at, step, row, cells } of LISTS) {
    const rest = pointer.startsWith(`${at}/`) ? pointer.slice(at.length + 1) : '';
    const [number = '', ...steps] = rest.split('/');
    if (!/^\d+$/.test(number)) continue;
    const name = say(row, { number: Number(number) + 1 });
    const cell = cells[steps.join('/')];
    return { step, words: cell ? say('where.in', { where: name, what: say(cell) }) : name };
  }
  for (const { at, of, cells } of KINDS) {
    const cell = pointer.startsWith(`${at}/`) ? cells[pointer.slice(at.length + 1)] : undefined;
    if (cell) return { step: 'layers', words: say('where.in', { where: say(of), what: say(cell) }) };
  }
  const found = PLACES.find(([at]) => pointer === at || pointer.startsWith(`${at}/`));
  return { step: found?.[1] ?? 'check', words: found?.[2] ? say(found[2]) : plainly(pointer) };
}

/** Choices whose right values the core names by their keys in the plan file; the pages show them as a list. */
const CHOSEN = /^\/(specification|plant\/\d+\/kind|vehicles\/\d+\/kind|orders\/offers\/\d+\/(what|sold_in))$/;

/** A problem as the pages say it: what would be right by what is on the screen, not by keys of the plan file. */
export function onPages(problem: Problem): Problem {
  if (CHOSEN.test(problem.at)) return { ...problem, right: say('problem.from_list') };
  return /^\/orders\/offers\/\d+$/.test(problem.at) ? { ...problem, right: say('problem.one_holds') } : problem;
}

/** A place that no field stands for, as near to words as its keys come. */
function plainly(pointer: string): string {
  const steps = pointer.split('/').slice(1).map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
  const words = steps.map((step) => (/^\d+$/.test(step) ? String(Number(step) + 1) : step.replaceAll('_', ' ')));
  return words.length ? words.join(', ') : say('where.file');
}
