import type { MixView } from '../../generated/types';
import { upTo } from '../../words/measure';

/** What goes into a mix, in the order it is weighed out; the sand as it lies. Parts that are not in it are left out. */
export function partsOf({ all, batch }: MixView) {
  const parts = [
    { what: 'part_cement', all: all.cement_kg, batch: batch.cement_kg },
    { what: 'part_sand', all: all.damp_sand_kg, batch: batch.damp_sand_kg },
    { what: 'part_stone', all: all.stone_kg, batch: batch.stone_kg },
    { what: 'part_dye', all: all.dye_kg, batch: batch.dye_kg },
  ] as const;
  return parts.filter((part) => part.all > 0);
}

/** What one bag of the cement holds, kilograms: the whole bags are what is used and what is left. */
export function bagOf({ all, bags, cement_left_kg }: MixView): number {
  return bags > 0 ? (all.cement_kg + cement_left_kg) / bags : 0;
}

/** The dye that goes with one bag of cement, kilograms: the same share as in the whole mix. */
export function dyeToABag(mix: MixView): number {
  return mix.all.cement_kg > 0 ? (mix.all.dye_kg / mix.all.cement_kg) * bagOf(mix) : 0;
}

/** Kilograms as they are weighed: to ten grams under ten, to a hundred above. */
export function kilograms(kg: number): string {
  return upTo(kg, kg < 10 ? 2 : 1);
}
