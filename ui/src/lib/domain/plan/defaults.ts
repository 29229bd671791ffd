import { plainNumber } from '../../words/fill';
import { opening } from '../../words/measure';
import type { Step } from '../../state/route';
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
  return opening(placed(key).words);
}

/** The page of the plan where a default can be given instead. */
export function defaultPage(key: string): Step {
  return placed(key).step;
}

function placed(key: string) {
  return placeOf(`/${key.replaceAll('.', '/')}`);
}

/** How well a figure is known. */
export function statusWords(status: string): string {
  return sayOr(`status.${status}`, status);
}

/** How many figures of a group are the person's own, in words. */
export function ownSays(typed: readonly string[]): string {
  const count = typed.filter((text) => text.trim() !== '').length;
  return count ? say('group.own', { count }) : say('group.usual');
}
