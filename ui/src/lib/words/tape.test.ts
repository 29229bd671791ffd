import { describe, expect, it } from 'vitest';

import { press, type PadKey } from '../components/keypad';
import { howMuch, taped, typedMm, typedOn, withUnit } from './tape';

const typed = (...keys: PadKey[]) => keys.reduce(press, '');

describe('a tape in inches', () => {
  it.each([
    [0, '11', 279.4], [1, '11 ⅛', 282.575], [2, '11 ¼', 285.75], [3, '11 ⅜', 288.925],
    [4, '11 ½', 292.1], [5, '11 ⅝', 295.275], [6, '11 ¾', 298.45], [7, '11 ⅞', 301.625],
  ])('%d eighths past eleven are %s, exactly %d mm, and back', (eighths, text, mm) => {
    expect(typed('1', '1', ...Array<PadKey>(eighths).fill('eighth'))).toBe(text);
    expect(typedMm(withUnit(text, 'in'))).toBe(mm);
    expect(taped(mm, 'in')).toBe(text.replace(' ', '\u00a0'));
  });

  it('shows the nearest eighth, of what is below as of what is above', () => {
    expect(taped(295.275 + 1.58, 'in')).toBe('11\u00a0⅝');
    expect(taped(295.275 + 1.6, 'in')).toBe('11\u00a0¾');
    expect(taped(-213, 'in')).toBe('-8\u00a0⅜');
    expect(taped(3, 'in')).toBe('⅛');
    expect(taped(-0.5, 'in')).toBe('0');
    expect(taped(350, 'mm')).toBe('350');
  });

  it('never says nothing of what is something', () => {
    expect(howMuch(-1.2, 'in')).toBe('under ⅛');
    expect(howMuch(1.6, 'in')).toBe('⅛');
    expect(howMuch(0, 'in')).toBe('0');
    expect(howMuch(0.3, 'mm')).toBe('under 1');
  });
});

describe('what was typed, when the unit changes', () => {
  it('is the same length, never the same digits', () => {
    expect(typedOn('287', 'in')).toBe('11 ¼');
    expect(typedMm('287')).toBe(287);
    expect(typedOn(withUnit('11 ⅝', 'in'), 'mm')).toBe('295.275');
    expect(typedMm(withUnit('11', 'in'))).toBe(279.4);
  });

  it('is itself again when the unit is changed back', () => {
    expect(typedOn('33', 'mm')).toBe('33');
    expect(typedOn(withUnit('⅛', 'in'), 'in')).toBe('⅛');
  });

  it('is nothing while it is no number', () => {
    expect(withUnit('', 'in')).toBe('');
    expect(typedMm('')).toBeNull();
    expect(typedMm(withUnit('-', 'in'))).toBeNull();
    expect(typedOn(withUnit('-', 'in'), 'mm')).toBe('');
  });

  it('is below as it is above', () => {
    expect(typedMm(withUnit('-⅜', 'in'))).toBe(-9.525);
    expect(typedOn('-20', 'in')).toBe('-¾');
  });
});
