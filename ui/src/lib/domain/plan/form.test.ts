import { describe, expect, it } from 'vitest';

import { emptyForm, fromPlan, toPlan, type PlanForm } from './form';
import { edgeEnd, newTie } from './shape';

const strip = {
  fairfall_plan: 1,
  title: 'Path to the greenhouse',
  use: 'foot',
  outline: { strip: {
    edge: [{ straight_m: 2.4 }, { arc_m: 3.6, radius_m: 5.2, turn: 'left' }],
    width_m: 1.3, side: 'right', start: 'square', end: 'round',
  } },
  holes: [{ circle: { x_m: 1, y_m: -0.6, radius_m: 0.3 } }],
  surface: { edge_levels: [{ at_m: 0, mm: 0 }, { at_m: 6, mm: -30 }], crossfall_one_in: 60 },
  ground: { existing_mm: -15, soil: 'sandy_clay' },
  block: { length_mm: 200, width_mm: 100, depth_mm: 60, joint_mm: 3 },
  bond: { pattern: 'stretcher', along: 'edge' },
  edges: { course: 'soldier', restraint: 'haunch', overdig_mm: 100, held: ['reference'] },
  layers: { bed_mm: 40, sub_base_mm: 100 },
  allowances: { swell_percent: [25, 30], sub_base_t_per_m3: 2.2 },
  parties: { customer: 'A. Okafor', place: '7 Mill Lane' },
};

const ties = { ties: {
  base_m: 6,
  corners: [{ name: 'C', a_m: 7.21, b_m: 4, side: 'left' }, { name: 'D', a_m: 4, b_m: 7.21, side: 'left' }],
  checks: [{ from: 'C', to: 'D', measured_m: 6.004 }],
} };
const boundary = { boundary: {
  start: [0, 0],
  sides: [{ to: [5, 0] }, { arc_to: [5, 3], radius_m: 1.5, turn: 'left' }, { to: [0, 3] }, { to: [0, 0] }],
} };
const offsets = { offsets: { stations: [{ at_m: 0, left_m: 1.2 }, { at_m: 2.5, left_m: 1.6, right_m: 0.4 }, { at_m: 5, right_m: 0.5 }] } };

