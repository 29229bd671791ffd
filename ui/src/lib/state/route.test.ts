import { describe, expect, it } from 'vitest';

import { hrefOf, isAddress, parseRoute, type Route } from './route';

describe('the address of a screen', () => {
  const routes: Route[] = [
    { screen: 'shelf' },
    { screen: 'settings' },
    { screen: 'tables', job: null },
    { screen: 'table', job: null, table: 'levels' },
    { screen: 'tables', job: '0191-ab' },
    { screen: 'table', job: '0191-ab', table: 'curve' },
    { screen: 'plan', job: null, step: 'use' },
    { screen: 'plan', job: null, step: 'levels' },
    { screen: 'plan', job: '0191-ab', step: 'use' },
    { screen: 'plan', job: '0191-ab', step: 'check' },
    { screen: 'place', job: '0191-ab', place: 'today' },
    { screen: 'place', job: '0191-ab', place: 'papers' },
    { screen: 'table', job: null, table: 'vibration' },
    { screen: 'paper', job: '0191-ab', paper: 'record', number: null },
    { screen: 'paper', job: '0191-ab', paper: 'change_note', number: 12 },
    { screen: 'sign', job: '0191-ab', change: null },
    { screen: 'sign', job: '0191-ab', change: 3 },
    { screen: 'tool', job: '0191-ab', tool: 'dip' },
    { screen: 'order', job: '0191-ab' },
    { screen: 'courses', job: '0191-ab' },
    { screen: 'stage', job: '0191-ab', stage: 'restrain_edges' },
  ];

  it.each(routes)('reads back what it wrote: $screen', (route) => {
    expect(parseRoute(hrefOf(route))).toEqual(route);
  });

  it('keeps a job name with signs in it whole', () => {
    const route: Route = { screen: 'tool', job: 'a/b #1 %', tool: 'pass' };
    expect(parseRoute(hrefOf(route))).toEqual(route);
  });

  it.each(['', '#', '#/', '#/nowhere', '#/job', '#/job/'])('opens the shelf for %j', (hash) => {
    expect(parseRoute(hash)).toEqual({ screen: 'shelf' });
  });

  it.each(['#/job/7/', '#/job/7/nowhere', '#/job/7/stage', '#/job/7/stage/dance'])(
    'opens the job itself for %j',
    (hash) => {
      expect(parseRoute(hash)).toEqual({ screen: 'place', job: '7', place: 'today' });
    },
  );

  it.each(['#/job/7/papers/', '#/job/7/papers/nothing'])('opens the papers for %j', (hash) => {
    expect(parseRoute(hash)).toEqual({ screen: 'place', job: '7', place: 'papers' });
  });

  it.each(routes)('knows its own addresses: $screen', (route) => {
    expect(isAddress(hrefOf(route))).toBe(true);
  });

  it.each(['', '#', '#/', '#/new/use', '#/job/7/', '#/job/7/today', '#/job/7/plan/use'])('knows %j', (hash) => {
    expect(isAddress(hash)).toBe(true);
  });

  it.each(['#/nowhere', '#/job', '#/job/7/nowhere', '#/job/7/stage/dance', '#/job/7/papers/nothing', '#/tables/nothing', '#/new/nothing'])('does not know %j', (hash) => {
    expect(isAddress(hash)).toBe(false);
  });

  it('survives an address cut in the middle of a sign', () => {
    expect(parseRoute('#/job/%E0%A4%A')).toEqual({ screen: 'shelf' });
  });
});
