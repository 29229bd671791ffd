import { isObject, merged, minus, number, objectOf, one, pair, pruned, same, typedOf, typedPair, unlessEmpty, type Json } from './json';
import { emptyLevels, readLevels, sideOut, toAgainst, toGround, toSurface, type LevelsForm } from './levels';
import { edgeEnd, emptyShape, readShape, toHoles, toOutline, type ShapeForm } from './shape';
import { emptySupply, readSupply, toSupply, type SupplyForm } from './supply';

/** A plan as typed. What is left empty is left out of the plan, and the core says what it takes instead. */
export interface PlanForm extends ShapeForm, LevelsForm, SupplyForm {
  title: string;
  use: '' | 'foot' | 'car';
  customer: string;
  place: string;
  by: string;
  soil: string;
  cbr: string;
  bed: string;
  subBase: string;
  surcharge: string;
  blockLength: string;
  blockWidth: string;
  blockDepth: string;
  joint: string;
  jointLeast: string;
  jointMost: string;
  pattern: string;
  along: '' | 'edge' | 'across';
  startAlong: string;
  startAcross: string;
  /** The courses along a curve are laid as mended where their laps are short. */
  keepLaps: boolean;
  course: '' | EdgeCourse;
  restraint: '' | 'haunch' | 'none';
  overdig: string;
  /** Sides that something already holds, by name or number. */
  held: string[];
  swellLeast: string;
  swellMost: string;
  stoneDensity: string;
  bedDensity: string;
  jointDensity: string;
  looseSand: string;
  groundDensity: string;
  topUp: string;
  blocksPercent: string;
  /** What is done about cautions that want an answer, by their code. */
  answers: Record<string, string>;
  /** What a plan file says beyond this form; it goes back into the plan untouched. */
  rest: Json;
}

export const SOILS = [
  'heavy_clay', 'clay', 'silty_clay', 'sandy_clay', 'silt', 'sand', 'sand_well_graded', 'sandy_gravel',
] as const;
export const PATTERNS = ['stretcher', 'herringbone_90', 'herringbone_45', 'basketweave', 'stack'] as const;
export const COURSES = ['none', 'soldier', 'header', 'stretcher'] as const;
export type EdgeCourse = (typeof COURSES)[number];

/** A form with nothing typed. */
export function emptyForm(): PlanForm {
  return {
    ...emptyShape(), ...emptyLevels(), ...emptySupply(),
    title: '', use: '', customer: '', place: '', by: '', soil: '', cbr: '',
    bed: '', subBase: '', surcharge: '', blockLength: '', blockWidth: '', blockDepth: '', joint: '', jointLeast: '', jointMost: '',
    pattern: '', along: '', startAlong: '', startAcross: '', keepLaps: false, course: '', restraint: '', overdig: '', held: [],
    swellLeast: '', swellMost: '', stoneDensity: '', bedDensity: '', jointDensity: '', blocksPercent: '',
    looseSand: '', groundDensity: '', topUp: '',
    answers: {}, rest: {},
  };
}

/** The plan file that a form stands for. */
export function toPlan(form: PlanForm): Json {
  const answers = Object.entries(form.answers).map(([code, text]) => [code, text.trim()]);
  const typed: Json = pruned({
    title: form.title.trim(),
    use: form.use,
    outline: toOutline(form),
    holes: toHoles(form.holes),
    surface: toSurface(form, edgeEnd(form)),
    against: toAgainst(form.against),
    answers: unlessEmpty(Object.fromEntries(answers) as Json),
    ground: unlessEmpty({ ...toGround(form), soil: form.soil, cbr_percent: number(form.cbr) }),
    layers: unlessEmpty({ bed_mm: number(form.bed), sub_base_mm: number(form.subBase), surcharge_mm: number(form.surcharge) }),
    block: unlessEmpty({
      length_mm: number(form.blockLength), width_mm: number(form.blockWidth),
      depth_mm: number(form.blockDepth), joint_mm: number(form.joint), joint_limits_mm: pair(form.jointLeast, form.jointMost),
    }),
    bond: unlessEmpty({
      pattern: form.pattern, along: form.along, start_mm: pair(form.startAlong, form.startAcross), keep_laps: form.keepLaps || undefined,
    }),
    edges: unlessEmpty({
      course: form.course, restraint: form.restraint, overdig_mm: number(form.overdig),
      held: form.held.length ? form.held.map(sideOut) : undefined,
    }),
    allowances: unlessEmpty({
      swell_percent: pair(form.swellLeast, form.swellMost), sub_base_t_per_m3: number(form.stoneDensity), bed_t_per_m3: number(form.bedDensity),
      joint_sand_t_per_m3: number(form.jointDensity), blocks_percent: number(form.blocksPercent),
      loose_sand_t_per_m3: number(form.looseSand), ground_t_per_m3: number(form.groundDensity),
      joint_top_up_percent: number(form.topUp),
    }),
    ...toSupply(form),
    parties: unlessEmpty({ customer: form.customer.trim(), place: form.place.trim(), by: form.by.trim() }),
  });
  return merged({ fairfall_plan: 1, ...form.rest }, typed);
}

