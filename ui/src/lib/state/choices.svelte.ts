import { backend, Fault } from '../backend';
import type { ChoicesView } from '../generated/types';

/** What there is to choose from: specifications, kinds of machine, goods. The same for every plan, so asked for once. */
class Choices {
  view = $state.raw<ChoicesView | null>(null);
  fault = $state.raw<Fault | null>(null);
  private asking = false;

  async load(): Promise<void> {
    if (this.view || this.asking) return;
    this.asking = true;
    try {
      this.view = await backend.ask('choices', {});
      this.fault = null;
    } catch (thrown) {
      this.fault = Fault.from(thrown);
    } finally {
      this.asking = false;
    }
  }
}

export const choices = new Choices();
