import type { JobView, Layer, PassRow } from '../generated/types';
import { layerInHand } from '../domain/dips';
import { drafts } from './drafts.svelte';
import { openJob } from './job.svelte';
import { buzz } from './phone';

/** What was seen under the plate at the last pass, where the person says it. */
export type Moving = 'still_moving' | 'nothing_moves';

interface Kept {
  stage: string;
  layer: Layer;
  lift: number | null;
  plant: string;
}

const isKept = (value: unknown): value is Kept | null =>
  value === null || (typeof value === 'object' && 'stage' in value && 'plant' in value);

/** The passes that are logged next are of this layer. */
export function aimPasses({ id, stage, plants }: JobView, layer: Layer, lift: number | null): void {
  const kept = drafts.read<Kept | null>(`pass.${id}`, null, isKept);
  drafts.keep(`pass.${id}`, { stage, layer, lift, plant: kept?.plant || (plants[0] ?? '') } satisfies Kept);
}

/** Passes over one layer with one machine; both are remembered between visits. */
export class PassCount {
  layer = $state<Layer>('formation');
  lift = $state<number | null>(null);
  plant = $state('');
  /** Said of the next pass only: each is looked at anew. */
  moving = $state<Moving | null>(null);

  private readonly stage: string;
  private readonly draft: string;

  constructor(view: JobView) {
    this.stage = view.stage;
    this.draft = `pass.${view.id}`;
    const kept = drafts.read<Kept | null>(this.draft, null, isKept);
    this.plant = kept?.plant || (view.plants[0] ?? '');
    const still = kept?.stage === view.stage && view.layers.some((l) => l.layer === kept.layer && l.lift === kept.lift);
    const inHand = still ? kept : layerInHand(view);
    if (inHand) Object.assign(this, { layer: inHand.layer, lift: inHand.lift });
  }

  chooseLayer(layer: Layer, lift: number | null): void {
    Object.assign(this, { layer, lift });
    this.save();
  }

  choosePlant(plant: string): void {
    this.plant = plant;
    this.save();
  }

  /** What the core counts for this layer and machine; none before the first pass. */
  rowIn(view: JobView): PassRow | null {
    const row = view.passes.find((p) => p.layer === this.layer && p.lift === this.lift && p.plant === this.plant);
    return row ?? null;
  }

  async add(): Promise<void> {
    const lift = this.lift === null ? {} : { lift: this.lift };
    // Taken for this pass at once: what is said while it is being kept is said of the next.
    const said = this.moving;
    this.moving = null;
    const moving = said === null ? {} : { still_moving: said === 'still_moving' };
    try {
      await openJob.log('pass', { layer: this.layer, ...lift, plant: this.plant, ...moving });
    } catch (thrown) {
      this.moving ??= said;
      throw thrown;
    }
    buzz();
    this.save();
  }

  private save(): void {
    const { stage, layer, lift, plant } = this;
    drafts.keep(this.draft, { stage, layer, lift, plant } satisfies Kept);
  }
}
