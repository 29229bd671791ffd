import type { JobView, Stage } from '../generated/types';
import { CameraPhoto } from './camera.svelte';
import { drafts } from './drafts.svelte';
import { openJob } from './job.svelte';
import { buzz } from './phone';

interface Attached {
  sha256: string | null;
  awaited: boolean;
}

const isAttached = (value: unknown): value is Attached =>
  typeof value === 'object' && value !== null && 'sha256' in value && 'awaited' in value;

/** A photo that goes into the diary with something else. */
export class AttachedPhoto extends CameraPhoto {
  private readonly draft: string;

  constructor(draft: string) {
    super();
    this.draft = draft;
    const kept = drafts.read<Attached>(draft, { sha256: null, awaited: false }, isAttached);
    this.sha256 = kept.sha256;
    this.awaited = kept.awaited;
  }

  save(): void {
    drafts.keep(this.draft, this.kept());
  }

  /** Lets go of the photo. */
  leave(): void {
    Object.assign(this, { sha256: null, left: false, awaited: false });
    drafts.forget(this.draft);
  }

  protected saveNow(): Promise<void> {
    return drafts.keepNow(this.draft, this.kept());
  }

  private kept(): Attached {
    return { sha256: this.sha256, awaited: this.awaited };
  }
}

interface Kept {
  stage: Stage;
  caption: string;
  pin?: string;
  sha256: string | null;
  /** The camera was opened from here, and what it took has not come back. */
  awaited?: boolean;
}

const isKept = (value: unknown): value is Kept | null =>
  value === null || (typeof value === 'object' && 'stage' in value && 'caption' in value);

/** A photo on its way into the diary: taken, kept on disk, captioned, logged. */
export class PhotoInHand extends CameraPhoto {
  stage = $state<Stage>('before_start');
  caption = $state('');
  /** The pin it is taken at; none where it is of no one place. */
  pin = $state('');
  private readonly draft: string;

  constructor(view: JobView) {
    super();
    this.draft = `photo.${view.id}`;
    this.stage = view.stage;
    const kept = drafts.read<Kept | null>(this.draft, null, isKept);
    if (kept) Object.assign(this, { stage: kept.stage, caption: kept.caption, pin: kept.pin ?? '', sha256: kept.sha256, awaited: kept.awaited ?? false });
  }

  save(): void {
    drafts.keep(this.draft, this.kept());
  }

  async log(): Promise<void> {
    if (this.sha256 === null) return;
    const pin = this.pin === '' ? {} : { pin: this.pin };
    await openJob.log('photo', { sha256: this.sha256, caption: this.caption.trim(), stage: this.stage, ...pin });
    buzz();
    this.leave();
  }

  /** Lets go of the photo in hand without logging it. */
  leave(): void {
    Object.assign(this, { sha256: null, caption: '', pin: '', left: false, awaited: false });
    drafts.forget(this.draft);
  }

  protected saveNow(): Promise<void> {
    return drafts.keepNow(this.draft, this.kept());
  }

  private kept(): Kept {
    return { stage: this.stage, caption: this.caption, pin: this.pin, sha256: this.sha256, awaited: this.awaited };
  }
}
