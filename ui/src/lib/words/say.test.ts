import { describe, expect, it } from 'vitest';

import core from '../../../../core/words/en.json';
import { en } from './en';
import { fill, plainNumber, type Catalogue } from './fill';
import { say, sayOr, sayPhrase } from './say';

const small: Catalogue = {
  dips: { one: '{count} more dip, then {layer} is done.', other: '{count} more dips, then {layer} is done.' },
  bed: 'the bed',
  plain: 'Nothing to fill.',
};

describe('filling a text', () => {
  it('chooses the form by the count', () => {
    expect(fill(small, 'dips', { count: 1, layer: '@bed' })).toBe('1 more dip, then the bed is done.');
    expect(fill(small, 'dips', { count: 3, layer: '@bed' })).toBe('3 more dips, then the bed is done.');
  });

  it('shows a name that only looks like a key as it is', () => {
    expect(fill(small, 'dips', { count: 2, layer: '@unknown' })).toContain('unknown');
  });

  it('does not read places inside a value', () => {
    expect(fill(small, 'dips', { count: 2, layer: '{count}' })).toBe('2 more dips, then {count} is done.');
  });

  it('has nothing for a key it lacks, not even one that every object has', () => {
    expect(fill(small, 'toString')).toBeNull();
  });

  it('leaves a place without a value to be seen', () => {
    expect(fill(small, 'dips', { count: 2 })).toContain('{layer}');
  });
});

describe('numbers in words', () => {
  it.each([[3, '3'], [0.254, '0.25'], [-0.001, '0'], [1.5, '1.5'], [100, '100'], [-12, '-12']])(
    '%d reads %s',
    (value, text) => expect(plainNumber(value)).toBe(text),
  );
});

describe('the two catalogues together', () => {
  it('say what the screens say', () => {
    expect(say('not_measured')).toBe('not measured');
  });

  it('fall back on the English that came with a phrase', () => {
    expect(sayPhrase({ code: 'from.a.newer.version', values: {}, text: 'Newer words.' })).toBe('Newer words.');
    expect(sayOr('from.a.newer.version', 'plain')).toBe('plain');
  });

  it('do not give one key two meanings', () => {
    const both = Object.keys(en).filter((key) => Object.hasOwn(core, key));
    expect(both).toEqual([]);
  });

  it('have no empty text and no exclamation', () => {
    for (const [key, text] of Object.entries({ ...core, ...en })) {
      for (const form of typeof text === 'string' ? [text] : Object.values(text)) {
        expect(form.trim(), key).not.toBe('');
        expect(form, key).not.toContain('!');
      }
    }
  });
});
