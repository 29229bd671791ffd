import { describe, expect, it } from 'vitest';

import { clockOf, dayInWords, dayOf, metres, metresUp, today, unparted, upTo, wholeMm, withOffset } from './measure';

describe('measures on the screen', () => {
  it('shows whole millimetres and no negative nothing', () => {
    expect(wholeMm(12.4)).toBe('12');
    expect(wholeMm(-0.3)).toBe('0');
  });

  it('shows metres as a tape is read', () => {
    expect(metres(1.8)).toBe('1.80');
  });

  it('never shows a gap smaller than it is', () => {
    expect(metresUp(2.01)).toBe('2.1');
    expect(metresUp(1.5004)).toBe('1.5');
    expect(metresUp(6)).toBe('6');
  });

  it('leaves no unit alone on the next line', () => {
    expect(unparted('593.73 mm is 219 mm from 7 mmm')).toBe('593.73\u00a0mm is 219\u00a0mm from 7 mmm');
  });

  it('shows quantities without needless decimals', () => {
    expect(upTo(2.449, 1)).toBe('2.4');
    expect(upTo(3, 2)).toBe('3');
  });
});

describe('times as they were on site', () => {
  const time = '2026-04-07T23:45:10+01:00';

  it('keeps the day and the clock of the place, whatever this phone is set to', () => {
    expect(dayOf(time)).toBe('2026-04-07');
    expect(clockOf(time)).toBe('23:45');
    expect(dayInWords(dayOf(time))).toBe('Tuesday 7 April 2026');
  });

  it('knows today by the place, not by Greenwich', () => {
    expect(today(new Date(2026, 3, 7, 0, 5))).toBe('2026-04-07');
    expect(today(new Date(2026, 11, 31, 23, 55))).toBe('2026-12-31');
  });

  it('gives a typed time this phone\'s offset', () => {
    expect(withOffset('2026-04-07T08:30')).toMatch(/^2026-04-07T08:30:00[+-]\d\d:\d\d$/);
    expect(withOffset('')).toBeNull();
  });
});
