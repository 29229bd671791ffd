import { plainNumber } from './fill';

/** Millimetres as a person sees them: whole. */
export function wholeMm(value: number): string {
  const text = value.toFixed(0);
  return text === '-0' ? '0' : text;
}

/** Metres to the centimetre, as a tape is read aloud. */
export function metres(value: number): string {
  return value.toFixed(2);
}

/** Metres rounded up to a tenth, for what must not look smaller than it is. */
export function metresUp(value: number): string {
  return plainNumber(Math.ceil(Math.round(value * 1000) / 100) / 10);
}

/** A quantity to so many decimals at most. */
export function upTo(value: number, decimals: number): string {
  return plainNumber(Number(value.toFixed(Math.min(decimals, 2))));
}

/** The same with no number parted from its mm at the end of a line. */
export function unparted(text: string): string {
  return text.replace(/(\d) (?=mm\b)/g, '$1\u00a0');
}

/** The first letter made large, for the start of a line. */
export function opening(text: string): string {
  return text.charAt(0).toLocaleUpperCase() + text.slice(1);
}

const LOCALE = 'en-GB';

/** The day of a time as it was on site: the first ten signs of RFC 3339. */
export function dayOf(time: string): string {
  return time.slice(0, 10);
}

/** Today by this phone's clock and place. */
export function today(now = new Date()): string {
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The day after today. */
export function tomorrow(): string {
  return today(new Date(Date.now() + 86_400_000));
}

/** Hours and minutes as they were on site. */
export function clockOf(time: string): string {
  return time.slice(11, 16);
}

/** A day in words: Tuesday 7 April 2026. */
export function dayInWords(day: string): string {
  const weekday = inWords(day, { weekday: 'long' });
  return weekday === day ? day : `${weekday} ${shortDay(day)}`;
}

/** A day in few words: 7 April 2026. */
export function shortDay(day: string): string {
  return inWords(day, { day: 'numeric', month: 'long', year: 'numeric' });
}

function inWords(day: string, form: Intl.DateTimeFormatOptions): string {
  const date = new Date(`${day}T12:00:00Z`);
  if (Number.isNaN(date.getTime())) return day;
  return new Intl.DateTimeFormat(LOCALE, { ...form, timeZone: 'UTC' }).format(date);
}

/** A moment of this phone's clock as RFC 3339 with its offset, from a date-and-time input. */
export function withOffset(local: string): string | null {
  const date = new Date(local);
  if (Number.isNaN(date.getTime())) return null;
  const minutes = -date.getTimezoneOffset();
  const sign = minutes < 0 ? '-' : '+';
  const two = (n: number) => String(n).padStart(2, '0');
  const offset = `${sign}${two(Math.floor(Math.abs(minutes) / 60))}:${two(Math.abs(minutes) % 60)}`;
  return `${local.length === 16 ? `${local}:00` : local}${offset}`;
}
