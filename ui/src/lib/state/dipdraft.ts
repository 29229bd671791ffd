import type { JobView, Layer } from '../generated/types';
import { drafts } from './drafts.svelte';

/** What is typed of one layer and lift: a place along a string, and the reading there. */
export interface OfLayer {
  layer: Layer;
  lift: number | null;
  from: string;
  to: string;
  stop: number;
  at: string;
  reading: string;
}

/** A round of dips as it is kept: the layer in hand, and readings of others that were typed and not logged. */
export interface KeptRound extends OfLayer {
  stage: string;
  raise: string;
  aside?: OfLayer[];
}

type LayerOf = Pick<OfLayer, 'layer' | 'lift'>;

export const sameLayer = (a: LayerOf, b: LayerOf): boolean => a.layer === b.layer && a.lift === b.lift;

const isKept = (value: unknown): value is KeptRound | null =>
  value === null ||
  (typeof value === 'object' && 'stage' in value && 'reading' in value && 'stop' in value && (!('aside' in value) || Array.isArray(value.aside)));

const draftOf = (job: string): string => `dip.${job}`;

export function keptRound(job: string): KeptRound | null {
  return drafts.read<KeptRound | null>(draftOf(job), null, isKept);
}

export function keepRound(job: string, round: KeptRound): void {
  drafts.keep(draftOf(job), round);
}

/** The readings that wait, with this one where there is one; a layer has one at most. */
export function putAside(aside: readonly OfLayer[], { layer, lift, from, to, stop, at, reading }: OfLayer): OfLayer[] {
  const others = aside.filter((other) => !sameLayer(other, { layer, lift }));
  return reading === '' ? others : [...others, { layer, lift, from, to, stop, at, reading }];
}

/** The next round of a job begins at this layer; a reading that was typed waits with its own. */
export function aimDips({ id, stage }: JobView, layer: Layer, lift: number | null): void {
  const kept = keptRound(id);
  const to = { layer, lift };
  if (kept && kept.stage === stage && sameLayer(kept, to)) return;
  const waiting = kept ? putAside(kept.aside ?? [], kept) : [];
  const own = waiting.find((other) => sameLayer(other, to)) ?? { ...to, from: '', to: '', stop: 0, at: '0', reading: '' };
  const aside = waiting.filter((other) => !sameLayer(other, to));
  keepRound(id, { ...own, stage, raise: kept?.raise ?? '0', aside });
}
