import { TAPES, type Tape } from '../words/tape';
import { drafts } from './drafts.svelte';

const isTape = (value: unknown): value is Tape => TAPES.some((unit) => unit === value);

/** What the tape in hand reads in. It is this phone's, whatever the job. */
class TapeInHand {
  private chosen = $state<Tape | null>(null);

  get unit(): Tape {
    return this.chosen ?? drafts.read('tape.unit', 'mm', isTape);
  }

  choose(unit: Tape): void {
    this.chosen = unit;
    drafts.keep('tape.unit', unit);
  }
}

export const tape = new TapeInHand();
