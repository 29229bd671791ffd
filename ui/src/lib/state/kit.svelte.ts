import { backend, Fault, type Trouble } from '../backend';
import { kitOf, kitTyped, newKit, newPlant, newVehicle, type KitTyped } from '../domain/kit';
import { say } from '../words/say';
import { drafts } from './drafts.svelte';
import { isForm } from './form.svelte';
import { Reading } from './question.svelte';

/** How long the typing rests before it is kept. */
const REST_MS = 250;
const DRAFT = 'own_kit';

const isKit = (value: unknown): value is KitTyped | null =>
  value === null ||
  (typeof value === 'object' && 'plant' in value && 'bags' in value && 'vehicles' in value &&
    Array.isArray(value.plant) && value.plant.every(isForm(newPlant())) &&
    Array.isArray(value.vehicles) && value.vehicles.every(isForm(newVehicle())) &&
    typeof value.bags === 'object' && value.bags !== null && Object.values(value.bags).every((typed) => typeof typed === 'string'));

/**
 * The person's own plant, bags and vehicles being typed: kept as soon as all of it can be. What cannot
 * be yet stays typed as a draft.
 */
export class OwnKitDraft {
  typed = $state<KitTyped | null>(null);
  fault = $state.raw<Fault | null>(null);
  /** Whether what is typed is what is kept. */
  kept = $state(true);
  /** Everything that is wrong with what is typed. */
  problems = $state.raw<readonly Trouble[]>([]);
  private timer: ReturnType<typeof setTimeout> | undefined;
  /** What is kept last wins: each waits for the one before. */
  private keeping: Promise<void> = Promise.resolve();

  async load(): Promise<void> {
    try {
      const own = await backend.ask('own_kit', {});
      const draft = drafts.read<KitTyped | null>(DRAFT, null, isKit);
      this.typed = draft ? structuredClone(draft) : kitTyped(own);
      this.fault = null;
      if (draft) this.keep();
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    }
  }

  /** What is wrong at a place of the kit. */
  problem(...places: string[]): Trouble | undefined {
    return this.problems.find((p) => places.includes(p.at));
  }

  /** To be called with every key typed. */
  changed(): void {
    this.kept = false;
    drafts.keep(DRAFT, $state.snapshot(this.typed));
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.keep(), REST_MS);
  }

  addPlant(): void {
    this.typed?.plant.push(newPlant());
    this.changed();
  }

  addVehicle(): void {
    this.typed?.vehicles.push(newVehicle());
    this.changed();
  }

  takeAway(list: 'plant' | 'vehicles', row: number): void {
    this.typed?.[list].splice(row, 1);
    this.changed();
  }

  /** Keeps it now, unless something of it is wrong. */
  keep(): void {
    clearTimeout(this.timer);
    this.keeping = this.keeping.then(() => this.send());
  }

  private async send(): Promise<void> {
    const typed = $state.snapshot(this.typed) ?? newKit();
    const reading = new Reading();
    const kit = kitOf(typed, reading);
    const missing = typed.vehicles.flatMap(({ volume, mass }, i) =>
      Object.entries({ volume_m3: volume, mass_t: mass }).flatMap(([key, text]) =>
        text.trim() === '' ? [{ at: `/vehicles/${i}/${key}`, problem: say('kit.missing'), right: say('place.right') }] : [],
      ),
    );
    this.problems = [...reading.problems, ...missing];
    this.kept = false;
    if (this.problems.length) return;
    try {
      await backend.ask('keep_own_kit', kit);
      this.fault = null;
      if (JSON.stringify($state.snapshot(this.typed)) !== JSON.stringify(typed)) return;
      this.kept = true;
      drafts.forget(DRAFT);
    } catch (thrown) {
      const fault = Fault.from(thrown);
      this.problems = fault.code === 'bad_input' ? fault.problems : [];
      this.fault = fault.code === 'bad_input' ? null : fault;
    }
  }
}
