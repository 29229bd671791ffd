import { describe, expect, it } from 'vitest';

import { emptyForm, fromPlan, toPlan, type PlanForm } from './form';

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

describe('a plan and its form', () => {
  it('come back to the same plan, with what the form cannot show', () => {
    const form = fromPlan(strip) as PlanForm;
    expect(toPlan(form)).toEqual(strip);
    expect(form.pieces).toHaveLength(2);
    expect(form.levelEnd).toBe('-30');
    expect(Object.keys(form.rest).sort()).toEqual(['allowances', 'edges', 'fairfall_plan', 'holes'].filter((k) => k !== 'fairfall_plan').sort());
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

  it('tell no crossfall from one not given', () => {
    expect(toPlan({ ...emptyForm(), fall: 'none' }).surface).toEqual({ crossfall_one_in: null });
    expect(toPlan(emptyForm()).surface).toBeUndefined();
    expect(fromPlan({ ...strip, surface: { crossfall_one_in: null } })?.fall).toBe('none');
  });

  it('put the end level at the end of the edge', () => {
    const form: PlanForm = { ...emptyForm(), length: '7.35', width: '1', levelEnd: '-60' };
    expect(toPlan(form).surface).toEqual({ edge_levels: [{ at_m: 7.35, mm: -60 }] });
  });

  it.each([
    ['a shape by ties', { ...strip, outline: { ties: { base_m: 3, corners: [] } } }],
    ['a level in the middle of the edge', { ...strip, surface: { edge_levels: [{ at_m: 0, mm: 0 }, { at_m: 3, mm: -10 }, { at_m: 6, mm: -30 }] } }],
    ['a piece with a key of its own', { ...strip, outline: { strip: { ...strip.outline.strip, edge: [{ straight_m: 2, kerb: true }] } } }],
    ['no plan at all', 'text'],
  ])('refuse to show %s half', (_, plan) => {
    expect(fromPlan(plan)).toBeNull();
  });

  it('leave a bond at an angle alone', () => {
    const plan = { ...strip, bond: { pattern: 'herringbone_45', along: 30 } };
    expect(toPlan(fromPlan(plan) as PlanForm)).toEqual(plan);
  });
});
