import { describe, expect, it } from 'vitest';

import { numberOrText } from './typed';

describe('a typed measure', () => {
  it.each([['3,75', 3.75], ['3.75', 3.75], [' 12 ', 12], ['-30', -30], ['−30', -30], ['.5', 0.5], ['4.', 4]])(
    '%j is the number %d',
    (typed, value) => expect(numberOrText(typed)).toBe(value),
  );

  it.each(['', '2 m', '1,2,3', 'two', '1e3'])('%j goes on as it was typed', (typed) => {
    expect(numberOrText(typed)).toBe(typed);
  });
});
