import type { Evidence, Layer } from '../generated/types';
import { hrefOf, type Route } from '../state/route';
import { say } from '../words/say';

/** The screen where what a line of the gate wants is logged. */
export interface Way {
  href: string;
  label: string;
  test: string;
  /** What the line is of, for a screen that measures one layer. */
  aim: { tool: 'dip' | 'pass'; layer: Layer; lift: number | null } | null;
}

const LAYERS: readonly Layer[] = ['formation', 'sub_base', 'bed', 'surface'];
const BEGINS: readonly [string, 'dip' | 'pass' | 'photo' | 'record' | 'soft-spots' | 'concrete'][] = [
  ['next.dips', 'dip'], ['next.cover', 'dip'], ['next.out', 'dip'],
  ['next.passes', 'pass'], ['next.still_moving', 'pass'],
  ['next.photo', 'photo'], ['next.record', 'record'], ['next.soft_spots_open', 'soft-spots'], ['next.concrete_cold', 'concrete'],
];

/** The way to what a line still wants; none where the person answers it, or where it only waits. */
export function wayOf(job: string, { met, check, says }: Evidence): Way | null {
  const what = BEGINS.find(([begins]) => says.code.startsWith(begins))?.[1];
  if (met || check !== null || !what) return null;
  const to = (route: Route, label: string): Way => ({ href: hrefOf(route), label, test: `way-${what}`, aim: null });
  switch (what) {
    case 'photo':
      return to({ screen: 'tool', job, tool: what }, say('tool.photo'));
    case 'record':
      return to({ screen: 'paper', job, paper: what, number: null }, say('papers.record'));
    case 'soft-spots':
    case 'concrete':
      return to({ screen: 'site', job, tool: what }, say(`tool.${what}`));
    case 'dip':
    case 'pass':
      return { ...to({ screen: 'tool', job, tool: what }, say(`tool.${what}`)), aim: aimOf(what, says.values) };
  }
}

function aimOf(tool: 'dip' | 'pass', { layer, lift }: Evidence['says']['values']): Way['aim'] {
  const number = typeof lift === 'number' && lift > 0 ? lift : null;
  const name = number === null ? LAYERS.find((l) => layer === `@layer.${l}`) : 'sub_base';
  return name ? { tool, layer: name, lift: number } : null;
}
