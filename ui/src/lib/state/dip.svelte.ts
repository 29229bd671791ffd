import { typedNumber } from '../components/keypad';
import { dipAt, layerInHand, nextStop, placesBelow, stringBetween, suggested, walk, type DipStop } from '../domain/dips';
import { backend, Fault } from '../backend';
import type { DipTarget, DipView, JobView, Layer, LayerView, NextPlace, StringView, Word } from '../generated/types';
import { typedMm, typedOn, withUnit } from '../words/tape';
import { keepRound, keptRound, putAside, sameLayer, type KeptRound, type OfLayer } from './dipdraft';
import { openJob } from './job.svelte';
import { buzz } from './phone';
import { tape } from './tape.svelte';

/** What the keypad types into. */
export type DipField = 'reading' | 'raise' | 'at';

/** A centimetre on the tape is the same place. */
const SAME_M = 0.01;

/** A dip as it is sent to the diary. */
interface LoggedDip {
  layer: Layer;
  lift?: number;
  from: string;
  to: string;
  at_m: number;
  raise_mm: number;
  reading_mm: number;
}

/** A round of dips: which layer, which string, where along it, and what the tape reads. */
export class DipRound {
  layer = $state<Layer>('formation');
  lift = $state<number | null>(null);
  from = $state('');
  to = $state('');
  /** Where in the walk this dip is, counted from 0. */
  stop = $state(0);
  /** With their unit, as they were typed. */
  reading = $state('');
  raise = $state('0');
  at = $state('0');
  field = $state<DipField>('reading');
  target = $state.raw<DipTarget | null>(null);
  fault = $state.raw<Fault | null>(null);

  /** The last dip kept, and what it says. */
  last = $state.raw<{ pin: string; word: Word; high_mm: number; layer: Layer } | null>(null);

  readonly view: JobView;
  readonly stops: readonly DipStop[];
  private readonly logged = new Map<string, LoggedDip>();
  private before = '';
  private asked = 0;
  /** Readings of other layers that were typed and not logged. */
  private aside: OfLayer[] = [];

  constructor(view: JobView) {
    this.view = view;
    this.stops = walk(view.drawing.pins, view.drawing.strings);
    const kept = keptRound(view.id);
    if (kept) this.takeUp(kept);
    else this.begin();
  }

  get layers(): readonly LayerView[] {
    return this.view.layers;
  }

  get strings(): readonly StringView[] {
    return this.view.drawing.strings;
  }

  get string(): StringView | null {
    return stringBetween(this.view.drawing, this.from, this.to);
  }

  /** How far the widest spot without a dip is from the nearest, where this dip is at it. */
  get gap(): number | null {
    const layer = this.stand;
    const [place, at] = [suggested(layer), this.settled('at')];
    const here = place && place.from === this.from && place.to === this.to && at !== null && Math.abs(at - place.at_m) < SAME_M;
    return here ? (layer?.widest_gap_m ?? null) : null;
  }

  /** The pin that the dip is at; none where it is between two. */
  get pin(): string | null {
    const at = this.settled('at');
    if (at !== null && Math.abs(at) < SAME_M) return this.from;
    return at !== null && this.string && Math.abs(at - this.string.length_m) < SAME_M ? this.to : null;
  }

  /** What the keypad has typed into the field in hand. */
  get typed(): string {
    return this.field === 'at' ? this.at : typedOn(this[this.field], tape.unit);
  }

  set typed(text: string) {
    this[this.field] = this.field === 'at' ? text : withUnit(text, tape.unit);
    this.save();
  }

  /** How far the string is raised or lowered, without the sign, and which of the two. */
  get lifted(): { lowered: boolean; text: string } {
    return { lowered: this.raise.startsWith('-'), text: typedOn(this.raise, tape.unit).replace('-', '') };
  }

  /** Whether the key that keeps can be pressed: a reading with its answer, or a measure to set. */
  get ready(): boolean {
    if (this.field !== 'reading') return this.number(this.field) !== null;
    return this.number('reading') !== null && this.target?.high_mm != null;
  }

  chooseLayer(layer: Layer, lift: number | null): void {
    this.aside = putAside(this.aside, this.ofLayer());
    this.begin({ layer, lift });
    this.save();
  }

