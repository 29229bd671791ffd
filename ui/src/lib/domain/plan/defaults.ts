import { plainNumber } from '../../words/fill';
import { opening } from '../../words/measure';
import { say, sayOr } from '../../words/say';
import { placeOf } from './places';

/** A default's value in words: a number, a range, or one of the plan's own words. */
export function defaultValue(value: unknown): string {
  if (typeof value === 'number') return plainNumber(value);
  if (Array.isArray(value)) return value.map(defaultValue).join('–');
  if (value === null) return say('fall.none');
  const text = String(value);
  return sayOr(`pattern.${text}`, sayOr(`soil.${text}`, text.replaceAll('_', ' ')));
}

/** The name of a default's key: that of its field. */
export function defaultName(key: string): string {
  return opening(placeOf(`/${key.replaceAll('.', '/')}`).words);
}

/** How well a figure is known. */
export function statusWords(status: string): string {
  return sayOr(`status.${status}`, status);
}
