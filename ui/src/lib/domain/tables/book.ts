import type { BookRow, LevelBookLook } from '../../generated/types';
import { say } from '../../words/say';

/** The readings of a row, in the order of the page. */
export const SIGHTS = ['bs', 'is', 'fs'] as const;
export const CELLS = ['point', ...SIGHTS] as const;
export type Cell = (typeof CELLS)[number];

export function newRow(): BookRow {
  return { point: '', bs: '', is: '', fs: '' };
}

export function isEmpty(row: BookRow): boolean {
  return CELLS.every((cell) => row[cell].trim() === '');
}

/** The rows with one empty row at their end, to go on in. */
export function withSpare(rows: readonly BookRow[]): BookRow[] {
  const last = rows.at(-1);
  return last && isEmpty(last) ? [...rows] : [...rows, newRow()];
}

/**
 * Where the keyboard's own "next" leads from a cell: from a reading to the next row, from a point to
 * the sight that is next in a book, from an empty cell to the one beside it.
 */
export function nextCell(rows: readonly BookRow[], row: number, cell: Cell): { row: number; key: Cell } {
  if (cell === 'point') return { row, key: row === 0 ? 'bs' : 'is' };
  const typed = rows[row]?.[cell].trim() !== '';
  if (typed && !(cell === 'bs' && row > 0 && rows[row]?.fs.trim() === '')) return { row: row + 1, key: 'point' };
  const beside = CELLS[CELLS.indexOf(cell) + 1];
  return beside ? { row, key: beside } : { row: row + 1, key: 'point' };
}

/** A level or a reading to the millimetre. */
export function toMm(metres: number): string {
  const text = metres.toFixed(3);
  return text === '-0.000' ? '0.000' : text;
}

/** A difference of levels in words: never a bare plus or minus. */
export function difference(metres: number): string {
  const m = toMm(Math.abs(metres));
  if (m === '0.000') return say('book.none');
  return say(metres > 0 ? 'book.up' : 'book.down', { m });
}

/** The whole book as a note for the diary: readings as typed, levels, and how it closes. */
export function bookNote(rows: readonly BookRow[], look: LevelBookLook): string {
  const lines = rows.flatMap((row, i) => {
    const answer = look.rows[i];
    if (isEmpty(row) || answer?.reduced_m == null) return [];
    const sights = SIGHTS.flatMap((s) => (row[s].trim() ? [`${s.toUpperCase()} ${row[s].trim()}`] : [])).join(', ');
    const line = say('book.note_row', { point: row.point.trim() || `${i + 1}`, sights, level: toMm(answer.reduced_m) });
    return [answer.adjusted_m === null ? line : `${line}, ${say('book.note_adjusted', { m: toMm(answer.adjusted_m) })}`];
  });
  const closing = look.checks ? [look.checks.says.text] : [];
  return [say('book.note', { start: toMm(look.start_m) }), ...lines, ...closing].join('\n');
}
