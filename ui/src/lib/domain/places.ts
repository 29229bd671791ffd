import type { StringBeside } from '../generated/types';
import { metres } from '../words/measure';
import { say } from '../words/say';

/** A string as one word, for choices. */
export function stringKey({ from, to }: Pick<StringBeside, 'from' | 'to'>): string {
  return `${from}>${to}`;
}

/** Closer than this is the same place. */
const SAME_M = 0.005;

/** Where a place lies against its string, and how the tape is held there. */
export function asideWords({ from, to, length_m, at_m, aside_m }: StringBeside): string {
  const at = metres(at_m);
  if (Math.abs(aside_m) >= SAME_M) {
    return say(aside_m > 0 ? 'place.left' : 'place.right_of', { from, at, aside: metres(Math.abs(aside_m)) });
  }
  if (at_m < SAME_M) return say('place.at_pin', { pin: from });
  return length_m - at_m < SAME_M ? say('place.at_pin', { pin: to }) : say('place.under', { from, at });
}
