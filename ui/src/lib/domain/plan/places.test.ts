import { describe, expect, it } from 'vitest';

import { placeOf } from './places';

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
  ])('%s is said in words, on its page', (pointer, step, words) => {
    expect(placeOf(pointer)).toEqual({ step, words });
  });

  it.each(['/outline/strip/edge/0/kerb_mm', '/colour', ''])('%j has words too, though no field', (pointer) => {
    const { words } = placeOf(pointer);
    expect(words).not.toMatch(/[/_]/);
    expect(words).not.toBe('');
  });
});
