import { describe, expect, it } from 'vitest';

import { withSpare, written } from './rows';

const cells = ['x', 'y'] as const;
const row = (x = '', y = '') => ({ name: 'C', x, y });

describe('the rows of a table', () => {
  it('end with the last that has anything in it; a name alone is nothing', () => {
    expect(written([row('1'), row(), row('', '2'), row()], cells)).toEqual([row('1'), row(), row('', '2')]);
    expect(written([row()], cells)).toEqual([]);
  });

  it('always have one to go on in', () => {
    expect(withSpare([row('1'), row(), row()], cells, () => row())).toEqual([row('1'), row()]);
  });
});
