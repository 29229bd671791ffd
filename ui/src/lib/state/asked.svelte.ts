import { backend, Fault, type Arguments, type Reply, type Request } from '../backend';

/** How long the typing rests before it is looked over. */
const REST_MS = 120;

/** What the core says of something that is being typed: the answer to what was asked last. */
export class Asked<K extends Request> {
  answer = $state.raw<Reply<K> | null>(null);
  fault = $state.raw<Fault | null>(null);
  private readonly request: K;
  private turn = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(request: K) {
    this.request = request;
  }

  /** Asks once the typing rests. */
  soon(args: Arguments<K>, rest = REST_MS): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.ask(args), rest);
  }

  async ask(args: Arguments<K>): Promise<void> {
    clearTimeout(this.timer);
    const turn = ++this.turn;
    try {
      const answer = await backend.ask(this.request, args);
      if (turn !== this.turn) return;
      this.answer = answer;
      this.fault = null;
    } catch (thrown) {
      if (turn === this.turn) this.fault = Fault.from(thrown);
    }
  }

  /** Nothing is asked any more. */
  forget(): void {
    clearTimeout(this.timer);
    this.turn += 1;
    this.answer = null;
    this.fault = null;
  }
}
