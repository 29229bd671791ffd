import { untrack } from 'svelte';

import { backend, Fault, type Trouble } from '../backend';
import { emptyForm, fromPlan, toPlan, type PlanForm } from '../domain/plan/form';
import { edgeLevels, farLevels } from '../domain/plan/levels';
import { onPages, placeOf } from '../domain/plan/places';
import { edgeEnd } from '../domain/plan/shape';
import type { DefaultUsed, Drawing, PlanLook, ShapeLook } from '../generated/types';
import { drafts } from './drafts.svelte';
import type { Step } from './route';

/** How long the typing rests before the plan is looked over. */
const REST_MS = 120;
/** How long a press lasts at most, and the look that follows the last key. */
const PRESS_MS = 400;

interface Kept {
  form: Partial<PlanForm>;
  file: { name: string; text: string } | null;
}

/** What was typed before the form had all of its fields is still what was typed. */
function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null || !('form' in value) || !('file' in value)) return false;
  const { form } = value;
  if (typeof form !== 'object' || form === null) return false;
  const empty: Record<string, unknown> = { ...emptyForm() };
  return Object.entries(form).every(([key, typed]) => !(key in empty) || kindOf(typed) === kindOf(empty[key]));
}

function kindOf(value: unknown): string {
  return Array.isArray(value) ? 'list' : typeof value;
}

/** A plan being typed, or opened from a file: looked over by the core as it changes, kept as it is typed. */
export class PlanDraft {
  form = $state<PlanForm>(emptyForm());
  /** A file that says more than the form can; it is taken whole. */
  file = $state.raw<{ name: string; text: string } | null>(null);
  look = $state.raw<PlanLook | null>(null);
  /** The shape by itself, while the plan cannot be drawn as a whole. */
  shape = $state.raw<ShapeLook | null>(null);
  /** The last plan view that could be drawn. */
  private drawn = $state.raw<Drawing | null>(null);
  fault = $state.raw<Fault | null>(null);
  /** Fields that were left: their problems are said. Before that they are only not typed yet. */
  left = $state<Record<string, true>>({});
  everything = $state(false);
  /** Whether it says anything that the plan it began from does not. */
  changes = $state(false);
  /** The place of the problem that was pressed, until its page is there. */
  sought = $state.raw<string | null>(null);

  private readonly key: string;
  private readonly began: Kept & { form: PlanForm };
  /** Places whose problems are said beside a field, and by how many fields; with a star, and all below. */
  private claims = $state<Record<string, number>>({});
  private timer: ReturnType<typeof setTimeout> | undefined;
  private turn = 0;

  constructor(job: string | null, plan: unknown) {
    this.key = job === null ? 'plan.new' : `plan.${job}`;
    const whole = plan === null ? emptyForm() : fromPlan(plan);
    this.began = { form: whole ?? emptyForm(), file: whole ? null : { name: '', text: JSON.stringify(plan, null, 2) } };
    const kept = drafts.read<Kept | null>(this.key, null, (v): v is Kept | null => v === null || isKept(v));
    this.begin(kept ?? this.began);
    this.changes = kept !== null;
  }

  private begin({ form, file }: Kept): void {
    this.form = { ...emptyForm(), ...structuredClone(form) };
    this.file = file;
    void this.read();
  }

  /** The plan file's text as it stands. */
  get text(): string {
    return this.file?.text ?? JSON.stringify(this.plan, null, 2);
  }

  private get plan() {
    return toPlan($state.snapshot(this.form) as PlanForm);
  }

  get good(): boolean {
    return this.look !== null && this.look.problems.length === 0;
  }

  /** The plan view as it is typed, where it can be drawn. */
  private get current(): Drawing | null {
    return this.look?.drawing ?? this.shape?.drawing ?? null;
  }

  /** Whether what is drawn is from before what is typed now. */
  get before(): boolean {
    return this.current === null && this.drawn !== null;
  }

  /** The plan view; the last that could be drawn while this one cannot. */
  get drawing(): Drawing | null {
    return this.current ?? this.drawn;
  }

  /** The shape as the core worked it out: area, sides, what is left over of tapes. */
  get outline(): unknown {
    const answer = this.look?.answer;
    if (typeof answer === 'object' && answer !== null && 'outline' in answer) return answer.outline;
    return this.shape?.outline ?? null;
  }

  /** What is wrong with a field, once it was left or everything is asked for. */
  problem(pointer: string): Trouble | undefined {
    if (!this.everything && !this.left[pointer]) return undefined;
    return this.look?.problems.find((p) => p.at === pointer);
  }

  /** What is wrong in a row of a table, once it was left. */
  problemsIn(row: string): Trouble[] {
    if (!this.everything && !this.left[row]) return [];
    return (this.look?.problems ?? []).filter((p) => p.at === row || p.at.startsWith(`${row}/`));
  }

  /** What is wrong on a page that stands beside none of its fields. */
  loose(step: Step): Trouble[] {
    const begun = (at: string) => this.everything || Object.keys(this.left).some((left) => left === at || left.startsWith(`${at}/`));
    return (this.look?.problems ?? []).filter((p) => placeOf(p.at).step === step && !this.claimed(p.at) && begun(p.at));
  }

  /** A field says the problems of its place itself; the returned function takes that back. */
  claim(pointer: string, below = false): () => void {
    const key = below ? `${pointer}/*` : pointer;
    untrack(() => (this.claims[key] = (this.claims[key] ?? 0) + 1));
    return () => untrack(() => (this.claims[key] = (this.claims[key] ?? 1) - 1));
  }

  private claimed(at: string): boolean {
    if (this.claims[at]) return true;
    for (let end = at.lastIndexOf('/'); end > 0; end = at.lastIndexOf('/', end - 1)) {
      if (this.claims[`${at.slice(0, end)}/*`]) return true;
    }
    return false;
  }

  /** A field was left. Its problem waits a moment, so that nothing moves under the finger that left it. */
  leave(pointer: string): void {
    setTimeout(() => (this.left[pointer] = true), PRESS_MS);
  }

  /** The place of a level of an edge in the plan file: what is not typed has none. */
  levelPointer(list: 'edge_levels' | 'far_levels', field: 'start' | 'end' | number): string {
    const levels = (list === 'edge_levels' ? edgeLevels : farLevels)(this.form, edgeEnd(this.form));
    const index = levels.findIndex((l) => l.field === field);
    const row = `/surface/${list}/${index < 0 ? '-' : index}`;
    return typeof field === 'number' ? row : `${row}/mm`;
  }

  /** The default that was taken where a field is empty. */
  taken(key: string): DefaultUsed | undefined {
    return this.look?.figures?.defaults.find((d) => d.key === key);
  }

  /** To be called with every change: keeps the draft and has it looked over once the typing rests. */
  changed(): void {
    this.changes = true;
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

  /** Throws away what was typed: an empty plan again, or the one in force. */
  afresh(): void {
    this.forget();
    Object.assign(this, { left: {}, everything: false, changes: false, drawn: null });
    this.begin(this.began);
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
      this.look = this.file ? look : { ...look, problems: look.problems.map(onPages) };
      this.fault = null;
      if (look.drawing) this.drawn = look.drawing;
      if (look.drawing || this.file) return;
      const { outline, holes = null } = this.plan;
      const shape = await backend.ask('look_at_shape', { outline, holes });
      if (turn !== this.turn) return;
      this.shape = shape;
      this.drawn = shape.drawing ?? this.drawn;
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
