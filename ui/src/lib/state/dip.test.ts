import { beforeEach, expect, it, vi } from 'vitest';

import type { JobView, LayerView, PinView } from '../generated/types';

const store = vi.hoisted(() => new Map<string, unknown>());
const log = vi.hoisted(() => vi.fn());

vi.mock('../backend', () => ({ backend: { ask: vi.fn() }, Fault: { from: (thrown: unknown) => thrown } }));
vi.mock('./job.svelte', () => ({ openJob: { log, view: null } }));
vi.mock('./phone', () => ({ buzz: () => undefined }));
vi.mock('./drafts.svelte', () => ({
  drafts: {
    read: (key: string, fallback: unknown) => (store.has(key) ? store.get(key) : fallback),
    keep: (key: string, value: unknown) => store.set(key, JSON.parse(JSON.stringify(value))),
  },
}));

import { DipRound } from './dip.svelte';
import { aimDips } from './dipdraft';
import { tape } from './tape.svelte';

const pin = (name: string, x_m: number): PinView => ({ name, x_m, y_m: 0, at_m: x_m, finished_mm: 0, formation_mm: -200 });
const layer = (name: LayerView['layer'], lift: number | null): LayerView => ({
  layer: name, lift, below_finished_mm: 0, high_by_mm: 12, low_by_mm: 12, dips: 0, in: 0, out: 0, wanted_dips: 8,
  covered: false, widest_gap_m: 1, next_place: null, thickness_mm: null,
});
const job = (stage: string): JobView =>
  ({
    id: 'path', stage, dips: [], layers: [layer('formation', null), layer('sub_base', 1), layer('sub_base', 2)],
    next: { code: 'next', values: {}, text: '' }, section: { layers: [] },
    drawing: {
      pins: [pin('R1', 0), pin('R2', 3), pin('R3', 6)],
      strings: [{ from: 'R1', to: 'R2', length_m: 3, sag_mm: null }, { from: 'R2', to: 'R3', length_m: 3, sag_mm: null }],
    },
  }) as unknown as JobView;
const digging = job('dig');

const type = (round: DipRound, ...texts: string[]) => texts.forEach((text) => (round.typed = text));

beforeEach(() => {
  store.clear();
  tape.choose('mm');
});

it('keeps the reading of a layer while another is dipped, and shows it where it was', () => {
  const first = new DipRound(digging);
  first.chooseString('R2', 'R3', 1.2);
  type(first, '28');
  aimDips(digging, 'sub_base', 2);

  const other = new DipRound(digging);
  expect([other.layer, other.lift, other.reading]).toEqual(['sub_base', 2, '']);
  type(other, '19');
  aimDips(digging, 'formation', null);

  const again = new DipRound(digging);
  expect([again.layer, again.from, again.to, again.at, again.reading]).toEqual(['formation', 'R2', 'R3', '1.2', '28']);
  again.chooseLayer('sub_base', 2);
  expect(again.reading).toBe('19');
  again.chooseLayer('sub_base', 1);
  expect(again.reading).toBe('');
});

it('keeps it over the next stage, where another layer is in hand', () => {
  const round = new DipRound(digging);
  round.chooseLayer('sub_base', 1);
  type(round, '31');
  const later = new DipRound(job('bed'));
  expect([later.layer, later.reading]).toEqual(['formation', '']);
  later.chooseLayer('sub_base', 1);
  expect(later.reading).toBe('31');
});

it('has nothing waiting of a reading that was logged or rubbed out', async () => {
  log.mockResolvedValueOnce({ id: 'dip', answer: null });
  const round = new DipRound(digging);
  type(round, '280');
  await round.keep();
  round.chooseLayer('sub_base', 1);
  type(round, '9', '');
  round.chooseLayer('formation', null);
  expect(round.reading).toBe('');
  round.chooseLayer('sub_base', 1);
  expect(round.reading).toBe('');
});

it('leaves a measure that was being typed as it was, when the layer is chosen', () => {
  const round = new DipRound(digging);
  round.choose('raise');
  type(round, '100');
  round.choose('raise');
  type(round, '');
  round.chooseLayer('sub_base', 1);
  expect([round.field, round.raise]).toEqual(['reading', '100']);
});

it('logs inches as exact millimetres, and the raise with them', async () => {
  log.mockResolvedValue({ id: 'dip', answer: null });
  tape.choose('in');
  const round = new DipRound(digging);
  round.choose('raise');
  type(round, '4 ½');
  round.choose('reading');
  type(round, '11 ⅝');
  expect(store.get('dip.path')).toMatchObject({ reading: '11 ⅝ in', raise: '114.3' });
  await round.keep();
  expect(log).toHaveBeenLastCalledWith('dip', expect.objectContaining({ raise_mm: 114.3, reading_mm: 295.275 }));
});

it('never reads digits anew when the tape is another: the length stays until a key is pressed', async () => {
  log.mockResolvedValue({ id: 'dip', answer: null });
  const round = new DipRound(digging);
  type(round, '287');
  tape.choose('in');
  expect(round.typed).toBe('11 ¼');
  const again = new DipRound(digging);
  expect(again.typed).toBe('11 ¼');
  await again.keep();
  expect(log).toHaveBeenLastCalledWith('dip', expect.objectContaining({ reading_mm: 287 }));
  type(again, '11 ¼');
  await again.keep();
  expect(log).toHaveBeenLastCalledWith('dip', expect.objectContaining({ reading_mm: 285.75 }));
});
