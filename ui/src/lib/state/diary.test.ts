import { describe, expect, it } from 'vitest';

import type { EntryView, Stage } from '../generated/types';
import { byDay } from './diary.svelte';

const entry = (id: string, at: string, stage: Stage | null = null): EntryView => ({
  id, kind: 'note', at, late: null, who: 'Mina', stage, says: { code: 'entry.note', values: {}, text: id },
  photo: null, struck: null, can_strike: true,
});

describe('the diary by day', () => {
  const entries = [
    entry('a', '2026-04-07T08:00:00+01:00', 'excavate'),
    entry('b', '2026-04-07T16:00:00+01:00', 'sub_base'),
    entry('c', '2026-04-08T07:30:00+01:00'),
    entry('late', '2026-04-07T12:00:00+01:00', 'excavate'),
  ];

  it('has the newest day first and each day from its morning', () => {
    const days = byDay(entries, null);
    expect(days.map((d) => d.day)).toEqual(['2026-04-08', '2026-04-07']);
    expect(days[1]?.entries.map((e) => e.id)).toEqual(['a', 'late', 'b']);
  });

  it('shows one stage alone', () => {
    expect(byDay(entries, 'excavate').flatMap((d) => d.entries.map((e) => e.id))).toEqual(['a', 'late']);
    expect(byDay(entries, 'lay')).toEqual([]);
  });
});
