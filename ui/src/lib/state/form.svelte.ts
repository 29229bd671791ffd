import { drafts } from './drafts.svelte';

/** A few words being typed, kept as they are typed until they are logged. */
export class KeptForm<T extends Record<string, string>> {
  values = $state() as T;
  private readonly key: string;
  private readonly empty: T;

  constructor(key: string, empty: T) {
    this.key = key;
    this.empty = empty;
    const fits = (value: unknown): value is T =>
      typeof value === 'object' && value !== null && Object.keys(empty).every((k) => typeof (value as T)[k] === 'string');
    this.values = { ...drafts.read(key, empty, fits) };
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
