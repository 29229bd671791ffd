import { expect, it, vi } from 'vitest';

import type { JobView } from '../generated/types';

const log = vi.hoisted(() => vi.fn());

vi.mock('./job.svelte', () => ({ openJob: { log } }));
vi.mock('./drafts.svelte', () => ({ drafts: { read: (_: string, fallback: unknown) => fallback, keep: () => undefined } }));
vi.mock('./phone', () => ({ buzz: () => undefined }));
vi.mock('../domain/dips', () => ({ layerInHand: () => ({ layer: 'formation', lift: null }) }));

import { PassCount } from './pass.svelte';

const view = { id: 'job', stage: 'compact_formation', plants: ['plate'], layers: [] } as unknown as JobView;

it('keeps what is said of the next pass while this one is being logged', async () => {
  let kept = () => {};
  log.mockReturnValueOnce(new Promise<void>((done) => (kept = done)));
  const count = new PassCount(view);
  count.moving = 'nothing_moves';
  const logged = count.add();
  count.moving = 'still_moving';
  kept();
  await logged;
  expect(log).toHaveBeenLastCalledWith('pass', { layer: 'formation', plant: 'plate', still_moving: false });
  expect(count.moving).toBe('still_moving');
});

it('keeps what was said of a pass that could not be logged', async () => {
  log.mockRejectedValueOnce(new Error('the disk is full'));
  const count = new PassCount(view);
  count.moving = 'still_moving';
  await expect(count.add()).rejects.toThrow('the disk is full');
  expect(count.moving).toBe('still_moving');
});
