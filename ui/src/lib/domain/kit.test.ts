import { describe, expect, it } from 'vitest';

import type { OwnKitView } from '../generated/types';
import { Reading } from '../state/question.svelte';
import { kitOf, kitTyped, newPlant, newVehicle } from './kit';

describe('a kit that is typed', () => {
  it('comes back from its fields as it was kept', () => {
    const kept: OwnKitView = {
      plant: [{ name: 'plate 90 kg', kind: 'vibrating_plate', mass_kg: 90, contact_m2: 0.18, width_mm: 500, vibration_m_s2: 4.5, vibration: 'measured' }],
      bags: { sub_base_kg: 800 },
      vehicles: [{ name: 'trailer', kind: 'trailer', volume_m3: 1.8, mass_t: 2 }],
    };
    const reading = new Reading();
    expect(kitOf(kitTyped(kept), reading)).toEqual(kept);
    expect(reading.whole).toBe(true);
  });

  it('names what is no number at its place, and leaves out what is empty', () => {
    const reading = new Reading();
    const typed = { plant: [{ ...newPlant(), name: 'plate', mass: '9o', width: '' }], bags: { bed_kg: 'two', cement_kg: '' }, vehicles: [newVehicle()] };
    const kit = kitOf(typed, reading);
    expect(reading.problems.map((p) => p.at)).toEqual(['/bags/bed_kg', '/plant/0/mass_kg']);
    expect(reading.wanting).toBe(true);
    expect(kit.bags).toEqual({});
    expect('width_mm' in (kit.plant[0] ?? {})).toBe(false);
  });
});
