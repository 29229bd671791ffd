import { backend, Fault } from '../backend';
import type { Shelf, Started } from '../generated/types';
import { drafts } from './drafts.svelte';

/** The shelf and who holds the phone. */
class App {
  shelf = $state.raw<Shelf | null>(null);
  fault = $state.raw<Fault | null>(null);

  /** Who holds the phone; empty until a name is given. */
  get person(): string {
    return this.shelf?.person ?? '';
  }

  /** Everyone who has logged on this phone. */
  get people(): readonly string[] {
    return this.shelf?.people ?? [];
  }

  async load(): Promise<void> {
    try {
      // The first screen is drawn as soon as the shelf is there, and reads what was typed.
      await drafts.load();
      await this.readShelf();
      this.fault = null;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    }
  }

  async setPerson(name: string): Promise<void> {
    await backend.ask('set_person', { name });
    await this.readShelf();
  }

  async startSample(): Promise<string> {
    return this.started(await backend.ask('start_sample', {}));
  }

  async startJob(text: string): Promise<string> {
    return this.started(await backend.ask('start_job', { text }));
  }

  async readShelf(): Promise<void> {
    this.shelf = await backend.ask('shelf', {});
  }

  private async started({ job }: Started): Promise<string> {
    await this.readShelf();
    return job;
  }
}

export const app = new App();
