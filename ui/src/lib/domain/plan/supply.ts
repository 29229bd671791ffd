import type { Goods, Measure, SoldIn, Task, VehicleKind } from '../../generated/types';
import { objectOf, objectsOf, number, pruned, typedOf, unlessEmpty, type Json } from './json';
import { priceOf, priceTyped } from './price';

/** An object of the plan file as typed: every member a text, under its own key. */
type Typed<K extends string> = Record<K, string>;

export const MACHINE_WORDS = ['name', 'kind', 'vibration'] as const;
export const MACHINE_NUMBERS = [
  'rating', 'mass_kg', 'contact_m2', 'frame_length_mm', 'width_mm', 'overlap_mm', 'speed_m_per_min', 'vibration_m_s2',
] as const;
/** A machine that compacts. */
export type Machine = Typed<(typeof MACHINE_WORDS)[number] | (typeof MACHINE_NUMBERS)[number]>;

const VEHICLE_WORDS = ['name', 'kind'] as const;
const VEHICLE_NUMBERS = ['volume_m3', 'mass_t'] as const;
/** What carries spoil away, or stone to its place. */
export type Vehicle = Typed<(typeof VEHICLE_WORDS)[number] | (typeof VEHICLE_NUMBERS)[number]>;

const MIX_WORDS = ['concrete', 'cement_class', 'dye_colour'] as const;
const MIX_NUMBERS = ['mixer_l', 'mortar_m3', 'mortar_parts', 'dye_percent'] as const;
/** Concrete, mortar and dye; `by` is the hand or a mixer, empty where that is not said. */
export type MixesTyped = Typed<(typeof MIX_WORDS)[number] | (typeof MIX_NUMBERS)[number]> & { by: '' | 'hand' | 'mixer' };

export const MEMBRANES = ['under_sub_base', 'under_bed'] as const;
export const MEMBRANE_NUMBERS = ['lap_mm', 'roll_width_m', 'roll_length_m'] as const;
/** A membrane: whether there is one, and its rolls. */
export type MembraneTyped = Typed<(typeof MEMBRANE_NUMBERS)[number]> & { laid: boolean };

export const HELD = ['holds_kg', 'holds_pieces', 'holds_m2', 'holds_m3'] as const;
export type Held = (typeof HELD)[number];
/** How something is sold, by whom and for how much. The price is in the currency's major unit. */
export interface OfferTyped {
  what: string;
  supplier: string;
  sold_in: string;
  holds: string;
  /** What `holds` is counted in; empty for the first that the goods are sold by. */
  held: '' | Held;
  price: string;
}

export const VEHICLE_KINDS: readonly VehicleKind[] = ['skip', 'trailer', 'lorry', 'van', 'barrow'];
export const SOLD_IN: readonly SoldIn[] = ['piece', 'pack', 'bag', 'bulk_bag', 'tonne', 'cubic_metre', 'roll'];
export const CONCRETES = ['ST1', 'ST2', 'ST4', 'delivered'] as const;
export const CEMENTS = ['32.5', '42.5'] as const;
/** What comes in bags; its key in `bags` ends with its unit. */
export const BAGGED = [
  'sub_base', 'bed', 'joint_sand', 'cement', 'fine_aggregate', 'coarse_aggregate', 'mortar_sand', 'dye',
] as const satisfies readonly Goods[];
/** What may be ordered beyond its need; blocks have theirs among the allowances. */
export const BEYOND = [
  ...BAGGED.slice(0, 6), 'concrete', ...BAGGED.slice(6), 'membrane_under_sub_base', 'membrane_under_bed',
] as const satisfies readonly Goods[];
/** One person's rates: the task, its key in the plan file, and what one of its units is. */
export const RATES: readonly { task: Task; key: string; of: 'm3' | 'm2' | 't' }[] = [
  { task: 'dig', key: 'dig_h_per_m3', of: 'm3' }, { task: 'spoil', key: 'spoil_h_per_m3', of: 'm3' },
  { task: 'formation', key: 'formation_h_per_m2', of: 'm2' }, { task: 'sub_base', key: 'sub_base_h_per_t', of: 't' },
  { task: 'lay', key: 'lay_h_per_m2', of: 'm2' }, { task: 'joint', key: 'joint_h_per_m2', of: 'm2' },
  { task: 'haunch', key: 'haunch_h_per_m3', of: 'm3' },
];

export const bagKey = (goods: string): string => `${goods}_kg`;
/** What one of something may be said to hold, the usual first. */
export function heldIn(measure: Measure | undefined): readonly Held[] {
  if (measure === 'pieces') return ['holds_pieces', 'holds_m2'];
  if (measure === 'kg') return ['holds_kg', 'holds_m3'];
  return [measure === 'm2' ? 'holds_m2' : 'holds_m3'];
}

/** What compacts, carries, is mixed and is bought, as typed. */
export interface SupplyForm {
  specification: string;
  plant: Machine[];
  vehicles: Vehicle[];
  bags: Record<string, string>;
  mixes: MixesTyped;
  membranes: Record<(typeof MEMBRANES)[number], MembraneTyped>;
  rates: Record<string, string>;
  currency: string;
  beyond: Record<string, string>;
  offers: OfferTyped[];
}

