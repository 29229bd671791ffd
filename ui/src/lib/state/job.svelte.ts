import { backend, Fault } from '../backend';
import type { JobView, Logged, StageView } from '../generated/types';
import { say } from '../words/say';
import { app } from './app.svelte';

/** The kinds of entry that a screen logs. */
export type Kind =
  | 'note' | 'dip' | 'pass' | 'photo' | 'check' | 'stage' | 'delivery' | 'change' | 'signature' | 'strike'
  | 'soft_spot' | 'soft_spot_filled' | 'weather' | 'spread' | 'edge_concrete' | 'drop_round' | 'snag' | 'snag_closed'
  | 'pack_opened' | 'pack_emptied' | 'forecast' | 'day_closed';

/** The job that is open, folded from its diary by the core. */
class OpenJob {
  id = $state('');
  view = $state.raw<JobView | null>(null);
  fault = $state.raw<Fault | null>(null);

  /** Opens a job; the one already open is only read again. */
  async open(id: string): Promise<void> {
    if (id !== this.id) this.view = null;
    this.id = id;
    await this.read();
  }

  async read(): Promise<void> {
    const id = this.id;
    try {
      const view = await backend.ask('job', { job: id });
      if (id !== this.id) return;
      this.view = view;
      this.fault = null;
    } catch (thrown) {
      if (id === this.id) this.fault = Fault.from(thrown);
    }
  }

  /**
   * Logs one thing; what was typed stays with the screen until it is safe, which is told before the job
   * is read again: what is typed meanwhile is of the next.
   */
  async log(kind: Kind, body: object, at?: string, onsafe?: () => void): Promise<Logged> {
    const when = at === undefined ? {} : { at };
    const logged = await backend.ask('log', { job: this.id, kind, body, ...when });
    onsafe?.();
    await this.follow(logged);
    return logged;
  }

  /** Puts a new plan in force for this job. */
  async revise(text: string): Promise<Logged> {
    const logged = await backend.ask('revise_plan', { job: this.id, text });
    await this.follow(logged);
    return logged;
  }

  /** Strikes the last thing done. */
  async undo(): Promise<void> {
    const last = this.view?.undo;
    if (last) await this.log('strike', { entry: last.entry, reason: say('undo.reason') });
  }

  /** The stage as the core sees it. */
  stageView(stage: string): StageView | undefined {
    return this.view?.stages.find((s) => s.stage === stage);
  }

  private async follow({ changed }: Logged): Promise<void> {
    await this.read();
    if (changed.includes('shelf') || changed.includes('settings')) await app.readShelf();
  }
}

export const openJob = new OpenJob();
