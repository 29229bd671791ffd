import { expect, it, vi } from 'vitest';

const asked = vi.hoisted(() => [] as { value: unknown; answer: () => void }[]);

vi.mock('../backend', () => ({
  backend: {
    ask: (_: string, { value }: { value: unknown }) => new Promise<void>((answer) => asked.push({ value, answer })),
  },
}));

import { drafts } from './drafts.svelte';

it('never sends a newer value before the older one is answered', async () => {
  const kept = drafts.keepNow('photo.7', 'the door');
  await vi.waitFor(() => expect(asked).toHaveLength(1));
  drafts.forget('photo.7');
  await new Promise((turn) => setTimeout(turn));
  expect(asked.map(({ value }) => value)).toEqual(['the door']);
  asked[0]?.answer();
  await kept;
  await vi.waitFor(() => expect(asked).toHaveLength(2));
  expect(asked[1]?.value).toBeNull();
});
