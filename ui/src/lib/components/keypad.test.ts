import { describe, expect, it } from 'vitest';

import { padKeyOf, press, typedNumber, type PadKey } from './keypad';

const typed = (...keys: PadKey[]) => keys.reduce(press, '');

describe('the keypad', () => {
  it('types a reading', () => {
    expect(typed('2', '8', '7')).toBe('287');
    expect(typedNumber('287')).toBe(287);
  });

  it('types a distance with one point in it', () => {
    expect(typed('1', 'point', '8', 'point', '5')).toBe('1.85');
    expect(typed('point', '5')).toBe('0.5');
    expect(typedNumber('1.')).toBe(1);
  });

  it('has no leading nought', () => {
    expect(typed('0', '0', '5')).toBe('5');
    expect(typed('0', 'point', '5')).toBe('0.5');
    expect(typed('minus', '0', '4')).toBe('-4');
  });

  it('turns the sign and turns it back', () => {
    expect(typed('5', 'minus')).toBe('-5');
    expect(typed('5', 'minus', 'minus')).toBe('5');
    expect(typedNumber(typed('minus'))).toBeNull();
  });

  it('rubs out one and clears all', () => {
    expect(typed('2', '8', 'rub_out')).toBe('2');
    expect(typed('rub_out')).toBe('');
    expect(typed('2', '8', 'clear')).toBe('');
  });

  it('stops when the number is longer than any tape', () => {
    expect(typed(...Array<PadKey>(12).fill('9'))).toBe('9999999');
  });

  it('knows nothing as no number', () => {
    expect(typedNumber('')).toBeNull();
  });

  it('puts a half on and takes it off, and adds eighths round within the whole one', () => {
    expect(typed('1', '1', 'half', 'eighth')).toBe('11 ⅝');
    expect(typed('1', '1', 'half', 'half')).toBe('11');
    expect(typed('1', '1', 'eighth', 'half', 'half')).toBe('11 ⅛');
    expect(typed('1', '1', ...Array<PadKey>(8).fill('eighth'))).toBe('11');
    expect(typed('half')).toBe('½');
    expect(typed('half', 'half')).toBe('');
    expect(typed('half', 'eighth', 'eighth', 'eighth', 'eighth')).toBe('');
  });

  it('types whole ones also behind a part, and rubs the part out first', () => {
    expect(typed('half', '1', '1')).toBe('11 ½');
    expect(typed('1', '1', 'half', 'rub_out')).toBe('11');
    expect(typed('0', 'half', '3')).toBe('3 ½');
    expect(typed('5', 'half', 'minus')).toBe('-5 ½');
    expect(typed('9', '9', '9', '9', '9', '9', 'half')).toBe('999999');
  });

  it('has no eighths of a number with a point', () => {
    expect(typed('1', 'point', '5', 'eighth')).toBe('1.5');
  });

  it('takes a keyboard too', () => {
    expect(padKeyOf('.', true)).toBe('half');
    expect(padKeyOf('/', true)).toBe('eighth');
    expect(padKeyOf('/')).toBeNull();
    expect(padKeyOf('7')).toBe('7');
    expect(padKeyOf(',')).toBe('point');
    expect(padKeyOf('Enter')).toBeNull();
  });
});
