import type { Stage } from '../generated/types';

/** The four places of a job. */
export const PLACES = ['today', 'drawing', 'diary', 'papers'] as const;
export type Place = (typeof PLACES)[number];

/** The screens that log one kind of thing. */
export const TOOLS = ['dip', 'pass', 'photo', 'note', 'delivery', 'change'] as const;
export type Tool = (typeof TOOLS)[number];

/** What else is logged on the site. */
export const SITE_TOOLS = ['weather', 'soft-spots', 'spread', 'drop-test', 'concrete', 'packs', 'snags', 'close-day'] as const;
export type SiteTool = (typeof SITE_TOOLS)[number];

/** What can be handed over, each with a page of its own. */
export const PAPERS = ['record', 'setting_out', 'order_list', 'care_sheet', 'change_note', 'data', 'check'] as const;
export type Paper = (typeof PAPERS)[number];

/** The pages of a plan, in order. */
export const STEPS = ['use', 'shape', 'levels', 'layers', 'blocks', 'check'] as const;
export type Step = (typeof STEPS)[number];

/** The tables that work without a job, in their order on the page. */
export const TABLES = ['levels', 'curve', 'fall', 'passes', 'drop', 'mix', 'swell', 'vibration'] as const;
export type Table = (typeof TABLES)[number];

const STAGES: readonly Stage[] = [
  'before_start', 'excavate', 'compact_formation', 'sub_base', 'bed', 'screed',
  'lay', 'cut', 'joint', 'restrain_edges', 'hand_over', 'return_visit',
];

/** Which screen is open. It lives in the address, so that the phone's own Back works. */
export type Route =
  | { screen: 'shelf' }
  | { screen: 'settings' }
  | { screen: 'tables'; job: string | null }
  | { screen: 'table'; job: string | null; table: Table }
  | { screen: 'plan'; job: string | null; step: Step }
  | { screen: 'place'; job: string; place: Place }
  | { screen: 'paper'; job: string; paper: Paper; number: number | null }
  | { screen: 'sign'; job: string; change: number | null }
  | { screen: 'tool'; job: string; tool: Tool }
  | { screen: 'site'; job: string; tool: SiteTool }
  | { screen: 'order'; job: string }
  | { screen: 'courses'; job: string }
  | { screen: 'stage'; job: string; stage: Stage };

/** Reads an address. One that means nothing is the shelf. */
export function parseRoute(hash: string): Route {
  const parts = hash.replace(/^#?\/?/, '').split('/').map(decode);
  const [head, job, what, detail, more] = parts;
  if (head === 'new') return { screen: 'plan', job: null, step: stepOf(job) };
  if (head === 'tables') return tablesOf(null, job);
  if (head === 'settings') return { screen: 'settings' };
  if (head !== 'job' || !job) return { screen: 'shelf' };
  if (what === undefined || what === '') return { screen: 'place', job, place: 'today' };
  if (what === 'sign') return { screen: 'sign', job, change: numberOf(detail) };
  const paper = what === 'papers' ? PAPERS.find((p) => p === detail) : undefined;
  if (paper) return { screen: 'paper', job, paper, number: numberOf(more) };
  const place = PLACES.find((p) => p === what);
  if (place) return { screen: 'place', job, place };
  if (what === 'plan') return { screen: 'plan', job, step: stepOf(detail) };
  if (what === 'tables') return tablesOf(job, detail);
  if (what === 'order' || what === 'courses') return { screen: what, job };
  const tool = TOOLS.find((t) => t === what);
  if (tool) return { screen: 'tool', job, tool };
  const site = SITE_TOOLS.find((t) => t === what);
  if (site) return { screen: 'site', job, tool: site };
  const stage = what === 'stage' ? STAGES.find((s) => s === detail) : undefined;
  if (stage) return { screen: 'stage', job, stage };
  return { screen: 'place', job, place: 'today' };
}

/** Whether an address is that of a screen, and not only led to the nearest. */
export function isAddress(hash: string): boolean {
  const plain = (text: string) => text.replace(/^#?\/?/, '').replace(/\/$/, '').split('/').map(decode).join('/');
  const typed = plain(hash).replace(/(^new|\/plan)\/use$/, '$1').replace(/^(job\/[^/]+)\/today$/, '$1');
  return typed === plain(hrefOf(parseRoute(hash)));
}

/** Writes the address of a screen. */
export function hrefOf(route: Route): string {
  switch (route.screen) {
    case 'shelf':
      return '#/';
    case 'settings':
      return '#/settings';
    case 'tables':
      return route.job === null ? '#/tables' : `#/job/${encode(route.job)}/tables`;
    case 'table':
      return `${hrefOf({ screen: 'tables', job: route.job })}/${route.table}`;
    case 'plan': {
      const start = route.job === null ? '#/new' : `#/job/${encode(route.job)}/plan`;
      return route.step === 'use' ? start : `${start}/${route.step}`;
    }
    case 'place':
      return route.place === 'today' ? `#/job/${encode(route.job)}` : `#/job/${encode(route.job)}/${route.place}`;
    case 'paper':
      return `#/job/${encode(route.job)}/papers/${route.paper}${route.number === null ? '' : `/${route.number}`}`;
    case 'sign':
      return `#/job/${encode(route.job)}/sign${route.change === null ? '' : `/${route.change}`}`;
    case 'tool':
    case 'site':
      return `#/job/${encode(route.job)}/${route.tool}`;
    case 'order':
    case 'courses':
      return `#/job/${encode(route.job)}/${route.screen}`;
    case 'stage':
      return `#/job/${encode(route.job)}/stage/${route.stage}`;
  }
}

function tablesOf(job: string | null, name: string | undefined): Route {
  const table = TABLES.find((t) => t === name);
  return table ? { screen: 'table', job, table } : { screen: 'tables', job };
}

function stepOf(text: string | undefined): Step {
  return STEPS.find((s) => s === text) ?? 'use';
}

/** A change's number, from 1. */
function numberOf(text: string | undefined): number | null {
  return text !== undefined && /^[1-9]\d{0,5}$/.test(text) ? Number(text) : null;
}

function encode(text: string): string {
  return encodeURIComponent(text);
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
