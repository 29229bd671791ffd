// The demo job as it lies in the fixtures: its plan, its diary line by line, its photos.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const file = (name) => fileURLToPath(new URL(`../../../fixtures/demo/${name}`, import.meta.url));

export const planFile = file('garden-path.json');

export const plan = () => JSON.parse(readFileSync(planFile, 'utf8'));

export const lines = () => readFileSync(file('garden-path.jsonl'), 'utf8').trim().split('\n').map((line) => JSON.parse(line));

export const picture = (name) => file(`photos/${name}`);

/** A layer and its lift as the screens' choices have them. */
export const layerKey = ({ layer, lift }) => (lift ? `${layer}:${lift}` : layer);

const DAY_MS = 86_400_000;

/** A day that a line speaks of, as far from the phone's today as it is from the line's own. */
export function dayFromToday(day, { at }) {
  const days = Math.round((Date.parse(day) - Date.parse(at.slice(0, 10))) / DAY_MS);
  return new Date(Date.now() + days * DAY_MS).toLocaleDateString('en-CA', { timeZone: 'Europe/London' });
}

/** Minutes as the screens ask for them. */
export const hours = (minutes) => (minutes === undefined ? undefined : minutes / 60);
