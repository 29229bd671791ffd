import { describe, expect, it } from 'vitest';

import { trailBack, trailTo } from './trail';

describe('the way back', () => {
  it('grows by each screen and shrinks by each Back', () => {
    let trail = trailTo([], '#/', null);
    trail = trailTo(trail, '#/job/7', null);
    trail = trailTo(trail, '#/job/7/note', null);
    expect(trail).toEqual(['#/', '#/job/7', '#/job/7/note']);
    expect(trailTo(trail, '#/job/7', 1)).toEqual(['#/', '#/job/7']);
    expect(trailTo(trail, '#/', 0)).toEqual(['#/']);
  });

  it('after a reload knows how far along it is, and no more', () => {
    expect(trailTo([], '#/job/7/note', 2)).toEqual(['', '', '#/job/7/note']);
    expect(trailBack(['', '', '#/job/7/note'], '#/job/7')).toEqual({ steps: 1, there: false });
  });

  it('from a note that is kept leads to the job behind it', () => {
    expect(trailBack(['#/', '#/job/7', '#/job/7/note'], '#/job/7')).toEqual({ steps: 1, there: true });
  });

  it('from a place of the job to the shelf leaves the whole job', () => {
    expect(trailBack(['#/', '#/job/7', '#/job/7/drawing'], '#/')).toEqual({ steps: 2, there: true });
  });

  it('from the last page of a plan leaves all its pages', () => {
    const trail = ['#/', '#/new', '#/new/shape', '#/new/check'];
    expect(trailBack(trail, '#/job/7')).toEqual({ steps: 3, there: false });
    expect(trailBack(trail, '#/')).toEqual({ steps: 3, there: true });
  });

  it('from a screen that was opened first has nothing behind it', () => {
    expect(trailBack(['#/job/7/note'], '#/job/7')).toEqual({ steps: 1, there: false });
  });
});
