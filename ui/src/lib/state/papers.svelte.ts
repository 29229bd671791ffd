import { backend, Fault, type MadeRecord, type PaperSize } from '../backend';
import { drafts } from './drafts.svelte';
import { openJob } from './job.svelte';

const isSize = (value: unknown): value is PaperSize => value === 'a4' || value === 'letter';

/** The papers of a job: the draft as it would be today, and what was issued. */
export class JobPapers {
  size = $state<PaperSize>('a4');
  /** The paper that is shown, draft or issued. */
  shown = $state.raw<MadeRecord | null>(null);
  fault = $state.raw<Fault | null>(null);
  busy = $state(false);
  /** Where each paper was copied to, by file; nowhere when no place was chosen. */
  saved = $state<Record<string, string | null>>({});
  /** Whether this phone has a share sheet. */
  canShare = $state(false);

  private readonly job: string;
  private turn = 0;

  constructor(job: string) {
    this.job = job;
    this.size = drafts.read('paper.size', 'a4', isSize);
    void this.ask();
  }

  async choose(size: PaperSize): Promise<void> {
    this.size = size;
    drafts.keep('paper.size', size);
    await this.draft();
  }

  /** Draws up the record as it would be today. */
  draft(): Promise<void> {
    return this.make(false);
  }

  /** Issues the record: it has a number from now on. */
  async issue(): Promise<void> {
    await this.make(true);
    await openJob.read();
  }

  save(file: string): Promise<void> {
    return this.handOut(async () => {
      this.saved[file] = (await backend.savePaper(file)).path;
    });
  }

  share(file: string): Promise<void> {
    return this.handOut(() => backend.sharePaper(file));
  }

  private async ask(): Promise<void> {
    try {
      this.canShare = await backend.canShare();
    } catch {
      this.canShare = false;
    }
  }

  private async handOut(work: () => Promise<void>): Promise<void> {
    try {
      await work();
      this.fault = null;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    }
  }

  private async make(issue: boolean): Promise<void> {
    const turn = ++this.turn;
    this.busy = true;
    try {
      const made = await backend.makeRecord({ job: this.job, issue, paper: this.size });
      if (turn !== this.turn) return;
      this.shown = made;
      this.fault = null;
    } catch (thrown) {
      if (turn === this.turn) this.fault = Fault.from(thrown);
    } finally {
      if (turn === this.turn) this.busy = false;
    }
  }
}
