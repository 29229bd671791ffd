import { numberOrText } from '../../words/typed';

/** An object of a plan file. */
export type Json = { [key: string]: unknown };

/** A number, the text as it was typed where it is none, or nothing where nothing was typed. */
export function number(typed: string): number | string | undefined {
  return typed.trim() === '' ? undefined : numberOrText(typed);
}

/** What was typed for a number that must stand in a list. */
export function inList(typed: string): number | string {
  return number(typed) ?? '';
}

/** A list of two numbers; nothing where neither was typed. */
export function pair(first: string, second: string): (number | string)[] | undefined {
  return first.trim() || second.trim() ? [inList(first), inList(second)] : undefined;
}

/** The two of such a list as they are typed. */
export function typedPair(value: unknown): [string, string] {
  const [first, second] = Array.isArray(value) ? (value as unknown[]) : [];
  return [typedOf(first), typedOf(second)];
}

/** A value of a plan file as it is typed; what is no text and no number is empty. */
export function typedOf(value: unknown): string {
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
}

export function isObject(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** An object, empty where the value is none. */
export function objectOf(value: unknown): Json {
  return isObject(value) ? value : {};
}

/** The objects of a list, in their order. */
export function objectsOf(value: unknown): Json[] {
  return Array.isArray(value) ? (value as unknown[]).map(objectOf) : [];
}

/** An object without the members that nothing was typed for. */
export function pruned(value: Json): Json {
  return Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined && v !== ''));
}

/** The same where there is anything in it. */
export function unlessEmpty(value: Json): Json | undefined {
  const left = pruned(value);
  return Object.keys(left).length ? left : undefined;
}

export function one<T extends string>(value: unknown, of: readonly T[], or: T): T {
  return of.find((o) => o === value) ?? or;
}

/** One object laid over another, member by member. */
export function merged(under: Json, over: Json): Json {
  const result: Json = { ...under };
  for (const [key, value] of Object.entries(over)) {
    const below = result[key];
    result[key] = isObject(below) && isObject(value) ? merged(below, value) : value;
  }
  return result;
}

/** What one object says that the other does not say at all. */
export function minus(whole: Json, said: Json): Json {
  const rest: Json = {};
  for (const [key, value] of Object.entries(whole)) {
    if (!(key in said)) rest[key] = value;
    else if (isObject(value) && isObject(said[key])) {
      const inner = minus(value, said[key]);
      if (Object.keys(inner).length) rest[key] = inner;
    }
  }
  return rest;
}

/** Whether two values say the same; an empty list says as little as none. */
export function same(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) < 1e-6;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((v, i) => same(v, b[i]));
  if (isObject(a) && isObject(b)) {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    return [...keys].every((key) => same(a[key], b[key]));
  }
  if (Array.isArray(a) && a.length === 0) return b === undefined;
  if (Array.isArray(b) && b.length === 0) return a === undefined;
  return a === b;
}
