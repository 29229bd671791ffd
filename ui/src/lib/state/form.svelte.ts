import { drafts } from './drafts.svelte';

/** Whether a value that was kept is a form of these keys. */
export function isForm<T extends Record<string, string>>(empty: T): (value: unknown) => value is T {
  return (value): value is T =>
    typeof value === 'object' && value !== null && Object.keys(empty).every((k) => typeof (value as T)[k] === 'string');
}

/** A few words being typed, kept as they are typed until they are logged. */
export class KeptForm<T extends Record<string, string>> {
  values = $state() as T;
  private readonly key: string;
  private readonly empty: T;

  constructor(key: string, empty: T) {
    this.key = key;
    this.empty = empty;
    this.values = { ...drafts.read(key, empty, isForm(empty)) };
  }

  /** To be called with every key typed. */
  save(): void {
    drafts.keep(this.key, $state.snapshot(this.values));
  }

  /** Logged: the form is empty again. */
  clear(): void {
    this.values = { ...this.empty };
    drafts.forget(this.key);
  }
}

/** Several like things being typed, kept as they are typed. */
export class KeptList<T> {
  items = $state() as T[];
  private readonly key: string;
  private readonly begin: () => T[];

  constructor(key: string, begin: () => T[], fits: (item: unknown) => item is T) {
    this.key = key;
    this.begin = begin;
    const kept = drafts.read(key, [] as T[], (value): value is T[] => Array.isArray(value) && value.every(fits));
    this.items = kept.length ? structuredClone(kept) : begin();
  }

  /** To be called with every key typed. */
  save(): void {
    drafts.keep(this.key, $state.snapshot(this.items));
  }

  clear(): void {
    this.items = this.begin();
    drafts.forget(this.key);
  }
}
