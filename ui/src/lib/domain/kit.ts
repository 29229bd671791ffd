import type { OwnKitView, OwnPlant, OwnVehicle, PlantKind, VehicleKind } from '../generated/types';
import type { Reading } from '../state/question.svelte';
import { given } from '../state/question.svelte';
import { say } from '../words/say';

/** A machine as it is typed. */
export interface PlantTyped extends Record<string, string> {
  name: string;
  kind: string;
  rating: string;
  mass: string;
  contact: string;
  frame: string;
  width: string;
  overlap: string;
  speed: string;
  shakes: string;
  known: string;
}

/** A vehicle as it is typed. */
export interface VehicleTyped extends Record<string, string> {
  name: string;
  kind: string;
  volume: string;
  mass: string;
}

/** A person's kit as it is typed: bag sizes by their key in a plan file. */
export interface KitTyped {
  plant: PlantTyped[];
  bags: Record<string, string>;
  vehicles: VehicleTyped[];
}

export const VEHICLES: readonly VehicleKind[] = ['skip', 'trailer', 'lorry', 'van', 'barrow'];

/** Keys of the plan file by what is typed for them. */
const NUMBERS = {
  rating: 'rating', mass: 'mass_kg', contact: 'contact_m2', frame: 'frame_length_mm', width: 'width_mm', overlap: 'overlap_mm',
  speed: 'speed_m_per_min', shakes: 'vibration_m_s2',
} as const satisfies Record<string, keyof OwnPlant>;

/** What the width of a machine is of, by the unit of its rating. */
export function widthOf(ratedIn: string): string {
  return say(ratedIn === 'kg/m²' ? 'plant.plate_width' : ratedIn === 'kg' ? 'plant.foot_width' : 'plant.drum_width');
}

export const newPlant = (): PlantTyped => ({
  name: '', kind: 'vibrating_plate', rating: '', mass: '', contact: '', frame: '', width: '', overlap: '', speed: '', shakes: '', known: 'declared',
});
export const newVehicle = (): VehicleTyped => ({ name: '', kind: 'skip', volume: '', mass: '' });
export const newKit = (): KitTyped => ({ plant: [], bags: {}, vehicles: [] });

const asTyped = (value: number | undefined) => (value === undefined ? '' : String(value));

/** A machine that is kept, as its fields are typed. */
export function plantTyped(machine: OwnPlant): PlantTyped {
  const numbers = Object.entries(NUMBERS).map(([typed, key]) => [typed, asTyped(machine[key])]);
  return { ...newPlant(), ...Object.fromEntries(numbers), name: machine.name, kind: machine.kind, known: machine.vibration ?? 'declared' };
}

/** What is kept, as it is typed. */
export function kitTyped({ plant, bags, vehicles }: OwnKitView): KitTyped {
  return {
    plant: plant.map(plantTyped),
    bags: Object.fromEntries(Object.entries(bags).map(([key, kg]) => [key, String(kg)])),
    vehicles: vehicles.map(({ name, kind, volume_m3, mass_t }) => ({ name, kind, volume: String(volume_m3), mass: String(mass_t) })),
  };
}

/** A kit in the words of a plan file, from what is typed; what is no number is noted at its place. */
export function kitOf({ plant, bags, vehicles }: KitTyped, read: Reading): OwnKitView {
  const kilograms = Object.entries(bags).map(([key, typed]) => [key, read.maybe(`/bags/${key}`, typed)] as const);
  return {
    plant: plant.map((typed, i) => plantOf(typed, `/plant/${i}`, read)),
    bags: Object.fromEntries(kilograms.flatMap(([key, kg]) => (kg === undefined ? [] : [[key, kg]]))),
    vehicles: vehicles.map((typed, i) => vehicleOf(typed, `/vehicles/${i}`, read)),
  };
}

function plantOf(typed: PlantTyped, at: string, read: Reading): OwnPlant {
  const numbers = Object.entries(NUMBERS).map(([name, key]) => [key, read.maybe(`${at}/${key}`, typed[name] ?? '')]);
  const shakes = typed.shakes.trim() === '' ? {} : { vibration: typed.known === 'measured' ? ('measured' as const) : ('declared' as const) };
  return { name: typed.name.trim(), kind: typed.kind as PlantKind, ...given(Object.fromEntries(numbers) as Partial<OwnPlant>), ...shakes };
}

function vehicleOf({ name, kind, volume, mass }: VehicleTyped, at: string, read: Reading): OwnVehicle {
  return { name: name.trim(), kind: kind as VehicleKind, volume_m3: read.need(`${at}/volume_m3`, volume), mass_t: read.need(`${at}/mass_t`, mass) };
}
