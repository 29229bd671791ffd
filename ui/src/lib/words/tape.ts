import { typedNumber } from '../components/keypad';
import { eighthsOf, inEighths } from './eighths';
import { wholeMm } from './measure';
import { say } from './say';

/** What a tape reads in. */
export type Tape = 'mm' | 'in';

export const TAPES: readonly Tape[] = ['mm', 'in'];

/** The least that is said of each. */
const LEAST = { mm: '1', in: '⅛' } as const;

/** Eighths of an inch that lie in so many thousandths of a millimetre. */
const EIGHTH_UM = 3175;

/** Nearer than this is no distance at all, in mm. */
const NOTHING = 0.05;

/** What stands behind inches that are kept as they were typed. */
const MARK = ' in';

const nearest = (mm: number): string => inEighths(Math.round((mm * 1000) / EIGHTH_UM));

/** Millimetres as this tape shows them, never parted at the end of a line: 295, or 11 ⅝. */
export function taped(mm: number, tape: Tape): string {
  return tape === 'mm' ? wholeMm(mm) : nearest(mm).replace(' ', '\u00a0');
}

/** How much, without its sign; what is less than the tape says is never said to be nothing. */
export function howMuch(mm: number, tape: Tape): string {
  const size = Math.abs(mm);
  const text = taped(size, tape);
  return text === '0' && size > NOTHING ? say('tape.under', { least: LEAST[tape] }) : text;
}

/** A keypad's text with its unit, to be kept: what is typed in one is never read in the other. */
export function withUnit(text: string, tape: Tape): string {
  return tape === 'in' && text !== '' ? text + MARK : text;
}

/** What was typed, in millimetres and exact; none while it is no number. */
export function typedMm(kept: string): number | null {
  if (!kept.endsWith(MARK)) return typedNumber(kept);
  const eighths = eighthsOf(kept.slice(0, -MARK.length));
  return eighths === null ? null : (eighths * EIGHTH_UM) / 1000;
}

/** What was typed as the keypad of this tape shows it; typed in the other unit, the nearest to it. */
export function typedOn(kept: string, tape: Tape): string {
  const inches = kept.endsWith(MARK);
  if (inches === (tape === 'in')) return inches ? kept.slice(0, -MARK.length) : kept;
  const mm = typedMm(kept);
  if (mm === null) return '';
  return tape === 'in' ? nearest(mm) : String(mm);
}
