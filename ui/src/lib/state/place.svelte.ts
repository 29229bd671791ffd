import type { JobView, StringView, TargetPlace } from '../generated/types';
import { numberOrText } from '../words/typed';
import { Asked } from './asked.svelte';
import { drafts } from './drafts.svelte';

/** How a place is typed: by x and y, or along the reference edge and out from it. */
export type PlaceBy = 'ground' | 'edge';

interface Kept {
  raise: string;
}

const isKept = (value: unknown): value is Kept =>
  typeof value === 'object' && value !== null && 'raise' in value && typeof value.raise === 'string';

/** A place on the drawing, pressed or typed, and what a tape should read there. */
export class PlaceOnDrawing {
  by = $state<PlaceBy>('ground');
  first = $state('');
  second = $state('');
  raise = $state('0');
  readonly asked = new Asked('target_at');
  private readonly job: string;
  /** The string that was chosen; none takes the nearest. */
  private chosen: { from: string; to: string } | null = null;

  constructor(view: JobView) {
    this.job = view.id;
    // The strings are raised as they were for the last dip.
    this.raise = drafts.read<Kept>(`dip.${view.id}`, { raise: '0' }, isKept).raise;
  }

  /** What the core says of the place; nothing while there is none. */
  get target() {
    return this.asked.answer;
  }

  /** A place pressed on the drawing, in metres. */
  press([x, y]: [number, number]): void {
    this.by = 'ground';
    [this.first, this.second] = [x.toFixed(2), y.toFixed(2)];
    this.chosen = null;
    void this.ask();
  }

  /** The same place typed the other way. */
  turn(by: PlaceBy): void {
    if (this.by === by) return;
    this.by = by;
    const { target } = this;
    if (!target) return;
    const [first, second] = by === 'ground' ? [target.x_m, target.y_m] : [target.along_m, target.out_m];
    [this.first, this.second] = [first.toFixed(3), second.toFixed(3)];
  }

  /** To be called with every key: the nearest string is taken anew. */
  typed(): void {
    this.chosen = null;
    void this.ask(true);
  }

  raised(): void {
    void this.ask(true);
  }

  choose({ from, to }: Pick<StringView, 'from' | 'to'>): void {
    this.chosen = { from, to };
    void this.ask();
  }

  /** The place is put away. */
  forget(): void {
    [this.first, this.second] = ['', ''];
    this.chosen = null;
    this.asked.forget();
  }

  /** Whether a measure is typed that is no number. */
  isNoNumber(typed: string): boolean {
    return typed.trim() !== '' && typeof numberOrText(typed) !== 'number';
  }

  private async ask(soon = false): Promise<void> {
    const [first, second, raise] = [this.first, this.second, this.raise].map(numberOrText);
    if (typeof first !== 'number' || typeof second !== 'number' || typeof raise !== 'number') {
      this.asked.forget();
      return;
    }
    const place = this.by === 'ground' ? { x_m: first, y_m: second } : { along_m: first, out_m: second };
    const args: TargetPlace = { job: this.job, ...place, raise_mm: raise, ...this.chosen };
    if (soon) this.asked.soon(args);
    else await this.asked.ask(args);
  }
}
