import type { Assumption, LoadsView, Measure, MoverView } from '../../generated/types';
import { upTo } from '../../words/measure';
import { say } from '../../words/say';

/** Unit and digits of quantities that stand beside one another: kilograms in tonnes where the largest is one or more. */
function scaleOf(measure: Measure, largest: number): { by: number; decimals: number; word: 'in_t' | 'in_kg' | 'in_m3' | 'in_m2' | null; key: string } {
  if (measure === 'kg') return largest >= 1000 ? { by: 1000, decimals: 1, word: 'in_t', key: 't' } : { by: 1, decimals: 0, word: 'in_kg', key: 'kg' };
  if (measure === 'm3') return { by: 1, decimals: 1, word: 'in_m3', key: 'm3' };
  if (measure === 'm2') return { by: 1, decimals: 1, word: 'in_m2', key: 'm2' };
  return { by: 1, decimals: 0, word: null, key: '' };
}

/** Quantities that belong together, in one unit: the last of them with it, the others as bare numbers. */
export function together(measure: Measure, values: readonly number[]): string[] {
  const { by, decimals, word, key } = scaleOf(measure, Math.max(...values));
  return values.map((value, i) => {
    const text = upTo(value / by, decimals);
    return word !== null && i === values.length - 1 ? say(word, { [key]: text }) : text;
  });
}

/** One quantity with its unit. */
export function amount(measure: Measure, value: number): string {
  return together(measure, [value])[0] ?? '';
}

const UNITS: Record<Assumption, 'unit.percent' | 't_per_m3' | 'mm'> = {
  swell: 'unit.percent', ground_density: 't_per_m3', dig_depth: 'mm', stone_density: 't_per_m3', stone_top: 'mm',
  bed_density: 't_per_m3', joint: 'mm', joint_sand_density: 't_per_m3',
};

/** How far an assumption may be otherwise, in words: below and above by the words of a dip, never by signs. */
export function between({ assumption, between: [least, most] }: MoverView): string {
  const unit = say(UNITS[assumption]);
  if (least >= 0) return say('takes.from_to', { least, most, unit });
  if (-least === most) return say('takes.either_way', { by: most, unit });
  return say('takes.low_high', { low: -least, high: most, unit });
}

/** Loads at the least and the most swell; one number where both are the same. */
export function loadsOf({ loads: [least, most] }: Pick<LoadsView, 'loads'>): string {
  return least === most ? String(least) : say('takes.between', { least, most });
}
