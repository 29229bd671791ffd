import { parseRoute } from './route';

/** The addresses that Back would go through, the one that is open last. */
export type Trail = readonly string[];

/** The trail after arriving: at a place of it that was there before, or one further. */
export function trailTo(trail: Trail, href: string, depth: number | null): Trail {
  if (depth === null) return [...trail, href];
  // Places that this run of the app has not seen itself, as after a reload, lead nowhere known.
  const before = Array.from({ length: depth }, (_, i) => trail[i] ?? '');
  return [...before, href];
}

/**
 * How many steps back lead to an address, where the trail comes from it; else how many leave the
 * screen that is open with all its pages.
 */
export function trailBack(trail: Trail, href: string): { steps: number; there: boolean } {
  const last = trail.slice(0, -1).lastIndexOf(href);
  if (last >= 0) return { steps: trail.length - 1 - last, there: true };
  const kind = kindOf(trail.at(-1) ?? '');
  let steps = 1;
  while (steps < trail.length && kindOf(trail[trail.length - 1 - steps] ?? '') === kind) steps += 1;
  return { steps, there: false };
}

/** The pages of a plan are one screen; every other address is its own. */
function kindOf(href: string): string {
  const route = parseRoute(href);
  return route.screen === 'plan' ? `plan ${route.job ?? ''}` : href;
}