  chooseString(from: string, to: string, at_m = 0): void {
    this.from = from;
    this.to = to;
    this.at = String(at_m);
    this.toReading();
    const stop = this.stops.findIndex((s) => s.pin === this.pin);
    if (stop >= 0) this.stop = stop;
    this.save();
  }

  /** The keypad goes to another field; an empty one keeps what it had. */
  choose(field: DipField): void {
    this.toReading();
    if (field === 'reading') return this.save();
    this.field = field;
    this.before = this[field];
    this[field] = '';
  }

  /** Asks the core what the tape should read here, and what the reading says. */
  async look(): Promise<void> {
    const place = this.place();
    const turn = ++this.asked;
    if (!place) {
      this.target = null;
      return;
    }
    const reading_mm = this.number('reading');
    try {
      const reading = reading_mm === null ? {} : { reading_mm };
      const target = await backend.ask('dip_target', { job: this.view.id, ...place, ...reading });
      if (turn !== this.asked) return;
      this.target = target;
      this.fault = null;
    } catch (thrown) {
      if (turn !== this.asked) return;
      this.fault = Fault.from(thrown);
      // What the tape should read does not hang on what it was read as.
      const target = reading_mm === null ? null : await backend.ask('dip_target', { job: this.view.id, ...place }).catch(() => null);
      if (turn === this.asked) this.target = target;
    }
  }

  /** Logs the reading and goes on to the next pin that is not dipped yet. */
  async keep(): Promise<void> {
    const place = this.place();
    const reading_mm = this.number('reading');
    if (!place || reading_mm === null) return;
    const dip: LoggedDip = { ...place, reading_mm };
    const where = this.pin ?? `${this.from}–${this.to}`;
    const { id, answer } = await openJob.log('dip', dip);
    this.logged.set(id, dip);
    this.last = answer ? { pin: where, word: answer.word, high_mm: answer.high_mm, layer: dip.layer } : null;
    buzz();
    this.reading = '';
    this.toNext(this.stop, (this.stop + 1) % Math.max(1, this.stops.length));
    this.save();
  }

  /** Goes back to where a dip was taken, with its reading, once it is struck. */
  undone(entry: string): void {
    const dip = this.taken(entry);
    if (!dip) return;
    if (!sameLayer(dip, this)) this.chooseLayer(dip.layer, dip.lift);
    this.raise = String(dip.raise_mm);
    this.chooseString(dip.from, dip.to, dip.at_m);
    this.reading = String(dip.reading_mm);
    this.last = null;
    this.save();
  }

  /** A dip of this round, or one that stood when it began. */
  private taken(entry: string): (Omit<LoggedDip, 'lift'> & { lift: number | null }) | null {
    const logged = this.logged.get(entry);
    if (logged) return { ...logged, lift: logged.lift ?? null };
    return this.view.dips.find((d) => d.entry === entry) ?? null;
  }

  /** Goes to a place of the walk. */
  toStop(index: number): void {
    const stop = this.stops[index];
    if (!stop) return;
    this.stop = index;
    this.from = stop.from;
    this.to = stop.to;
    this.toReading();
    this.at = String(Math.round(stop.at_m * 1000) / 1000);
  }

  /** Whether the pin of a stop has a dip of this layer that counts. */
  dippedAt({ pin }: DipStop): boolean {
    const at = this.view.drawing.pins.find((p) => p.name === pin);
    const dips = openJob.view?.dips ?? this.view.dips;
    return at !== undefined && dipAt(dips, at, this.layer, this.lift) !== null;
  }

  /** What is measured of the layer in hand, as of now. */
  private get stand(): LayerView | undefined {
    const { layers } = openJob.view ?? this.view;
    return layers.find((l) => l.layer === this.layer && l.lift === this.lift);
  }

  /** The next place that is known to want a dip: one of the layer below, or a pin; none where all are dipped. */
  get more(): 'place' | 'pin' | null {
    const { all, left } = this.below;
    const elsewhere = left.some((d) => d.from !== this.from || d.to !== this.to || Math.abs(d.at_m - (this.settled('at') ?? 0)) >= SAME_M);
    if (elsewhere) return 'place';
    return all.length === 0 && this.stops.some((stop, i) => i !== this.stop && !this.dippedAt(stop)) ? 'pin' : null;
  }

