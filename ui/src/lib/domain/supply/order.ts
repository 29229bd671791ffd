import type { DefaultUsed, Goods, Measure, OrderLineView, QuoteView, SoldIn, Unit } from '../../generated/types';
import { upTo } from '../../words/measure';
import { say, sayOr, sayPhrase } from '../../words/say';
import { defaultName } from '../plan/defaults';

/** Units that a delivery may come in, as the diary knows them. */
export const UNITS = ['t', 'kg', 'm3', 'm2', 'm', 'packs', 'bags', 'pieces', 'loads'] as const satisfies readonly Unit[];

/** Amounts closer than this share of the order are the same. */
const SAME = 1e-6;

/** What is bought, by name. */
export function goodsName(what: Goods): string {
  return say(`bought.${what}`);
}

/** An amount in its measure, in words that stay together: tonnes from one up, else kilograms. */
export function amountWords(value: number, measure: Measure): string {
  return inWords(value, measure).replace(' ', '\u00a0');
}

function inWords(value: number, measure: Measure): string {
  switch (measure) {
    case 'pieces':
      return upTo(Math.ceil(value - SAME), 0);
    case 'kg':
      return Math.abs(value) >= 1000 ? say('in_t', { t: upTo(value / 1000, 2) }) : say('in_kg', { kg: upTo(value, 1) });
    case 'm3':
      return say('in_m3', { m3: upTo(value, 2) });
    case 'm2':
      return say('in_m2', { m2: upTo(value, 2) });
  }
}

/** Money of whole minor units, as it is written for its currency. */
export function money(minor: number, currency: string): string {
  const form = new Intl.NumberFormat('en-GB', { style: 'currency', currency });
  return form.format(minor / 10 ** (form.resolvedOptions().maximumFractionDigits ?? 2));
}

/** What is ordered, in words: how many of what, and what one holds. */
export function quoteWords(quote: QuoteView, measure: Measure): string {
  const many = sayPhrase(quote.says);
  const plain: readonly SoldIn[] = ['piece', 'tonne', 'cubic_metre'];
  return plain.includes(quote.sold_in) ? many : say('order.each_holds', { many, holds: amountWords(quote.holds, measure) });
}

/** How a line stands: what is here against what was ordered. */
export function standing({ measure, order, delivered, short, over }: OrderLineView): { words: string; open: boolean } {
  const same = order.ordered * SAME;
  if (over > same) return { words: say('order.over', { amount: amountWords(over, measure) }), open: true };
  if (short <= same) return { words: say('order.all_here'), open: false };
  if (delivered <= same) return { words: say('order.none_here'), open: true };
  return { words: say('order.short', { amount: amountWords(short, measure) }), open: true };
}

/** The unit that deliveries of an order are usually counted in. */
export function usualUnit(sold: SoldIn): Unit {
  const units = { piece: 'pieces', pack: 'packs', bag: 'bags', bulk_bag: 'bags', tonne: 't', cubic_metre: 'm3', roll: 'pieces' } as const;
  return units[sold];
}

/**
 * What a delivery being typed will count for, in its line's measure, where that needs no figure but
 * what the offer says one holds; none where the core has to work it out. Shown while typing; what is
 * kept is counted by the core.
 */
export function countsFor(line: OrderLineView, quantity: number, unit: string, supplier: string): number | null {
  if (!(quantity > 0)) return null;
  if (line.measure === 'kg' && unit === 't') return quantity * 1000;
  const own: Record<Measure, string> = { pieces: 'pieces', kg: 'kg', m3: 'm3', m2: 'm2' };
  if (unit === own[line.measure]) return quantity;
  const sold: Partial<Record<string, readonly SoldIn[]>> = { bags: ['bag', 'bulk_bag'], packs: ['pack'], pieces: ['roll'] };
  const offers = [line.order, ...line.others].filter((offer) => sold[unit]?.includes(offer.sold_in));
  const offer = offers.find((o) => supplier !== '' && o.supplier === supplier) ?? offers[0];
  return offer ? quantity * offer.holds : null;
}

/** What a line's figures lean on, besides what carries its own name. */
const LEANS_ON: Partial<Record<Goods, readonly string[]>> = {
  sub_base: ['allowances.sub_base_t_per_m3'],
  bed: ['allowances.bed_t_per_m3', 'allowances.loose_sand_t_per_m3', 'layers.surcharge_mm'],
  blocks: ['allowances.blocks_percent', 'blocks.count'],
  joint_sand: ['allowances.joint_sand_t_per_m3', 'allowances.joint_top_up_percent'],
  cement: ['mixes.concrete', 'mixes.cement_class'],
  fine_aggregate: ['mixes.concrete'],
  coarse_aggregate: ['mixes.concrete'],
  concrete: ['mixes.concrete'],
  mortar_sand: ['mixes.mortar_parts'],
};

/** The defaults that a line leans on. */
export function defaultsOf(what: Goods, defaults: readonly DefaultUsed[]): DefaultUsed[] {
  const own = [`orders.allowance_percent.${what}`, `bags.${what}_kg`, ...(LEANS_ON[what] ?? [])];
  return defaults.filter(({ key }) => own.includes(key));
}

/** What a default of the supply is called: by its own words, or by the field of the plan that it fills. */
export function supplyName(key: string): string {
  const dot = key.lastIndexOf('.');
  const [head, last] = [key.slice(0, dot), key.slice(dot + 1)];
  if (head === 'orders.allowance_percent') return say('default.allowance', { what: sayOr(`bought.${last}`, last) });
  if (head === 'bags') return say('default.bag', { what: sayOr(`bought.${last.replace(/_kg$/, '')}`, last) });
  return sayOr(`default.${key}`, defaultName(key));
}

/** The unit of a default, read off its key. */
export function supplyUnit(key: string): string {
  if (key.includes('_percent')) return '%';
  if (key.endsWith('_t_per_m3')) return say('t_per_m3');
  const ends: readonly [string, string][] = [['_kg', say('kg')], ['_mm', say('mm')], ['mixer_l', say('l')]];
  return ends.find(([end]) => key.endsWith(end))?.[1] ?? '';
}
