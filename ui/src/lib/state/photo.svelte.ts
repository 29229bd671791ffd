import { backend } from '../backend';
import type { JobView, Stage } from '../generated/types';
import { drafts } from './drafts.svelte';
import { openJob } from './job.svelte';
import { buzz } from './phone';

interface Kept {
  stage: Stage;
  caption: string;
  sha256: string | null;
  /** The camera was opened from here, and what it took has not come back. */
  awaited?: boolean;
}

const isKept = (value: unknown): value is Kept | null =>
  value === null || (typeof value === 'object' && 'stage' in value && 'caption' in value);

/** A photo on its way into the diary: taken, kept on disk, captioned, logged. */
export class PhotoInHand {
  stage = $state<Stage>('before_start');
  caption = $state('');
  /** The kept bytes, once there are some. */
  sha256 = $state<string | null>(null);
  /** Taken while the phone had closed the app. */
  left = $state(false);

  private awaited = false;
  private readonly draft: string;

  constructor(view: JobView) {
    this.draft = `photo.${view.id}`;
    this.stage = view.stage;
    const kept = drafts.read<Kept | null>(this.draft, null, isKept);
    if (kept) Object.assign(this, { stage: kept.stage, caption: kept.caption, sha256: kept.sha256, awaited: kept.awaited ?? false });
  }

  /** On disk before the camera opens: the phone may end the app meanwhile. */
  async beforeCamera(): Promise<void> {
    this.awaited = true;
    await drafts.keepNow(this.draft, this.kept());
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

  private hold(sha256: string): void {
    this.sha256 = sha256;
    this.awaited = false;
    this.save();
  }

  private kept(): Kept {
    return { stage: this.stage, caption: this.caption, sha256: this.sha256, awaited: this.awaited };
  }
}