/** The form for a plan; none where the plan says what this form cannot. */
export function fromPlan(plan: unknown): PlanForm | null {
  if (!isObject(plan)) return null;
  const form = read(plan);
  const whole = inOrder(plan);
  form.rest = minus(whole, toPlan(form));
  return same(toPlan(form), { fairfall_plan: 1, ...whole }) ? form : null;
}

/** The plan with the levels of its edges in their order along them, as the form has them. */
function inOrder(plan: Json): Json {
  if (!isObject(plan.surface)) return plan;
  const surface: Json = { ...plan.surface };
  for (const key of ['edge_levels', 'far_levels']) {
    const list = surface[key];
    const place = (level: unknown) => Number(objectOf(level).at_m);
    if (Array.isArray(list)) surface[key] = (list as unknown[]).slice().sort((a, b) => place(a) - place(b));
  }
  return { ...plan, surface };
}

function read(plan: Json): PlanForm {
  const [block, bond, layers, edges, ground, parties] =
    ['block', 'bond', 'layers', 'edges', 'ground', 'parties'].map((key) => objectOf(plan[key])) as [Json, Json, Json, Json, Json, Json];
  const allowances = objectOf(plan.allowances);
  const [swellLeast, swellMost] = typedPair(allowances.swell_percent);
  const [jointLeast, jointMost] = typedPair(block.joint_limits_mm);
  const [startAlong, startAcross] = typedPair(bond.start_mm);
  const shape = readShape(plan.outline, plan.holes);
  const answers = Object.entries(objectOf(plan.answers)).map(([code, text]) => [code, typedOf(text)]);
  return {
    ...emptyForm(), ...shape, ...readLevels(plan, edgeEnd(shape)), ...readSupply(plan),
    title: typedOf(plan.title),
    use: one(plan.use, ['', 'foot', 'car'], ''),
    customer: typedOf(parties.customer), place: typedOf(parties.place), by: typedOf(parties.by),
    soil: typedOf(ground.soil), cbr: typedOf(ground.cbr_percent),
    bed: typedOf(layers.bed_mm), subBase: typedOf(layers.sub_base_mm), surcharge: typedOf(layers.surcharge_mm),
    blockLength: typedOf(block.length_mm), blockWidth: typedOf(block.width_mm),
    blockDepth: typedOf(block.depth_mm), joint: typedOf(block.joint_mm), jointLeast, jointMost,
    pattern: typedOf(bond.pattern),
    along: one(bond.along, ['', 'edge', 'across'], ''),
    startAlong, startAcross, keepLaps: bond.keep_laps === true,
    course: one(edges.course, ['', ...COURSES], ''), restraint: one(edges.restraint, ['', 'haunch', 'none'], ''),
    overdig: typedOf(edges.overdig_mm), held: Array.isArray(edges.held) ? (edges.held as unknown[]).map(typedOf) : [],
    swellLeast, swellMost, stoneDensity: typedOf(allowances.sub_base_t_per_m3), bedDensity: typedOf(allowances.bed_t_per_m3),
    jointDensity: typedOf(allowances.joint_sand_t_per_m3), blocksPercent: typedOf(allowances.blocks_percent),
    looseSand: typedOf(allowances.loose_sand_t_per_m3), groundDensity: typedOf(allowances.ground_t_per_m3),
    topUp: typedOf(allowances.joint_top_up_percent),
    answers: Object.fromEntries(answers) as Record<string, string>,
  };
}
