import { backend, Fault, type Trouble } from '../backend';
import { edgeLevels, emptyForm, fromPlan, toPlan, type PlanForm } from '../domain/plan/form';
import type { DefaultUsed, PlanLook } from '../generated/types';
import { drafts } from './drafts.svelte';

/** How long the typing rests before the plan is looked over. */
const REST_MS = 120;
/** How long a press lasts at most, and the look that follows the last key. */
const PRESS_MS = 400;

interface Kept {
  form: PlanForm;
  file: { name: string; text: string } | null;
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null || !('form' in value) || !('file' in value)) return false;
  const { form } = value;
  return typeof form === 'object' && form !== null && Object.keys(emptyForm()).every((key) => key in form);
}

/** A plan being typed, or opened from a file: looked over by the core as it changes, kept as it is typed. */
export class PlanDraft {
  form = $state<PlanForm>(emptyForm());
  /** A file that says more than the form can; it is taken whole. */
  file = $state.raw<{ name: string; text: string } | null>(null);
  look = $state.raw<PlanLook | null>(null);
  fault = $state.raw<Fault | null>(null);
  /** Fields that were left: their problems are said. Before that they are only not typed yet. */
  left = $state<Record<string, true>>({});
  everything = $state(false);

  private readonly key: string;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private turn = 0;

  constructor(job: string | null, plan: unknown) {
    this.key = job === null ? 'plan.new' : `plan.${job}`;
    const whole = plan === null ? emptyForm() : fromPlan(plan);
    const start: Kept = {
      form: whole ?? emptyForm(),
      file: whole ? null : { name: '', text: JSON.stringify(plan, null, 2) },
    };
    const kept = drafts.read<Kept>(this.key, start, isKept);
    this.form = structuredClone(kept.form);
    this.file = kept.file;
    void this.read();
  }

  /** The plan file's text as it stands. */
  get text(): string {
    return this.file?.text ?? JSON.stringify(toPlan($state.snapshot(this.form) as PlanForm), null, 2);
  }

  get good(): boolean {
    return this.look !== null && this.look.problems.length === 0;
  }

  /** What is wrong with a field, once it was left or everything is asked for. */
  problem(pointer: string): Trouble | undefined {
    if (!this.everything && !this.left[pointer]) return undefined;
    return this.look?.problems.find((p) => p.at === pointer);
  }

  /** A field was left. Its problem waits a moment, so that nothing moves under the finger that left it. */
  leave(pointer: string): void {
    setTimeout(() => (this.left[pointer] = true), PRESS_MS);
  }

  /** The place of an edge level in the plan file: what is not typed has none. */
  levelPointer(field: 'start' | 'end'): string {
    const index = edgeLevels(this.form).findIndex((l) => l.field === field);
    return `/surface/edge_levels/${index < 0 ? '-' : index}/mm`;
  }

  /** The default that was taken where a field is empty. */
  taken(key: string): DefaultUsed | undefined {
    return this.look?.figures?.defaults.find((d) => d.key === key);
  }

  /** To be called with every change: keeps the draft and has it looked over once the typing rests. */
  changed(): void {
    drafts.keep(this.key, { form: $state.snapshot(this.form), file: this.file });
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.read(), REST_MS);
  }

  /** Opens a plan file: into the form where the form can say all of it, else whole. */
  async open(file: File): Promise<void> {
    const text = await file.text();
    const form = fromPlan(parsed(text));
    this.file = form ? null : { name: file.name, text };
    if (form) this.form = form;
    this.everything = true;
    this.changed();
    await this.read();
  }

  /** Puts an opened file away and types the plan instead. */
  close(): void {
    this.file = null;
    this.changed();
  }

  /** The plan is in force: nothing is left to keep. */
  forget(): void {
    clearTimeout(this.timer);
    drafts.forget(this.key);
  }

  async read(): Promise<void> {
    const turn = ++this.turn;
    try {
      const look = await backend.ask('look_at_plan', { text: this.text });
      if (turn !== this.turn) return;
      this.look = look;
      this.fault = null;
    } catch (thrown) {
      if (turn === this.turn) this.fault = Fault.from(thrown);
    }
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
