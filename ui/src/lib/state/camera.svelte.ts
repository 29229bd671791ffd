import { backend } from '../backend';

/** A photo from the camera or the gallery, kept on disk before anything names it. */
export abstract class CameraPhoto {
  /** The kept bytes, once there are some. */
  sha256 = $state<string | null>(null);
  /** Taken while the phone had closed the app. */
  left = $state(false);
  /** The camera was opened from here, and what it took has not come back. */
  protected awaited = false;

  /** To be called with every change of what is in hand. */
  abstract save(): void;

  /** The same, on disk when it returns. */
  protected abstract saveNow(): Promise<void>;

  /** On disk before the camera opens: the phone may end the app meanwhile. */
  async beforeCamera(): Promise<void> {
    this.awaited = true;
    await this.saveNow();
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

  private hold(sha256: string): void {
    this.sha256 = sha256;
    this.awaited = false;
    this.save();
  }
}