  private get below(): { all: DipView[]; left: DipView[] } {
    return placesBelow(openJob.view ?? this.view, this.layer, this.lift);
  }

  /**
   * To the next place of the layer below, where that was dipped beside the pins; else to the next pin without a
   * dip; after them to the widest spot without one; else to a stop.
   */
  private toNext(after: number, otherwise: number): void {
    const { all, left: [below] } = this.below;
    if (below) return this.toPlace(below);
    // Where all of them are dipped, the pins are not walked either.
    const next = all.length > 0 ? null : nextStop(this.stops, after, (s) => this.dippedAt(s));
    const place = suggested(this.stand);
    if (next === null && place) this.toPlace(place);
    else if (all.length === 0 || this.from === '') this.toStop(next ?? otherwise);
  }

  /** To a place on a string, to the centimetre. */
  private toPlace({ from, to, at_m }: Pick<NextPlace, 'from' | 'to' | 'at_m'>): void {
    const length_m = stringBetween(this.view.drawing, from, to)?.length_m ?? 0;
    this.chooseString(from, to, Math.min(Math.round(at_m * 100), Math.round(length_m * 1000) / 10) / 100);
  }

  private place(): Omit<LoggedDip, 'reading_mm'> | null {
    const [at_m, raise_mm] = [this.settled('at'), this.settled('raise')];
    if (this.from === '' || at_m === null || raise_mm === null) return null;
    const lift = this.lift === null ? {} : { lift: this.lift };
    return { layer: this.layer, ...lift, from: this.from, to: this.to, at_m, raise_mm };
  }

  /** A measure as it stood before it is typed anew. */
  private settled(field: 'at' | 'raise'): number | null {
    return this.number(field) ?? (this.field === field ? this.number(field, this.before) : null);
  }

  /** What is typed into a field: metres along the string, else millimetres. */
  private number(field: DipField, text = this[field]): number | null {
    return field === 'at' ? typedNumber(text) : typedMm(text);
  }

  /** The round goes on as it was kept; at another stage with the layer that is in hand then. */
  private takeUp(kept: KeptRound): void {
    this.raise = kept.raise;
    this.aside = putAside(kept.aside ?? [], kept);
    if (kept.stage !== this.view.stage || !this.layers.some((l) => sameLayer(l, kept))) return this.begin();
    this.begin(kept, kept);
  }

  /** A layer as it was left with a reading; without one at the first pin that is not dipped. */
  private begin(
    hand: Pick<LayerView, 'layer' | 'lift'> | undefined = layerInHand(this.view),
    left: OfLayer | undefined = hand && this.aside.find((other) => sameLayer(other, hand)),
  ): void {
    if (hand) Object.assign(this, { layer: hand.layer, lift: hand.lift });
    this.aside = this.aside.filter((other) => !sameLayer(other, this));
    this.reading = left?.reading ?? '';
    if (!left || !stringBetween(this.view.drawing, left.from, left.to)) return this.toFirst();
    this.toReading();
    Object.assign(this, { from: left.from, to: left.to, at: left.at, stop: left.stop });
  }

  /** The keypad goes back to the reading; a measure that was left empty keeps what it had. */
  private toReading(): void {
    if (this.field !== 'reading' && this.number(this.field) === null) this[this.field] = this.before;
    this.field = 'reading';
  }

  /** To the first pin without a dip; where the layer is covered, to one that is out of tolerance. */
  private toFirst(): void {
    const out = this.view.dips.find(
      (d) => d.layer === this.layer && d.lift === this.lift && !d.superseded && d.word !== 'right',
    );
    if (out && this.stand?.covered) this.chooseString(out.from, out.to, out.at_m);
    else this.toNext(-1, 0);
  }

  private save(): void {
    const { stage, id } = this.view;
    keepRound(id, { ...this.ofLayer(), stage, raise: String(this.settled('raise') ?? 0), aside: this.aside });
  }

  private ofLayer(): OfLayer {
    const { layer, lift, from, to, stop, reading } = this;
    return { layer, lift, from, to, stop, reading, at: String(this.settled('at') ?? 0) };
  }
}
