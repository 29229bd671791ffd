import { backend, Fault } from '../backend';
import type { EntryView, Stage } from '../generated/types';
import { dayOf } from '../words/measure';

/** One day of the diary, its entries in order. */
export interface Day {
  day: string;
  entries: EntryView[];
}

/** Entries by day, the newest day first, each day in the order it happened; of one stage where one is asked for. */
export function byDay(entries: readonly EntryView[], stage: Stage | null): Day[] {
  const days = new Map<string, EntryView[]>();
  for (const entry of entries) {
    if (stage !== null && entry.stage !== stage) continue;
    const day = dayOf(entry.at);
    const list = days.get(day);
    if (list) list.push(entry);
    else days.set(day, [entry]);
  }
  return [...days]
    .map(([day, list]) => ({ day, entries: [...list].sort((a, b) => Date.parse(a.at) - Date.parse(b.at)) }))
    .sort((a, b) => b.day.localeCompare(a.day));
}

/** The diary of the open job. */
export class JobDiary {
  entries = $state.raw<readonly EntryView[] | null>(null);
  fault = $state.raw<Fault | null>(null);
  private readonly job: string;

  constructor(job: string) {
    this.job = job;
  }

  async read(): Promise<void> {
    try {
      this.entries = await backend.ask('diary', { job: this.job });
      this.fault = null;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    }
  }
}