describe('a plan and its form', () => {
  it('come back to the same plan, which the form shows whole', () => {
    const form = fromPlan(strip) as PlanForm;
    expect(toPlan(form)).toEqual(strip);
    expect(form.pieces).toHaveLength(2);
    expect([form.levelStart, form.levelEnd]).toEqual(['0', '-30']);
    expect(form.held).toEqual(['reference']);
    expect(form.rest).toEqual({});
  });

  it.each([
    ['by ties with a tape across', { outline: ties }],
    ['by a boundary with an arc', { outline: boundary }],
    ['by offsets to one side and to both', { outline: offsets }],
    ['with holes of every kind', { outline: boundary, holes: [
      { circle: { x_m: 1, y_m: 1, radius_m: 0.3 }, drain: true },
      { rectangle: { x_m: 2, y_m: 1, length_m: 0.6, width_m: 0.45, turn_deg: 15 } },
      { polygon: [[3, 1], [3.5, 1], [3.2, 1.4]] },
    ] }],
    ['held and walled by number', { outline: boundary, edges: { held: [1, 3] }, against: [{ edge: 1, damp_course_mm: 150, threshold_mm: 20 }, { edge: 3 }] }],
    ['against a building by name', { against: [{ edge: 'far', damp_course_mm: 160 }] }],
    ['with a surface through spots', { surface: { spots: [{ x_m: 0, y_m: 0, mm: 0 }, { x_m: 4, y_m: 0, mm: -50 }, { x_m: 0, y_m: 3, mm: -40 }], least_fall_one_in: 80 } }],
    ['with two planes, one of them level', { surface: { planes: {
      line: { from: { x_m: 0, y_m: 1.5, mm: 0 }, to: { x_m: 5, y_m: 1.5, mm: -60 } }, left_one_in: 60, right_one_in: null,
    } } }],
    ['with the far edge at its own levels', { surface: { edge_levels: [{ at_m: 0, mm: 0 }], far_levels: [{ at_m: 0, mm: -20 }, { at_m: 3, mm: -22 }, { at_m: 6, mm: -60 }] } }],
    ['with levels between the ends of its edge', { surface: { edge_levels: [{ at_m: 0, mm: 0 }, { at_m: 2.4, mm: -10 }, { at_m: 6, mm: -30 }] } }],
    ['with the ground by spots and its CBR', { ground: { spots: [{ x_m: 0, y_m: 0, mm: -10 }, { x_m: 4, y_m: 0, mm: 5 }, { x_m: 2, y_m: 3, mm: 0 }], cbr_percent: 4 } }],
    ['with answers to cautions', { answers: { 'caution.threshold': 'A channel drain along the door.' } }],
    ['with joints between limits and a start of its own', { block: { ...strip.block, joint_limits_mm: [2, 4.5] }, bond: { ...strip.bond, start_mm: [-50, 0] } }],
    ['with every rate', { allowances: { swell_percent: [20, 35], sub_base_t_per_m3: 2.1, bed_t_per_m3: 1.7, joint_sand_t_per_m3: 1.5, blocks_percent: 7 } }],
  ])('come back to the same plan %s', (_, part) => {
    const plan = { ...strip, ...part };
    const form = fromPlan(plan) as PlanForm;
    expect(form).not.toBeNull();
    expect(toPlan(form)).toEqual(plan);
    expect(form.rest).toEqual({});
  });

  it('keep what is typed and nothing more: the rest is the core\'s to fill', () => {
    const form: PlanForm = { ...emptyForm(), title: ' Patio ', use: 'foot', length: '4', width: '3,2' };
    expect(toPlan(form)).toEqual({
      fairfall_plan: 1, title: 'Patio', use: 'foot', outline: { rectangle: { length_m: 4, width_m: 3.2 } },
    });
  });

  it('send what is no number as it was typed', () => {
    const plan = toPlan({ ...emptyForm(), length: '4 m' });
    expect(plan.outline).toEqual({ rectangle: { length_m: '4 m' } });
  });

  it('leave out the blank rows at the end, and keep the numbers of the others', () => {
    const blank = newTie([]);
    const form: PlanForm = { ...emptyForm(), shape: 'ties', base: '6', corners: [{ ...blank, a: '7,21', b: '4' }, { ...blank, name: 'D' }, { ...blank, name: 'E', a: '1' }, { ...blank, name: 'F' }] };
    expect(toPlan(form).outline).toEqual({ ties: {
      base_m: 6,
      corners: [{ name: 'C', a_m: 7.21, b_m: 4, side: 'left' }, { name: 'D', side: 'left' }, { name: 'E', a_m: 1, side: 'left' }],
    } });
  });

  it('say where a measure is missing in a pair that must be one', () => {
    const form: PlanForm = { ...emptyForm(), shape: 'boundary', sides: [{ kind: 'straight', x: '5', y: '', radius: '', turn: 'left' }] };
    expect(toPlan(form).outline).toEqual({ boundary: { start: [0, 0], sides: [{ to: [5, ''] }] } });
  });

  it('keep what was typed for one kind of shape while another is chosen', () => {
    const form: PlanForm = { ...(fromPlan({ ...strip, outline: ties }) as PlanForm), shape: 'rectangle', length: '4', width: '3' };
    expect(toPlan(form).outline).toEqual({ rectangle: { length_m: 4, width_m: 3 } });
    expect(toPlan({ ...form, shape: 'ties' }).outline).toEqual(ties);
  });

  it('tell no crossfall from one not given', () => {
    expect(toPlan({ ...emptyForm(), fall: 'none' }).surface).toEqual({ crossfall_one_in: null });
    expect(toPlan(emptyForm()).surface).toBeUndefined();
    expect(fromPlan({ ...strip, surface: { crossfall_one_in: null } })?.fall).toBe('none');
  });

  it('put the end level at the end of the edge', () => {
    const form: PlanForm = { ...emptyForm(), length: '7.35', width: '1', levelEnd: '-60' };
    expect(toPlan(form).surface).toEqual({ edge_levels: [{ at_m: 7.35, mm: -60 }] });
  });

  it('take levels in any order', () => {
    const plan = { ...strip, surface: { edge_levels: [{ at_m: 6, mm: -30 }, { at_m: 0, mm: 0 }] } };
    const form = fromPlan(plan) as PlanForm;
    expect([form.levelStart, form.levelEnd]).toEqual(['0', '-30']);
  });

  it.each([
    ['a corner with a key of its own', { ...strip, outline: { ties: { ...ties.ties, corners: [{ name: 'C', a_m: 1, b_m: 6, side: 'left', peg: true }] } } }],
    ['a piece with a key of its own', { ...strip, outline: { strip: { ...strip.outline.strip, edge: [{ straight_m: 2, kerb: true }] } } }],
    ['a hole of no known kind', { ...strip, holes: [{ star: { points: 5 } }] }],
    ['no plan at all', 'text'],
  ])('refuse to show %s half', (_, plan) => {
    expect(fromPlan(plan)).toBeNull();
  });

  it('keep the laps where the plan keeps them', () => {
    const plan = { ...strip, bond: { ...strip.bond, keep_laps: true } };
    const form = fromPlan(plan) as PlanForm;
    expect(form.keepLaps).toBe(true);
    expect(toPlan(form)).toEqual(plan);
    expect(toPlan({ ...form, keepLaps: false })).toEqual(strip);
  });

  it('leave out a pair that is empty, and say where one of the two is missing', () => {
    const plan = { ...strip, block: { ...strip.block, joint_limits_mm: [2, 5] }, bond: { ...strip.bond, start_mm: [0, 30] } };
    const form = fromPlan(plan) as PlanForm;
    expect([form.jointLeast, form.jointMost, form.startAlong, form.startAcross]).toEqual(['2', '5', '0', '30']);
    expect(toPlan({ ...form, jointLeast: '', jointMost: ' ', startAlong: '', startAcross: '' })).toEqual(strip);
    expect(toPlan({ ...form, jointMost: '', startAlong: '' })).toMatchObject({ block: { joint_limits_mm: [2, ''] }, bond: { start_mm: ['', 30] } });
  });

  it('leave a bond at an angle alone', () => {
    const plan = { ...strip, bond: { pattern: 'herringbone_45', along: 30 } };
    expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
  });
});

