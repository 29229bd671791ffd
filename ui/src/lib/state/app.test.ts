import { expect, it, vi } from 'vitest';

const waiting = vi.hoisted(() => new Map<string, (answer: unknown) => void>());

vi.mock('../backend', () => ({
  backend: { ask: (request: string) => new Promise((answer) => waiting.set(request, answer)) },
  Fault: { from: (thrown: unknown) => thrown },
}));

import { app } from './app.svelte';
import { drafts } from './drafts.svelte';

const isText = (value: unknown): value is string => typeof value === 'string';

it('draws no screen before what was typed is there, however slowly it comes', async () => {
  const loaded = app.load();
  waiting.get('shelf')?.({ jobs: [], person: 'Mina', people: [], notices: [] });
  await Promise.resolve();
  expect(app.shelf).toBeNull();
  waiting.get('drafts')?.({ note: 'rain until three' });
  await vi.waitFor(() => expect(waiting.has('shelf')).toBe(true));
  expect(drafts.read('note', '', isText)).toBe('rain until three');
  waiting.get('shelf')?.({ jobs: [], person: 'Mina', people: [], notices: [] });
  await loaded;
  expect(app.shelf?.person).toBe('Mina');
});
