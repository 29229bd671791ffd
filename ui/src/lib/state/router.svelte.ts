import { hrefOf, parseRoute, type Route } from './route';
import { trailBack, trailTo, type Trail } from './trail';

/** The screen that is open, read from the address and written to it. */
class Router {
  route = $state.raw<Route>(parseRoute(location.hash));
  private trail: Trail = [];

  constructor() {
    this.arrive();
    window.addEventListener('hashchange', () => this.arrive());
  }

  /** Opens a screen; Back returns to this one. */
  go(route: Route): void {
    location.hash = hrefOf(route);
  }

  /**
   * Leaves a screen that is finished with, or the pages of one: Back does not return to it.
   * Where the trail comes from the screen to go to, this is the phone's own Back.
   */
  finish(to: Route): void {
    const href = hrefOf(to);
    const { steps, there } = trailBack(this.trail, href);
    if (there) {
      history.go(-steps);
    } else if (steps > 1) {
      window.addEventListener('popstate', () => this.replace(href), { once: true });
      history.go(1 - steps);
    } else {
      this.replace(href);
    }
  }

  private replace(href: string): void {
    history.replaceState(history.state, '', href);
    this.arrive();
  }

  /** Each entry of the phone's history knows how far along the trail it is. */
  private arrive(): void {
    this.route = parseRoute(location.hash);
    const depth = depthOf(history.state);
    this.trail = trailTo(this.trail, hrefOf(this.route), depth);
    if (depth === null) history.replaceState({ depth: this.trail.length - 1 }, '');
  }
}

function depthOf(state: unknown): number | null {
  return typeof state === 'object' && state !== null && 'depth' in state && typeof state.depth === 'number' ? state.depth : null;
}

export const router = new Router();
