import { Fault } from '../backend';

/** One thing that a screen does and waits for: at most one at a time, its fault kept for the screen. */
export class Task {
  busy = $state(false);
  fault = $state.raw<Fault | null>(null);

  /** Does it; says whether it was done. A second press while it runs does nothing. */
  async run(work: () => Promise<unknown>): Promise<boolean> {
    if (this.busy) return false;
    this.busy = true;
    this.fault = null;
    try {
      await work();
      return true;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
      return false;
    } finally {
      this.busy = false;
    }
  }
}
