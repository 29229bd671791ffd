import { number, typedOf } from './json';

const LOCALE = 'en-GB';

/** How many digits stand after the point in prices of a currency; two where it is none yet. */
function digits(currency: string): number {
  try {
    return new Intl.NumberFormat(LOCALE, { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;
  } catch {
    return 2;
  }
}

/** A typed price in minor units, a fraction of one kept for the core to refuse; what is no number as it was typed. */
export function priceOf(typed: string, currency: string): number | string | undefined {
  const major = number(typed);
  return typeof major === 'number' ? Number((major * 10 ** digits(currency)).toFixed(6)) : major;
}

/** A price of a plan file as it is typed, in the currency's major unit. */
export function priceTyped(minor: unknown, currency: string): string {
  if (typeof minor !== 'number') return typedOf(minor);
  const places = digits(currency);
  const major = minor / 10 ** places;
  return Number.isInteger(minor) ? major.toFixed(places) : String(major);
}

/** Money in words, from minor units. */
export function money(minor: number, currency: string): string {
  const major = minor / 10 ** digits(currency);
  try {
    return new Intl.NumberFormat(LOCALE, { style: 'currency', currency }).format(major);
  } catch {
    return major.toFixed(2);
  }
}
