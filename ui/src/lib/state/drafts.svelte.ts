import { backend } from '../backend';

/** How long the typing must rest before it is kept. */
const REST_MS = 200;

/** Unsaved input, kept as it is typed, so that a call or an empty battery loses nothing. */
class KeptDrafts {
  private values = new Map<string, unknown>();
  private waiting = new Map<string, unknown>();
  private timer: ReturnType<typeof setTimeout> | undefined;
  /** What was sent last: the next waits for its answer, so that an older value never comes after. */
  private sending: Promise<void> = Promise.resolve();

  constructor() {
    if (typeof document === 'undefined') return;
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'hidden') void this.send();
    });
    window.addEventListener('pagehide', () => void this.send());
  }

  async load(): Promise<void> {
    const kept = await backend.ask('drafts', {});
    this.values = new Map(Object.entries(kept));
  }

  /** What was typed under a key, or the fallback where nothing was, or not of this shape. */
  read<T>(key: string, fallback: T, fits: (value: unknown) => value is T): T {
    const value = this.values.get(key);
    return fits(value) ? value : fallback;
  }

  /** Keeps what is typed once the typing rests. */
  keep(key: string, value: unknown): void {
    this.values.set(key, value);
    this.waiting.set(key, value);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.flush(), REST_MS);
  }

  /** Keeps a value at once; it is on disk when this returns. */
  async keepNow(key: string, value: unknown): Promise<void> {
    this.keep(key, value);
    await this.flush();
  }

  /** Forgets a key: what it held is logged or thrown away. */
  forget(key: string): void {
    this.values.delete(key);
    this.waiting.set(key, null);
    void this.flush();
  }

  private flush(): Promise<void> {
    clearTimeout(this.timer);
    this.sending = this.sending.then(() => this.send());
    return this.sending;
  }

  private async send(): Promise<void> {
    const due = [...this.waiting];
    this.waiting.clear();
    try {
      // All are sent before the first answer: the page may be going.
      await Promise.all(due.map(([key, value]) => backend.ask('keep_draft', { key, value })));
    } catch {
      // What could not be kept waits for the next time; the screen itself still holds it.
      for (const [key, value] of due) if (!this.waiting.has(key)) this.waiting.set(key, value);
    }
  }
}

export const drafts = new KeptDrafts();
