import { isEmpty, newRow, withSpare, CELLS } from '../domain/tables/book';
import type { BookRow } from '../generated/types';
import type { Trouble } from '../backend';
import { Asked } from './asked.svelte';
import { drafts } from './drafts.svelte';

interface Kept {
  start: string;
  close: string;
  rows: BookRow[];
}

const isRow = (value: unknown): value is BookRow =>
  typeof value === 'object' && value !== null && CELLS.every((cell) => typeof (value as BookRow)[cell] === 'string');

const isKept = (value: unknown): value is Kept =>
  typeof value === 'object' && value !== null && 'start' in value && 'close' in value && 'rows' in value &&
  typeof value.start === 'string' && typeof value.close === 'string' && Array.isArray(value.rows) && value.rows.every(isRow);

/** A level book being typed: reduced by the core with every reading, kept as it is typed. */
export class BookDraft {
  start = $state('');
  close = $state('');
  rows = $state<BookRow[]>([newRow()]);
  /** The row that is typed in. */
  hand = $state<number | null>(null);
  readonly asked = new Asked('level_book');
  private readonly key: string;

  constructor(job: string | null) {
    this.key = job === null ? 'levels' : `levels.${job}`;
    const kept = drafts.read<Kept>(this.key, { start: '', close: '', rows: [] }, isKept);
    Object.assign(this, { start: kept.start, close: kept.close, rows: withSpare(kept.rows.map((row) => ({ ...row }))) });
    void this.asked.ask(this.typed);
  }

  private get typed(): Kept {
    return { start: this.start, close: this.close, rows: $state.snapshot(this.rows) };
  }

  /** Whether nothing is typed at all. */
  get empty(): boolean {
    return this.start.trim() === '' && this.close.trim() === '' && this.rows.every(isEmpty);
  }

  /** What is wrong at a place of the book. */
  problemsAt(place: string): Trouble[] {
    return (this.asked.answer?.problems ?? []).filter((p) => p.at === place);
  }

  /** What is wrong in a row. */
  problemsIn(row: number): Trouble[] {
    const place = `/rows/${row}`;
    return (this.asked.answer?.problems ?? []).filter((p) => p.at === place || p.at.startsWith(`${place}/`));
  }

  /** To be called with every change. */
  changed(): void {
    if (!isEmpty(this.rows.at(-1) ?? newRow())) this.rows.push(newRow());
    drafts.keep(this.key, this.typed);
    this.asked.soon(this.typed);
  }

  putBefore(row: number): void {
    this.rows.splice(row, 0, newRow());
    this.changed();
  }

  takeAway(row: number): void {
    this.rows.splice(row, 1);
    this.rows = withSpare(this.rows);
    this.changed();
  }

  /** A new book: what was typed is thrown away. */
  afresh(): void {
    Object.assign(this, { start: '', close: '', rows: [newRow()], hand: null });
    drafts.forget(this.key);
    void this.asked.ask(this.typed);
  }
}
