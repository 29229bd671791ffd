import type { Arguments, Reply, Request, Trouble } from '../backend';
import { numberOrText } from '../words/typed';
import { say } from '../words/say';
import { Asked } from './asked.svelte';

/** Reads what is typed into the numbers that a request takes, and gathers what is no number. */
export class Reading {
  readonly problems: Trouble[] = [];
  /** Something that has to be there is not there yet. */
  wanting = false;

  /** A number that has to be there. */
  need(at: string, typed: string): number {
    const value = this.maybe(at, typed);
    if (value === undefined) this.wanting = true;
    return value ?? Number.NaN;
  }

  /** A number that may be left out. */
  maybe(at: string, typed: string): number | undefined {
    if (typed.trim() === '') return undefined;
    const value = numberOrText(typed);
    if (typeof value === 'number') return value;
    this.problems.push({ at, problem: say('place.no_number', { typed: value }), right: say('place.right') });
    return undefined;
  }

  get whole(): boolean {
    return !this.wanting && this.problems.length === 0;
  }
}

/** Leaves out what was not typed, so that the core takes what is usual. */
export function given<T extends object>(values: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as { [K in keyof T]: Exclude<T[K], undefined> };
}

/** A table that is typed in: what the core answers to it once it is whole, and what is wrong where. */
export class Question<K extends Request> {
  private readonly asked: Asked<K>;
  private readonly read: (reading: Reading) => Arguments<K>;
  private own = $state.raw<readonly Trouble[]>([]);

  constructor(request: K, read: (reading: Reading) => Arguments<K>) {
    this.asked = new Asked(request);
    this.read = read;
  }

  /** The answer to what is typed now; none while something is wrong or wanting. */
  get answer(): Reply<K> | null {
    return this.asked.fault ? null : this.asked.answer;
  }

  /** What keeps the phone from answering, where that is not what was typed. */
  get fault() {
    return this.asked.fault?.code === 'bad_input' ? null : this.asked.fault;
  }

  /** What is wrong at a place; the first of several places. */
  problem(...places: string[]): Trouble | undefined {
    const all = [...this.own, ...(this.asked.fault?.problems ?? [])];
    return all.find((p) => places.includes(p.at));
  }

  /** To be called with every key typed. */
  changed(soon = true): void {
    const reading = new Reading();
    const args = this.read(reading);
    this.own = reading.problems;
    if (!reading.whole) this.asked.forget();
    else if (soon) this.asked.soon(args);
    else void this.asked.ask(args);
  }
}
