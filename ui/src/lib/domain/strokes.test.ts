import { expect, test } from 'vitest';

import { drawnOn, isDrawn, pathOf, placeIn, readStrokes, type Strokes } from './strokes';

const box = { left: 10, top: 20, width: 300, height: 120 } as DOMRectReadOnly;

test('a place is in the box whatever size it is drawn at, and never outside it', () => {
  expect(placeIn(box, 10, 20)).toEqual([0, 0]);
  expect(placeIn(box, 160, 80)).toEqual([500, 200]);
  expect(placeIn(box, 999, -5)).toEqual([1000, 0]);
});

test('a pen that rests adds nothing, and a line grows with each step', () => {
  const started: Strokes = [[[100, 100]]];
  expect(drawnOn(started, [102, 101])).toBe(started);
  expect(drawnOn(started, [110, 100])).toEqual([[[100, 100], [110, 100]]]);
  expect(drawnOn([], [1, 1])).toEqual([]);
});

test('dots alone are no signature', () => {
  expect(isDrawn([[[1, 1]], [[5, 5]]])).toBe(false);
  expect(isDrawn([[[1, 1], [9, 9]]])).toBe(true);
});

test('no more places than the core takes', () => {
  const long: Strokes = [Array.from({ length: 20_000 }, (_, i) => [i % 1000, 0])];
  expect(drawnOn(long, [500, 399])).toBe(long);
});

test('what was kept is read again, and anything else is nothing', () => {
  expect(readStrokes('[[[1,2],[3,4]]]')).toEqual([[[1, 2], [3, 4]]]);
  for (const other of ['', '{}', '[[1,2]]', '[[["a",1]]]', '[[[1.5,1]]]']) expect(readStrokes(other)).toEqual([]);
  expect(pathOf([[1, 2], [3, 4]])).toBe('M1 2L3 4');
});
