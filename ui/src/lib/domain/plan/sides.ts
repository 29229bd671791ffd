import { metres } from '../../words/measure';
import { say, sayOr } from '../../words/say';
import { sidesOf } from './answer';
import type { PlanForm } from './form';

const STRIP = ['reference', 'far', 'start', 'end'] as const;

/** The sides that a shape has, to choose from: by their names along a strip, else by number with their length. */
export function sideOptions(form: PlanForm, outline: unknown, chosen: readonly string[]): { value: string; label: string }[] {
  const known = sidesOf(outline).filter(({ side }, i, all) => all.findIndex((s) => s.side === side) === i);
  const named = (form.shape === 'rectangle' || form.shape === 'strip') && known.length === 0;
  const options = named
    ? STRIP.map((value) => ({ value: value as string, label: sideName(value) }))
    : known.map(({ side, length_m }) => ({ value: side, label: say('side.long', { side: sideName(side), m: metres(length_m) }) }));
  // A side that was chosen stays to be seen, though the shape as it stands has it no more.
  const gone = chosen.filter((side) => side !== '' && !options.some((o) => o.value === side));
  return [...options, ...gone.map((value) => ({ value, label: sideName(value) }))];
}

/** A side in words. */
export function sideName(side: string): string {
  return /^\d+$/.test(side) ? say('side.number', { number: Number(side) }) : sayOr(`edge.${side}`, side);
}
