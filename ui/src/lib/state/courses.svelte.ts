import type { CutSizeFigures } from '../generated/types';
import { drafts } from './drafts.svelte';

interface Kept {
  hand: number;
  sawn: Record<string, number>;
}

function isCount(value: unknown): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0;
}

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null || !('hand' in value) || !('sawn' in value)) return false;
  const { hand, sawn } = value;
  return isCount(hand) && hand > 0 && typeof sawn === 'object' && sawn !== null && Object.values(sawn).every(isCount);
}

/** A size is the same piece in a revised plan. */
function keyOf({ long_mm, short_mm, width_mm }: CutSizeFigures): string {
  return [long_mm, short_mm, width_mm].map(Math.round).join('x');
}

/** Where the laying of a job stands on this phone: the course in hand, and the pieces that are sawn. */
export class CoursesInHand {
  private readonly key: string;
  private kept = $state<Kept>({ hand: 1, sawn: {} });

  constructor(job: string) {
    this.key = `courses.${job}`;
    const { hand, sawn } = drafts.read(this.key, this.kept, isKept);
    this.kept = { hand, sawn: { ...sawn } };
  }

  /** The course in hand, from 1. */
  get hand(): number {
    return this.kept.hand;
  }

  take(hand: number): void {
    this.kept.hand = Math.max(1, hand);
    this.keep();
  }

  /** Pieces of a size that are sawn: never more than there are. */
  sawn(size: CutSizeFigures): number {
    return Math.min(size.count, this.kept.sawn[keyOf(size)] ?? 0);
  }

  sawnOf(sizes: readonly CutSizeFigures[]): number {
    return sizes.reduce((all, size) => all + this.sawn(size), 0);
  }

  /** So many more pieces of a size are sawn, or fewer. */
  saw(size: CutSizeFigures, by: number): void {
    this.kept.sawn[keyOf(size)] = Math.min(size.count, Math.max(0, this.sawn(size) + by));
    this.keep();
  }

  private keep(): void {
    drafts.keep(this.key, $state.snapshot(this.kept));
  }
}
