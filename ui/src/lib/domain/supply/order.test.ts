import { describe, expect, it } from 'vitest';

import type { OrderLineView, QuoteView } from '../../generated/types';
import { amountWords, countsFor, defaultsOf, money, standing, supplyName } from './order';

const quote = (more: Partial<QuoteView>): QuoteView => ({
  supplier: '', sold_in: 'bulk_bag', holds: 850, count: 6, says: { code: 'sold.bulk_bag', values: { count: 6 }, text: '6 bulk bags' },
  ordered: 5100, left_over: 117, price_minor: null, total_minor: null, ...more,
});
const line = (more: Partial<OrderLineView> = {}): OrderLineView => ({
  what: 'sub_base', measure: 'kg', need: 4746, allowance_percent: 5, with_allowance: 4983, says: { code: 'amount.t', values: { t: 4.98 }, text: '4.98 t' },
  order: quote({}), others: [], delivered: 0, short: 5100, over: 0, missing: 4746, deliveries: [], ...more,
});

describe('an amount in words', () => {
  it.each([[999.95, 'kg', '1000\u00a0kg'], [1700, 'kg', '1.7\u00a0t'], [590.2, 'pieces', '591'], [591 + 1e-9, 'pieces', '591'], [0.254, 'm3', '0.25\u00a0m³']] as const)(
    '%d %s reads %s',
    (value, measure, words) => expect(amountWords(value, measure)).toBe(words),
  );
});

describe('what a delivery being typed will count for', () => {
  it('is its own measure as it is, and tonnes of what is weighed', () => {
    expect(countsFor(line(), 1.7, 't', '')).toBe(1700);
    expect(countsFor(line(), 1700, 'kg', '')).toBe(1700);
    expect(countsFor(line({ measure: 'pieces' }), 12, 'pieces', '')).toBe(12);
  });

  it('is bags by what the offer says one holds, that of the supplier first', () => {
    const two = line({ others: [quote({ supplier: 'Yard', holds: 1000 })] });
    expect(countsFor(two, 2, 'bags', '')).toBe(1700);
    expect(countsFor(two, 2, 'bags', 'Yard')).toBe(2000);
  });

  it('is left to the core where it takes another figure, or is no quantity', () => {
    expect(countsFor(line(), 2, 'm3', '')).toBeNull();
    expect(countsFor(line(), 2, 'packs', '')).toBeNull();
    expect(countsFor(line(), -2, 't', '')).toBeNull();
  });
});

describe('how a line stands', () => {
  it('says none, short, all or over', () => {
    expect(standing(line()).words).toBe('none here');
    expect(standing(line({ delivered: 3400, short: 1700 })).words).toBe('short by 1.7\u00a0t');
    expect(standing(line({ delivered: 5100, short: 0 }))).toEqual({ words: 'all here', open: false });
    expect(standing(line({ delivered: 5950, short: 0, over: 850 })).words).toBe('over by 850\u00a0kg');
  });
});

describe('money', () => {
  // ISO 4217: a pound has a hundred pence, a yen no minor unit, a Bahraini dinar a thousand fils.
  it.each([[31200, 'GBP', '£312.00'], [500, 'JPY', 'JP¥500'], [1250, 'BHD', 'BHD\u00a01.250']])('%d of %s is %s', (minor, currency, words) =>
    expect(money(minor, currency)).toBe(words));
});

describe('figures that were taken', () => {
  const used = (key: string) => ({ key, value: 1, source: 'a', status: 'seen' });

  it('stand with the line that leans on them, under a name of their own', () => {
    const all = ['orders.allowance_percent.sub_base', 'bags.sub_base_kg', 'bags.bed_kg', 'allowances.sub_base_t_per_m3'].map(used);
    expect(defaultsOf('sub_base', all).map((d) => d.key)).toEqual([all[0]?.key, all[1]?.key, all[3]?.key]);
    expect(supplyName('bags.bed_kg')).toBe('Sharp sand, one bag');
    expect(supplyName('orders.allowance_percent.sub_base')).toBe('Graded crushed stone, ordered over');
  });
});