export function emptySupply(): SupplyForm {
  return readSupply({});
}

export const newMachine = (): Machine => typed({}, [...MACHINE_WORDS, ...MACHINE_NUMBERS]);
export const newVehicle = (): Vehicle => typed({}, [...VEHICLE_WORDS, ...VEHICLE_NUMBERS]);
export const newOffer = (): OfferTyped => ({ what: '', supplier: '', sold_in: '', holds: '', held: '', price: '' });
export const machineOf = (plant: object): Machine => typed({ ...plant }, [...MACHINE_WORDS, ...MACHINE_NUMBERS]);
export const vehicleOf = (vehicle: object): Vehicle => typed({ ...vehicle }, [...VEHICLE_WORDS, ...VEHICLE_NUMBERS]);

function typed<K extends string>(value: Json, keys: readonly K[]): Typed<K> {
  return Object.fromEntries(keys.map((key) => [key, typedOf(value[key])])) as Typed<K>;
}

/** What was typed, in the words and the numbers of the plan file; what is empty is left out. */
function said<K extends string>(row: Partial<Typed<K>>, words: readonly K[], numbers: readonly K[]): Json {
  const texts = words.map((key) => [key, (row[key] ?? '').trim()] as const);
  return pruned(Object.fromEntries([...texts, ...numbers.map((key) => [key, number(row[key] ?? '')] as const)]));
}

function listed(list: Json[]): Json[] | undefined {
  return list.length ? list : undefined;
}

/** The keys of the plan file that this part of the form stands for. */
export function toSupply(form: SupplyForm): Json {
  const { mixes } = form;
  const by_hand = mixes.by === '' ? undefined : mixes.by === 'hand';
  const laid = MEMBRANES.filter((key) => form.membranes[key].laid);
  return {
    specification: form.specification,
    plant: listed(form.plant.map((machine) => said(machine, MACHINE_WORDS, MACHINE_NUMBERS))),
    vehicles: listed(form.vehicles.map((vehicle) => said(vehicle, VEHICLE_WORDS, VEHICLE_NUMBERS))),
    bags: unlessEmpty(said(form.bags, [], BAGGED.map(bagKey))),
    mixes: unlessEmpty({ ...said(mixes, MIX_WORDS, MIX_NUMBERS), by_hand }),
    membranes: unlessEmpty(Object.fromEntries(laid.map((key) => [key, said(form.membranes[key], [], MEMBRANE_NUMBERS)]))),
    rates: unlessEmpty(said(form.rates, [], RATES.map(({ key }) => key))),
    orders: unlessEmpty({
      currency: form.currency.trim(),
      allowance_percent: unlessEmpty(said(form.beyond, [], BEYOND)),
      offers: listed(form.offers.map((offer) => offerOut(offer, form.currency.trim()))),
    }),
  };
}

function offerOut({ what, supplier, sold_in, holds, held, price }: OfferTyped, currency: string): Json {
  return pruned({
    what, supplier: supplier.trim(), sold_in, [held || 'holds_kg']: number(holds), price_minor: priceOf(price, currency),
  });
}

/** This part of the form for a plan. What it cannot say comes back otherwise, and is found by comparing. */
export function readSupply(plan: Json): SupplyForm {
  const [bags, mixes, membranes, rates, orders] = ['bags', 'mixes', 'membranes', 'rates', 'orders'].map((key) => objectOf(plan[key])) as [Json, Json, Json, Json, Json];
  const currency = typedOf(orders.currency);
  const membrane = (value: unknown): MembraneTyped => ({ ...typed(objectOf(value), MEMBRANE_NUMBERS), laid: value !== undefined });
  return {
    specification: typedOf(plan.specification),
    plant: objectsOf(plan.plant).map(machineOf),
    vehicles: objectsOf(plan.vehicles).map(vehicleOf),
    bags: typed(bags, BAGGED.map(bagKey)),
    mixes: { ...typed(mixes, [...MIX_WORDS, ...MIX_NUMBERS]), by: mixes.by_hand === true ? 'hand' : mixes.by_hand === false ? 'mixer' : '' },
    membranes: { under_sub_base: membrane(membranes.under_sub_base), under_bed: membrane(membranes.under_bed) },
    rates: typed(rates, RATES.map(({ key }) => key)),
    currency,
    beyond: typed(objectOf(orders.allowance_percent), BEYOND),
    offers: objectsOf(orders.offers).map((offer) => offerIn(offer, currency)),
  };
}

function offerIn(offer: Json, currency: string): OfferTyped {
  const held = HELD.find((key) => key in offer) ?? '';
  return {
    what: typedOf(offer.what), supplier: typedOf(offer.supplier), sold_in: typedOf(offer.sold_in),
    held, holds: held ? typedOf(offer[held]) : '', price: priceTyped(offer.price_minor, currency),
  };
}
