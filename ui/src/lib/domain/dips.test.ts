import { describe, expect, it } from 'vitest';

import type { DipView, JobView, LayerView, PinView, StringView } from '../generated/types';
import {
  along, answerWords, dipAt, dipShort, doubtWords, layerInHand, limitWords, nearestAlong, nextStop, placesBelow, stringBetween, suggested, walk,
} from './dips';

const pin = (name: string, x_m: number, y_m: number): PinView => ({ name, x_m, y_m, at_m: x_m, finished_mm: 0, formation_mm: -200 });
const pins = [pin('R1', 0, 0), pin('R2', 3, 0), pin('F2', 3, 1.2), pin('F1', 0, 1.2)];
const strings: StringView[] = [
  { from: 'R1', to: 'R2', length_m: 3, sag_mm: null },
  { from: 'F2', to: 'F1', length_m: 3, sag_mm: null },
  { from: 'R1', to: 'F1', length_m: 1.2, sag_mm: null },
  { from: 'R2', to: 'F2', length_m: 1.2, sag_mm: null },
];

describe('walking the pins', () => {
  it('comes by every pin once, in order', () => {
    expect(walk(pins, strings).map((s) => s.pin)).toEqual(['R1', 'R2', 'F2', 'F1']);
  });

  it('reaches a pin at the end of its string by the string\'s length', () => {
    expect(walk(pins, strings)[3]).toEqual({ pin: 'F1', from: 'F2', to: 'F1', at_m: 3 });
  });

  it('goes on past what is dipped and round to the start', () => {
    const stops = walk(pins, strings);
    const dipped = new Set(['R1', 'F2']);
    expect(nextStop(stops, 0, (s) => dipped.has(s.pin))).toBe(1);
    expect(nextStop(stops, 1, (s) => dipped.has(s.pin))).toBe(3);
    expect(nextStop(stops, 3, (s) => dipped.has(s.pin))).toBe(1);
    expect(nextStop(stops, 3, () => true)).toBeNull();
  });
});

const standing: LayerView = {
  layer: 'formation', lift: null, below_finished_mm: 0, high_by_mm: 12, low_by_mm: 12, dips: 8, in: 8, out: 0, wanted_dips: 8,
  covered: true, widest_gap_m: 1.2, next_place: null, thickness_mm: null,
};

describe('the places of the layer below', () => {
  const layers = [standing, { ...standing, layer: 'sub_base', lift: 1 }, { ...standing, layer: 'bed' }] as LayerView[];
  const dip = (layer: DipView['layer'], lift: number | null, x_m: number, y_m: number, superseded = false) => ({ layer, lift, x_m, y_m, superseded }) as DipView;
  const of = (dips: DipView[], layer: DipView['layer'], lift: number | null) =>
    placesBelow({ layers, dips, drawing: { pins } as JobView['drawing'] }, layer, lift).left.map(({ x_m, y_m }) => [x_m, y_m]);
  const beside = [dip('formation', null, 0, 0.5), dip('formation', null, 1.5, 0.6), dip('formation', null, 3, 0.7, true), dip('formation', null, 3, 0.6)];

  it('are offered where the crew dips beside the pins, until they are dipped', () => {
    expect(of(beside, 'sub_base', 1)).toEqual([[0, 0.5], [1.5, 0.6], [3, 0.6]]);
    expect(of([...beside, dip('sub_base', 1, 1.4, 0.6)], 'sub_base', 1)).toEqual([[0, 0.5], [3, 0.6]]);
    expect(of(beside, 'bed', null)).toEqual([]);
  });

  it('are the pins\' own walk where a pin was dipped, and none under the lowest layer', () => {
    expect(of([...beside, dip('formation', null, 3, 0.02)], 'sub_base', 1)).toEqual([]);
    expect(of(beside, 'formation', null)).toEqual([]);
  });
});

describe('the layer in hand', () => {
  const layer = (name: LayerView['layer'], lift: number | null, more: Partial<LayerView> = {}): LayerView => ({
    ...standing, layer: name, lift, ...more,
  });
  const layers = [layer('formation', null), layer('sub_base', 1), layer('sub_base', 2), layer('bed', null, { out: 1 }), layer('surface', null)];
  const job = (values: JobView['next']['values'], more: Partial<JobView> = {}) => ({
    next: { code: 'next', values, text: '' }, layers,
    section: { layers: [], width_m: 1, drop_mm: 0, crossfall_one_in: null, ground_above_finished_mm: 0 }, ...more,
  });

  it('is the one that the sentence of the day speaks of', () => {
    expect(layerInHand(job({ layer: '@layer.surface', count: 1 }))?.layer).toBe('surface');
    expect(layerInHand(job({ lift: 2, count: 1 }))?.lift).toBe(2);
  });

  it('is else the one that is out, else the one that wants dips, else the last', () => {
    expect(layerInHand(job({}))?.layer).toBe('bed');
    const wanting = [layer('formation', null), layer('surface', null, { covered: false }), layer('bed', null)];
    expect(layerInHand(job({}, { layers: wanting }))?.layer).toBe('surface');
    expect(layerInHand(job({}, { layers: [layer('formation', null), layer('bed', null)] }))?.layer).toBe('bed');
  });
});

