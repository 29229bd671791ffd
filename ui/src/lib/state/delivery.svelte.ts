import type { Trouble } from '../backend';
import type { OrderLineView } from '../generated/types';
import { numberOrText } from '../words/typed';
import { Asked } from './asked.svelte';
import { CameraPhoto } from './camera.svelte';
import { drafts } from './drafts.svelte';
import { isForm } from './form.svelte';
import { openJob } from './job.svelte';
import { buzz } from './phone';
import { Reading } from './question.svelte';

/** Where a delivery is of nothing that was ordered. */
export const OTHER = 'other';

const EMPTY = { line: '', what: '', quantity: '', unit: '', ticket: '', supplier: '', batch: '', colour: '', stacked: '', photo: '', awaited: '' };
type Typed = typeof EMPTY;

/** A delivery on its way into the diary, with the photo of its ticket; kept as it is typed. */
export class DeliveryInHand extends CameraPhoto {
  values = $state<Typed>({ ...EMPTY });
  /** The order that it is ticked against. */
  readonly order = new Asked('order_list');
  private readonly draft: string;
  private readonly job: string;

  constructor(job: string) {
    super();
    this.job = job;
    this.draft = `delivery.${job}`;
    // A delivery that was kept by an older version has fewer keys.
    const kept = { ...EMPTY, ...drafts.read<object>(this.draft, {}, (value): value is object => typeof value === 'object' && value !== null) };
    this.values = isForm(EMPTY)(kept) ? kept : { ...EMPTY };
    this.sha256 = this.values.photo || null;
    this.awaited = this.values.awaited !== '';
    void this.readOrder();
  }

  async readOrder(): Promise<void> {
    await this.order.ask({ job: this.job });
  }

  get lines(): readonly OrderLineView[] {
    return this.order.answer?.lines ?? [];
  }

  /** The line of the order that it is for. */
  get line(): OrderLineView | undefined {
    return this.lines.find((line) => line.what === this.values.line);
  }

  /** What is wrong with the quantity before it is sent: it is no number. */
  get noNumber(): Trouble | undefined {
    const reading = new Reading();
    reading.maybe('/quantity', this.values.quantity);
    return reading.problems[0];
  }

  /** Whether what has to be said is said. */
  get ready(): boolean {
    const { line, what, quantity, unit } = this.values;
    const named = line === OTHER ? what.trim() !== '' : this.line !== undefined;
    return named && quantity.trim() !== '' && this.noNumber === undefined && unit !== '';
  }

  save(): void {
    drafts.keep(this.draft, this.kept());
  }

  /** Logs it under the name that its line has; what was typed goes on as it is, for the core to refuse. */
  async log(name: string, at: string | undefined): Promise<void> {
    const { line, what, quantity, unit } = this.values;
    const words = ['ticket', 'supplier', 'batch', 'colour', 'stacked'] as const;
    const said = words.flatMap((key) => (this.values[key].trim() ? [[key, this.values[key].trim()]] : []));
    const body = {
      what: line === OTHER ? what.trim() : name,
      quantity: numberOrText(quantity),
      unit,
      ...(line === OTHER ? {} : { line }),
      ...Object.fromEntries(said),
      ...(this.sha256 ? { photo: this.sha256 } : {}),
    };
    await openJob.log('delivery', body, at);
    buzz();
    Object.assign(this, { values: { ...EMPTY }, sha256: null, left: false, awaited: false });
    drafts.forget(this.draft);
  }

  /** Lets go of the photo of the ticket. */
  leave(): void {
    Object.assign(this, { sha256: null, left: false, awaited: false });
    this.save();
  }

  protected saveNow(): Promise<void> {
    return drafts.keepNow(this.draft, this.kept());
  }

  private kept(): Typed {
    return { ...$state.snapshot(this.values), photo: this.sha256 ?? '', awaited: this.awaited ? 'yes' : '' };
  }
}
