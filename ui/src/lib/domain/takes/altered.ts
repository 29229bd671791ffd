import type { PlanFigures, TakesView } from '../../generated/types';
import { opening, upTo, wholeMm } from '../../words/measure';
import { say } from '../../words/say';
import { amount, loadsOf, together } from './amounts';

/** The quantities of a plan that another is held against, each by name and in words. */
export function quantities(figures: PlanFigures, takes: TakesView): Map<string, string> {
  const [first] = takes.lifts;
  const range = ([least, most]: readonly [number, number]) => {
    const [low = '', high = ''] = together('m3', [least, most]);
    return say('takes.between', { least: low, most: high });
  };
  return new Map([
    [say('figure.area'), say('in_m2', { m2: upTo(figures.area_m2, 2) })],
    [say('takes.solid'), amount('m3', figures.dig_solid_m3)],
    [say('figure.away'), range(figures.dig_loose_m3)],
    ...takes.loads.map((row) => [say('takes.loads_of', { vehicle: row.vehicle }), loadsOf(row)] as const),
    [say('takes.stone'), say('in_t', { t: upTo(figures.sub_base_t, 2) })],
    [say('takes.lifts'), first ? say('takes.lifts_is', { count: takes.lifts.length, mm: wholeMm(first.thickness_mm) }) : ''],
    [say('compact.passes'), passesOf(takes)],
    [say('figure.bed'), say('in_t', { t: upTo(figures.bed_t, 2) })],
    [say('figure.blocks'), upTo(figures.blocks, 0)],
    [say('figure.joint_sand'), say('in_kg', { kg: upTo(figures.joint_sand_kg, 0) })],
    [say('figure.haunch'), say('in_m3', { m3: upTo(figures.haunch_m3, 2) })],
    [say('takes.hours'), say('takes.hours_is', { h: upTo(takes.person_hours, 1) })],
    [say('takes.by_hand'), say('in_t', { t: upTo(takes.by_hand_t, 1) })],
  ]);
}

/** Passes over the lifts from the lowest up; one number where they are all the same. */
function passesOf({ lifts }: TakesView): string {
  const passes = lifts.map((lift) => (lift.passes === null ? say('compact.no_figure') : String(lift.passes)));
  return [...new Set(passes)].length === 1 ? (passes[0] ?? '') : passes.join(', ');
}

/** What differs between two plans, in rows: the quantity, what it was, what it will be. */
export function altered(was: Map<string, string>, will: Map<string, string>): string[][] {
  const names = new Set([...was.keys(), ...will.keys()]);
  return [...names].flatMap((name) => {
    const [before = '–', after = '–'] = [was.get(name), will.get(name)];
    return before === after ? [] : [[opening(name), before, after]];
  });
}