describe('where to dip after the pins', () => {
  const place = { x_m: 1.5, y_m: 0.6, from: 'R1', to: 'F2', at_m: 1.62 };
  const layer = (covered: boolean) => ({ ...standing, covered, next_place: place });

  it('is the widest spot without a dip, until the layer is covered', () => {
    expect(suggested(layer(false))).toEqual(place);
    expect(suggested(layer(true))).toBeNull();
    expect(suggested(undefined)).toBeNull();
  });

  it('is reached along any string between two pins', () => {
    const drawing = { pins, strings };
    expect(stringBetween(drawing, 'R1', 'F1')?.length_m).toBe(1.2);
    expect(stringBetween(drawing, 'R1', 'F2')?.length_m).toBeCloseTo(Math.hypot(3, 1.2), 9);
    expect(stringBetween(drawing, 'R1', 'R1')).toBeNull();
    expect(stringBetween(drawing, 'R1', 'Z9')).toBeNull();
  });
});

describe('places along a string', () => {
  it('go from pin to pin', () => {
    expect(along(pins[0] as PinView, pins[1] as PinView, 3, 1.5)).toEqual([1.5, 0]);
  });

  it('are found under a finger, to the centimetre, and never beyond a pin', () => {
    const [a, b] = [pins[0] as PinView, pins[1] as PinView];
    expect(nearestAlong(a, b, 3, [1.8042, 0.3])).toEqual({ at_m: 1.8, away_m: 0.3 });
    expect(nearestAlong(a, b, 3, [5, 0]).at_m).toBe(3);
  });
});

describe('what is said of a dip', () => {
  const dip = (high_mm: number, word: DipView['word']): DipView => ({
    entry: String(high_mm), layer: 'sub_base', lift: 1, x_m: 0, y_m: 0, from: 'R1', to: 'R2', at_m: 0,
    raise_mm: 100, reading_mm: 0, target_mm: 0, high_mm, word, superseded: false, at: '', who: '',
  });

  it('has a word for its sign, never a sign', () => {
    expect(answerWords('high', 12.2, 'bed', 'mm')).toEqual({ answer: 'high 12', act: 'take off' });
    expect(answerWords('low', -8, 'sub_base', 'mm')).toEqual({ answer: 'low 8', act: 'bring up' });
    expect(answerWords('right', 3, 'bed', 'mm')).toEqual({ answer: 'right', act: 'leave' });
    expect(answerWords('low', -8, 'formation', 'mm').act).toBe('leave it: fill with stone');
    expect(answerWords('low', -8, 'surface', 'mm').act).toBe('lift and rebed');
    expect(answerWords('high', 8, 'surface', 'mm').act).toBe('plate again, or lift and rebed');
    expect(dipShort(dip(-0.4, 'right'), 'mm')).toBe('right');
    expect(dipShort(dip(-2, 'right'), 'mm')).toBe('low 2');
  });

  it('is in inches to the nearest eighth where the tape is', () => {
    expect(answerWords('high', 41, 'bed', 'in')).toEqual({ answer: 'high 1\u00a0⅝', act: 'take off' });
    expect(answerWords('low', -9.5, 'bed', 'in').answer).toBe('low ⅜');
    expect(dipShort(dip(-25.4, 'low'), 'in')).toBe('low 1″');
    expect(dipShort(dip(1.5, 'right'), 'in')).toBe('right');
  });

  it('is never nothing where it is out', () => {
    expect(answerWords('high', 1.2, 'surface', 'in').answer).toBe('high under ⅛');
    expect(dipShort(dip(-1.2, 'low'), 'in')).toBe('low under ⅛″');
    expect(dipShort(dip(0.4, 'high'), 'mm')).toBe('high under 1');
  });

  it('stands beside its limits, and never looks within them where it is out', () => {
    const held = { high_by_mm: 5, low_by_mm: 12 };
    const plain = (text: string) => text.replaceAll('\u00a0', ' ');
    const said = (high_mm: number, word: DipView['word'], tape: 'mm' | 'in') => plain(limitWords({ ...held, high_mm, word }, tape));
    expect(said(9, 'high', 'mm')).toBe('limits: high 5 mm, low 12 mm');
    expect(said(4.6, 'right', 'in')).toBe('high ⅛; limits: high ¼ in, low ½ in');
    expect(said(9.5, 'high', 'in')).toBe('limits: high ¼ in, low ½ in');
    expect(said(6, 'high', 'in')).toBe('high 6 mm; limits: high 5 mm, low 12 mm');
    expect(said(-13, 'low', 'in')).toBe('low 13 mm; limits: high 5 mm, low 12 mm');
  });

  it('is of the newest dip at the pin, in this layer and lift', () => {
    const dips = [{ ...dip(5, 'right'), superseded: true }, dip(2, 'right'), { ...dip(9, 'right'), lift: 2 }];
    expect(dipAt(dips, pins[0] as PinView, 'sub_base', 1)?.high_mm).toBe(2);
    expect(dipAt(dips, pins[1] as PinView, 'sub_base', 1)).toBeNull();
  });
});

describe('a doubted reading', () => {
  it('is asked about in what the tape reads in', () => {
    // Hand arithmetic: 320 mm are 12.598 in, to the eighth 12 ⅝; 71 mm are 2.795 in, 2 ¾.
    const doubt = { code: 'doubt.far_from_target', values: { reading: 320, off: 71 }, text: '' };
    expect(doubtWords(doubt, 'in')).toMatch(/^12\s⅝\sin is 2\s¾\sin from what the tape should read/);
    expect(doubtWords(doubt, 'mm')).toContain('320 mm is 71 mm from what the tape should read');
  });
});
