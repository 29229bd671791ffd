import { describe, expect, it } from 'vitest';

import type { BookRow, LevelBookLook } from '../../generated/types';
import { bookNote, difference, newRow, nextCell, withSpare } from './book';

const row = (point: string, bs = '', is = '', fs = ''): BookRow => ({ point, bs, is, fs });

describe('the page of a level book', () => {
  it('always has one empty row to go on in', () => {
    expect(withSpare([])).toEqual([newRow()]);
    expect(withSpare([row('a', '1')])).toHaveLength(2);
    expect(withSpare([row('a', '1'), newRow()])).toHaveLength(2);
  });

  it('leads from reading to reading as a book is kept', () => {
    const rows = [row('a', '1,2'), row('b', '', '1,3'), row('c', '1', '', '0,9'), newRow()];
    expect(nextCell(rows, 0, 'point')).toEqual({ row: 0, key: 'bs' });
    expect(nextCell(rows, 0, 'bs')).toEqual({ row: 1, key: 'point' });
    expect(nextCell(rows, 1, 'point')).toEqual({ row: 1, key: 'is' });
    expect(nextCell(rows, 1, 'is')).toEqual({ row: 2, key: 'point' });
    expect(nextCell(rows, 2, 'is')).toEqual({ row: 2, key: 'fs' });
    expect(nextCell([rows[0] as BookRow, row('d', '1')], 1, 'bs')).toEqual({ row: 1, key: 'is' });
  });

  it('says which way a difference goes', () => {
    expect(difference(-6.605)).toBe('6.605 down');
    expect(difference(0.0301)).toBe('0.030 up');
    expect(difference(-0.0001)).toBe('nothing');
  });

  it('goes into the diary with its readings as they were typed', () => {
    const look: LevelBookLook = {
      start_m: 10, problems: [], unfinished: null,
      rows: [{ reduced_m: 10, adjusted_m: 10 }, { reduced_m: null, adjusted_m: null }, { reduced_m: 9.9, adjusted_m: 9.902 }],
      checks: {
        sum_bs_m: 1, sum_fs_m: 1.1, rise_m: 0, fall_m: 0.1, last_less_first_m: -0.1, agree: true, accepted: true,
        says: { code: 'book.closes', values: {}, text: 'It closes.' },
      },
    };
    expect(bookNote([row('sill', '1'), newRow(), row('', '', '', '1,1')], look).split('\n')).toEqual([
      'Level book from 10.000 m.',
      'sill: BS 1, level 10.000, adjusted 10.000',
      '3: FS 1,1, level 9.900, adjusted 9.902',
      'It closes.',
    ]);
  });
});
