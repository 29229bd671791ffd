import { describe, expect, it } from 'vitest';

import type { Evidence } from '../generated/types';
import { wayOf } from './ways';

const line = (code: string, values: Evidence['says']['values'] = {}, more: Partial<Evidence> = {}): Evidence =>
  ({ met: false, check: null, says: { code, text: code, values }, ...more }) as Evidence;

describe('the way from a line of the gate to where it is logged', () => {
  it('leads to the dip of the very lift', () => {
    expect(wayOf('7', line('next.dips_first_lift', { layer: '@layer.sub_base', lift: 2, count: 3 }))).toMatchObject({
      href: '#/job/7/dip', aim: { tool: 'dip', layer: 'sub_base', lift: 2 },
    });
  });
  it('leads to passes over a layer that has no lifts', () => {
    expect(wayOf('7', line('next.passes', { layer: '@layer.formation', lift: 0 }))).toMatchObject({
      href: '#/job/7/pass', aim: { tool: 'pass', layer: 'formation', lift: null },
    });
  });
  it('leads to the photo and to the record', () => {
    expect(wayOf('7', line('next.photo'))?.href).toBe('#/job/7/photo');
    expect(wayOf('7', line('next.record'))?.href).toBe('#/job/7/papers/record');
  });
  it('is none for a line that is met, or that the person answers', () => {
    expect(wayOf('7', line('next.photo', {}, { met: true }))).toBeNull();
    expect(wayOf('7', line('next.soft_spots_done', {}, { check: 'soft_spots_done' }))).toBeNull();
  });
});
