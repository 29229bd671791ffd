import { numberOrText } from '../words/typed';
import { KeptList } from './form.svelte';
import { Question } from './question.svelte';

/** Places that a new test has, and how few and how many it may have. */
const PLACES = 6;
const FEWEST = 3;
const MOST = 12;

const isRound = (item: unknown): item is string[] => Array.isArray(item) && item.every((reading) => typeof reading === 'string');
const newRounds = () => [emptyRound(PLACES), emptyRound(PLACES)];
const emptyRound = (places: number) => Array.from({ length: places }, () => '');
const isRead = (round: readonly string[]) => round.every((reading) => reading.trim() !== '');
const isEmpty = (round: readonly string[]) => round.every((reading) => reading.trim() === '');

/** Tape readings of the same places, round by round; the last round is always the next to be read. */
export class DropRounds {
  readonly question: Question<'drop_test'>;
  private readonly list: KeptList<string[]>;

  constructor(job: string | null) {
    this.list = new KeptList(job === null ? 'drop' : `drop.${job}`, newRounds, isRound);
    this.question = new Question('drop_test', (reading) => {
      // A round that is being read does not count yet, nor one after it.
      const read = this.list.items.findIndex((round) => !isRead(round));
      const whole = read < 0 ? this.list.items : this.list.items.slice(0, read);
      this.list.items.forEach((round, r) => round.forEach((typed, p) => reading.maybe(`/rounds_mm/${r}/${p}`, typed)));
      if (whole.length < 2) reading.wanting = true;
      return { rounds_mm: whole.map((round) => round.map((typed) => Number(numberOrText(typed)))) };
    });
    this.question.changed(false);
  }

  get rounds(): string[][] {
    return this.list.items;
  }

  get empty(): boolean {
    return this.rounds.every(isEmpty);
  }

  get mayGrow(): boolean {
    return this.places < MOST;
  }

  /** A place that was read stays. */
  get mayShrink(): boolean {
    return this.places > FEWEST && this.rounds.every((round) => (round.at(-1) ?? '').trim() === '');
  }

  /** To be called with every reading. */
  changed(): void {
    const last = this.rounds.at(-1);
    if (last && isRead(last)) this.rounds.push(emptyRound(this.places));
    this.list.save();
    this.question.changed();
  }

  morePlaces(): void {
    for (const round of this.rounds) round.push('');
    this.changed();
  }

  fewerPlaces(): void {
    for (const round of this.rounds) round.pop();
    this.changed();
  }

  afresh(): void {
    this.list.clear();
    this.question.changed(false);
  }

  private get places(): number {
    return this.rounds[0]?.length ?? PLACES;
  }
}
