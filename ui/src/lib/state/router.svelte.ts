import { untrack } from 'svelte';

import { hrefOf, isAddress, parseRoute, type Route } from './route';
import { trailBack, trailTo, type Trail } from './trail';

/** What each entry of the phone's history knows: how far along the trail it is, and under how many sheets. */
interface Place {
  depth: number;
  sheets: number;
}

/** The screen that is open, read from the address and written to it. */
class Router {
  route = $state.raw<Route>(parseRoute(location.hash));
  /** Whether the address is of no screen: what is open is the nearest to it. */
  lost = $state(!isAddress(location.hash));
  private trail: Trail = [];
  /** How to close each sheet that lies over the screen, the one on top last. */
  private sheets: (() => void)[] = [];
  /** A step through the history that has not arrived yet. */
  private going: Promise<void> | null = null;

  constructor() {
    this.arrive();
    window.addEventListener('popstate', () => this.arrive());
    // Follows a popstate where one goes back and forth: arriving twice at a closed sheet's entry would
    // pass over the one before it too.
    window.addEventListener('hashchange', () => {
      if (placeOf(history.state) === null) this.arrive();
    });
  }

  /** Opens a screen; Back returns to this one. */
  go(route: Route): void {
    this.after(() => (location.hash = hrefOf(route)));
  }

  /** The screen of this job that Back would lead to; none where one came from elsewhere. */
  before(job: string): string | null {
    const href = this.trail.at(-2) ?? '';
    const route = parseRoute(href);
    return href !== '' && 'job' in route && route.job === job ? href : null;
  }

  /**
   * Leaves a screen that is finished with, or the pages of one: Back does not return to it.
   * Where the trail comes from the screen to go to, this is the phone's own Back.
   */
  finish(to: Route): void {
    this.after(() => this.leave(hrefOf(to)));
  }

  /** Lays a sheet over the screen: Back closes it before it leaves the screen. Gives what takes it away. */
  lay(close: () => void): () => void {
    this.after(() => {
      this.sheets.push(close);
      history.pushState({ depth: this.trail.length, sheets: this.sheets.length } satisfies Place, '');
      this.arrive();
    });
    return () => this.after(() => this.lift(close));
  }

  private lift(close: () => void): void {
    const at = this.sheets.indexOf(close);
    if (at >= 0) this.travel(at - this.sheets.length);
  }

  private leave(href: string): void {
    const { steps, there } = trailBack(this.trail, href);
    if (there) {
      this.travel(-steps);
    } else if (steps > 1) {
      window.addEventListener('popstate', () => this.replace(href), { once: true });
      this.travel(1 - steps);
    } else {
      this.replace(href);
    }
  }

  private replace(href: string): void {
    history.replaceState(history.state, '', href);
    this.arrive();
  }

  /** Goes through the history; what comes next waits until it has arrived. */
  private travel(steps: number): void {
    const arrived = new Promise((done) => window.addEventListener('popstate', done, { once: true }));
    const going = arrived.then(() => {
      if (this.going === going) this.going = null;
    });
    this.going = going;
    history.go(steps);
  }

  /** Does it once nothing is on its way. Who asks for it does not depend on the screen that is open. */
  private after(work: () => void): void {
    if (this.going) void this.going.then(() => this.after(work));
    else untrack(work);
  }

  private arrive(): void {
    const place = placeOf(history.state);
    const href = hrefOf(parseRoute(location.hash));
    if (href !== hrefOf(this.route)) this.route = parseRoute(href);
    this.lost = !isAddress(location.hash);
    this.trail = trailTo(this.trail, href, place?.depth ?? null);
    if (place === null) history.replaceState({ depth: this.trail.length - 1, sheets: 0 } satisfies Place, '');
    const sheets = place?.sheets ?? 0;
    for (const close of this.sheets.splice(sheets).reverse()) close();
    // A sheet that was left for another screen, or before a reload, is closed: its entry is passed over.
    if (this.sheets.length < sheets) this.travel(-1);
  }
}

function placeOf(state: unknown): Place | null {
  const is = typeof state === 'object' && state !== null && 'depth' in state && 'sheets' in state;
  return is && typeof state.depth === 'number' && typeof state.sheets === 'number' ? { depth: state.depth, sheets: state.sheets } : null;
}

export const router = new Router();
