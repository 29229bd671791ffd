/** A text with places for values written {name}, or its forms chosen by the value `count`. */
export type Text = string | { readonly one: string; readonly other: string };

/** Texts by key. */
export type Catalogue = Readonly<Record<string, Text>>;

/** Values for the places: numbers, names, or other words of the catalogue written "@key". */
export type Values = Readonly<Record<string, number | string | undefined>>;

/** The text for a key with its places filled; none where the catalogue lacks the key. */
export function fill(catalogue: Catalogue, key: string, values: Values = {}): string | null {
  const text = Object.hasOwn(catalogue, key) ? catalogue[key] : undefined;
  if (text === undefined) return null;
  const form = typeof text === 'string' ? text : values.count === 1 ? text.one : text.other;
  return form.replace(/\{(\w+)\}/g, (place, name: string) => {
    const value = values[name];
    return value === undefined ? place : shown(catalogue, value);
  });
}

function shown(catalogue: Catalogue, value: number | string): string {
  if (typeof value === 'number') return plainNumber(value);
  if (!value.startsWith('@')) return value;
  return fill(catalogue, value.slice(1)) ?? value.slice(1);
}

/** A number with at most two decimals and no trailing zeros. */
export function plainNumber(value: number): string {
  const text = value.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}
