/** A row of a table that is typed, every cell a text. */
export type Row = Record<string, string>;

/** Whether nothing is typed in a row; cells that are chosen, or named beforehand, do not count. */
export function isBlank(row: Row, counted: readonly string[]): boolean {
  return counted.every((key) => (row[key] ?? '').trim() === '');
}

/** The rows up to the last one with anything in it: they keep their numbers. */
export function written<T extends Row>(rows: readonly T[], counted: readonly (keyof T & string)[]): T[] {
  let end = rows.length;
  while (end > 0 && isBlank(rows[end - 1] as T, counted)) end -= 1;
  return rows.slice(0, end);
}

/** The rows with one blank row at their end, to go on in. */
export function withSpare<T extends Row>(rows: readonly T[], counted: readonly (keyof T & string)[], spare: (rows: readonly T[]) => T): T[] {
  const full = written(rows, counted);
  return [...full, spare(full)];
}
