import { describe, expect, it } from 'vitest';

import { defaultName } from './defaults';
import { onPages, placeOf } from './places';

describe('where a problem of the plan stands', () => {
  it.each([
    ['/title', 'use', 'Name of the job'],
    ['/outline/rectangle/length_m', 'shape', 'Length'],
    ['/outline/ties/corners/2/a_m', 'shape', 'Corner 3, from A, m'],
    ['/outline/ties/checks/0', 'shape', 'Check 1'],
    ['/outline/boundary/sides/1/arc_to/1', 'shape', 'Side 2, Out (y)'],
    ['/outline/boundary/sides', 'shape', 'Sides'],
    ['/outline', 'shape', 'Measured as'],
    ['/holes/1/rectangle/turn_deg', 'shape', 'Opening 2, Turned to the left by'],
    ['/edges/held/0', 'shape', 'Sides that something holds'],
    ['/surface/edge_levels/1/at_m', 'levels', 'Edge level 2, along, m'],
    ['/surface/planes/line/from/mm', 'levels', 'Line, start'],
    ['/against/0/damp_course_mm', 'levels', 'Building 1, Damp course'],
    ['/ground/spots', 'levels', 'Ground as it is'],
    ['/ground/soil', 'use', 'Ground under it'],
    ['/allowances/swell_percent/0', 'layers', 'Swell of the ground when dug'],
    ['/edges/course', 'blocks', 'Course along free edges'],
    ['/block', 'blocks', 'Block'],
    ['/block/joint_limits_mm', 'blocks', 'Joints that may be laid'],
    ['/block/joint_limits_mm/1', 'blocks', 'Widest joint'],
    ['/bond/start_mm/0', 'blocks', 'Shifted along'],
    ['/bond/start_mm', 'blocks', 'Where the pattern starts'],
    ['/specification', 'layers', 'Passes and lifts held against'],
    ['/plant/1/contact_m2', 'layers', 'Machine 2, Contact area'],
    ['/plant', 'layers', 'Plant'],
    ['/vehicles/0/mass_t', 'layers', 'Vehicle 1, May carry'],
    ['/bags/cement_kg', 'layers', 'Bags, Cement'],
    ['/mixes/dye_percent', 'layers', 'Dye in the mortar'],
    ['/membranes/under_bed/lap_mm', 'layers', 'Under the bed, Sheets lap by'],
    ['/layers/surcharge_mm', 'layers', 'Sand spread loose beyond the bed'],
    ['/allowances/ground_t_per_m3', 'layers', 'Ground, in the solid'],
    ['/rates/lay_h_per_m2', 'layers', 'Hours, Bed and lay'],
    ['/orders/currency', 'layers', 'Currency'],
    ['/orders/allowance_percent/dye', 'layers', 'Ordered beyond the need, Dye'],
    ['/orders/offers/0/price_minor', 'layers', 'Offer 1, One costs'],
    ['/orders/offers/2', 'layers', 'Offer 3'],
  ])('%s is said in words, on its page', (pointer, step, words) => {
    expect(placeOf(pointer)).toEqual({ step, words });
  });

  it.each(['/outline/strip/edge/0/kerb_mm', '/colour', '', '/bags/lime_kg', '/orders/ring_before'])('%j has words too, though no field', (pointer) => {
    const { words } = placeOf(pointer);
    expect(words).not.toMatch(/[/_]/);
    expect(words).not.toBe('');
  });
});

describe('what the core took where the plan says nothing', () => {
  it.each([
    ['layers.lift_mm', 'Thickest lift'], ['vehicles.skip', 'Usual skip'], ['membranes.lap_mm', 'Membranes, Sheets lap by'],
    ['orders.offers.concrete', 'Ready-mixed concrete'], ['blocks.count', 'Blocks counted'], ['bags.dye_kg', 'Bags, Dye'],
  ])('%s has the name of its field', (key, name) => expect(defaultName(key)).toBe(name));
});

describe('what would be right', () => {
  const problem = (at: string) => ({ at, problem: 'this is missing', right: 'one of: holds_kg, sub_base' });

  it('is said by what is on the screen where the core names keys of the file', () => {
    expect(onPages(problem('/orders/offers/3/what')).right).toBe('one from the list');
    expect(onPages(problem('/orders/offers/3')).right).toBe('what one of them holds');
    expect(onPages(problem('/orders/offers/3/price_minor'))).toEqual(problem('/orders/offers/3/price_minor'));
  });
});