describe('the end of the reference edge', () => {
  const end = (outline: object) => edgeEnd(fromPlan({ ...strip, outline }) as PlanForm);

  it('is where the measures put it', () => {
    expect(end(strip.outline)).toBe(6);
    expect(end(ties)).toBe(6);
    expect(end(boundary)).toBe(5);
    expect(end(offsets)).toBe(5);
  });

  it('lies along the arc of a curved first side', () => {
    // Exact circle geometry: half a circle over a chord of 3 m is 1.5 pi long.
    expect(end({ boundary: { start: [0, 0], sides: [{ arc_to: [3, 0], radius_m: 1.5, turn: 'left' }] } })).toBeCloseTo(1.5 * Math.PI, 5);
  });

  it('is nowhere while a measure is missing', () => {
    expect(edgeEnd({ ...emptyForm(), shape: 'ties', base: 'six' })).toBeUndefined();
    expect(edgeEnd({ ...emptyForm(), shape: 'offsets' })).toBeUndefined();
  });
});

describe('corners by two tapes', () => {
  it('are named by the next letter that is free', () => {
    expect(newTie([]).name).toBe('C');
    expect(newTie([{ name: 'D', a: '', b: '', side: 'right' }, { name: 'C', a: '', b: '', side: 'right' }])).toEqual({ name: 'E', a: '', b: '', side: 'right' });
  });
});
