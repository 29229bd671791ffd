import { backend, Fault, type MadeRecord, type PaperSize, type SheetKind } from '../backend';
import { drafts } from './drafts.svelte';
import { openJob } from './job.svelte';

const isSize = (value: unknown): value is PaperSize => value === 'a4' || value === 'letter';

/** How often a paper in the making is asked how far it is. */
const ASK_EVERY_MS = 250;

/** Files that leave the app: saved where the person chooses, or shared. */
export class HandingOut {
  /** Where each file was copied to; nowhere when no place was chosen. */
  saved = $state<Record<string, string | null>>({});
  /** Whether this phone has a share sheet. */
  canShare = $state(false);
  fault = $state.raw<Fault | null>(null);

  constructor() {
    void this.ask();
  }

  save(file: string): Promise<void> {
    return this.run(async () => {
      this.saved[file] = (await backend.savePaper(file)).path;
    });
  }

  share(file: string): Promise<void> {
    return this.run(() => backend.sharePaper(file));
  }

  private async ask(): Promise<void> {
    try {
      this.canShare = await backend.canShare();
    } catch {
      this.canShare = false;
    }
  }

  private async run(work: () => Promise<void>): Promise<void> {
    try {
      await work();
      this.fault = null;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    }
  }
}

/** Which paper of a job: the completion record, or one that is not sealed. */
export type PaperOf = { kind: 'completion_record' } | { kind: SheetKind; change: number | null };

/** One paper of a job: in the making, stopped, or made. */
export class PaperInHand {
  size = $state<PaperSize>('a4');
  /** Whether templates at their true size follow a setting-out sheet. */
  templates = $state(false);
  /** The paper that is shown, draft or issued. */
  shown = $state.raw<MadeRecord | null>(null);
  fault = $state.raw<Fault | null>(null);
  busy = $state(false);
  /** Whether what is in the making is an issue. */
  issuing = $state(false);
  /** Steps done, of how many; none before it is known. */
  steps = $state.raw<[number, number] | null>(null);
  /** A stop came when the paper was already being kept. */
  tooLate = $state(false);

  private readonly job: string;
  private readonly of: PaperOf;
  private turn = 0;

  constructor(job: string, of: PaperOf) {
    this.job = job;
    this.of = of;
    this.size = drafts.read('paper.size', 'a4', isSize);
  }

  async choose(size: PaperSize): Promise<void> {
    this.size = size;
    drafts.keep('paper.size', size);
    await this.draft();
  }

  /** Draws it up as it would be today. */
  draft(): Promise<void> {
    return this.make(false);
  }

  /** Issues the record: it has a number from now on. */
  async issue(): Promise<void> {
    await this.make(true);
    await openJob.read();
  }

  /** Tries again what came to no end: an issue is issued, not drawn up. */
  again(): Promise<void> {
    return this.issuing ? this.issue() : this.draft();
  }

  /** Stops the paper in the making. */
  async stop(): Promise<void> {
    try {
      this.tooLate = !(await backend.stopPaper()) && this.busy;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    }
  }

  private order(issue: boolean): Promise<MadeRecord> {
    const [job, paper] = [this.job, this.size];
    if (this.of.kind === 'completion_record') return backend.makeRecord({ job, issue, paper });
    return backend.makeSheet({ job, kind: this.of.kind, change: this.of.change, templates: this.templates, paper });
  }

  private async make(issue: boolean): Promise<void> {
    const turn = ++this.turn;
    Object.assign(this, { busy: true, issuing: issue, steps: null, tooLate: false });
    const timer = setInterval(() => void this.follow(turn), ASK_EVERY_MS);
    try {
      const made = await this.order(issue);
      if (turn !== this.turn) return;
      this.shown = made;
      this.fault = null;
    } catch (thrown) {
      if (turn === this.turn) this.fault = Fault.from(thrown);
    } finally {
      clearInterval(timer);
      if (turn === this.turn) this.busy = false;
    }
  }

  private async follow(turn: number): Promise<void> {
    const steps = await backend.paperProgress().catch(() => null);
    if (turn === this.turn && steps && steps[1] > 0) this.steps = steps;
  }
}
