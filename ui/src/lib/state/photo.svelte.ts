import { backend } from '../backend';
import type { JobView, Stage } from '../generated/types';
import { drafts } from './drafts.svelte';
import { openJob } from './job.svelte';
import { buzz } from './phone';

/** A photo from the camera or the gallery: its bytes are kept, and it is not in the diary yet. */
export abstract class CameraPhoto {
  /** The kept bytes, once there are some. */
  sha256 = $state<string | null>(null);
  /** Taken while the phone had closed the app. */
  left = $state(false);
  /** The camera was opened from here, and what it took has not come back. */
  protected awaited = false;

  /** On disk before the camera opens: the phone may end the app meanwhile. */
  async beforeCamera(): Promise<void> {
    this.awaited = true;
    await this.keepNow();
  }

  /** Takes in hand what the camera took after the phone had closed the app; says whether there is any. */
  async pickUp(): Promise<boolean> {
    if (!this.awaited) return false;
    this.awaited = false;
    const kept = await backend.leftPhoto();
    if (kept === null) return false;
    this.left = true;
    this.hold(kept.sha256);
    return true;
  }

  /** Keeps the bytes that the camera gave. */
  async take(file: File): Promise<void> {
    const bytes = new Uint8Array(await file.arrayBuffer());
    this.hold((await backend.keepPhoto(bytes)).sha256);
  }

  /** The camera was closed without a photo. */
  notTaken(): void {
    this.awaited = false;
    this.save();
  }

  abstract save(): void;
  protected abstract keepNow(): Promise<void>;

  private hold(sha256: string): void {
    this.sha256 = sha256;
    this.awaited = false;
    this.save();
  }
}

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

  protected keepNow(): Promise<void> {
    return drafts.keepNow(this.draft, this.kept());
  }

  private kept(): Attached {
    return { sha256: this.sha256, awaited: this.awaited };
  }
}

interface Kept {
  stage: Stage;
  caption: string;
  sha256: string | null;
  awaited?: boolean;
}

const isKept = (value: unknown): value is Kept | null =>
  value === null || (typeof value === 'object' && 'stage' in value && 'caption' in value);

/** A photo on its way into the diary: taken, kept on disk, captioned, logged. */
export class PhotoInHand extends CameraPhoto {
  stage = $state<Stage>('before_start');
  caption = $state('');

  private readonly draft: string;

  constructor(view: JobView) {
    super();
    this.draft = `photo.${view.id}`;
    this.stage = view.stage;
    const kept = drafts.read<Kept | null>(this.draft, null, isKept);
    if (!kept) return;
    Object.assign(this, { stage: kept.stage, caption: kept.caption, sha256: kept.sha256 });
    this.awaited = kept.awaited ?? false;
  }

  save(): void {
    drafts.keep(this.draft, this.kept());
  }

  async log(): Promise<void> {
    if (this.sha256 === null) return;
    await openJob.log('photo', { sha256: this.sha256, caption: this.caption.trim(), stage: this.stage });
    buzz();
    this.leave();
  }

  /** Lets go of the photo in hand without logging it. */
  leave(): void {
    Object.assign(this, { sha256: null, caption: '', left: false, awaited: false });
    drafts.forget(this.draft);
  }

  protected keepNow(): Promise<void> {
    return drafts.keepNow(this.draft, this.kept());
  }

  private kept(): Kept {
    return { stage: this.stage, caption: this.caption, sha256: this.sha256, awaited: this.awaited };
  }
}
