import type { ClosingWord, CourseFigures, CutSizeFigures, EdgeCourseFigures, LayingView, TemplateFigures } from '../../generated/types';
import { metres, upTo, wholeMm } from '../../words/measure';
import { say, sayOr } from '../../words/say';

/** A line of a list of facts. */
export interface Fact {
  name: string;
  value: string;
  strong?: boolean;
}

/** The counts in a sentence, as the core says them. */
export function countsOf({ whole, cuts }: LayingView): string {
  return say('lay.counts', { whole, count: cuts.pieces, blocks: cuts.blocks, small: cuts.small });
}

/** The counts, one a line. */
export function countFacts(laying: LayingView): Fact[] {
  const { whole, cuts, smallest_cut_fraction: smallest, needed, buy } = laying;
  return [
    { name: say('laid.whole'), value: String(whole) },
    { name: say('laid.cut'), value: say('laid.cut_is', { count: cuts.pieces, blocks: cuts.blocks }) },
    ...(smallest === null ? [] : [
      { name: say('laid.small'), value: String(cuts.small) },
      { name: say('laid.smallest'), value: say('laid.smallest_is', { percent: percent(smallest) }) },
    ]),
    { name: say('laid.needed'), value: String(needed) },
    { name: say('laid.buy'), value: say('laid.buy_is', { count: buy }), strong: true },
  ];
}

/** What joints and curves of this block can be. */
export function limitFacts({ joint_limits_mm: [least, most], end_joint_mm: end, least_radius_m: radii, joints_m2, area_m2 }: LayingView): Fact[] {
  const radius = (value: number | null) => (value === null ? say('laid.radius_none') : say('laid.radius_is', { m: metresUp(value) }));
  return [
    { name: say('laid.joints'), value: say('laid.joints_are', { least: upTo(least, 1), most: upTo(most, 1) }) },
    ...(end === null ? [] : [{ name: say('laid.end_joint'), value: say('laid.end_joint_is', { mm: upTo(end, 1) }) }]),
    { name: say('laid.joint_area'), value: say('laid.joint_area_is', { m2: upTo(joints_m2, 2), percent: percent(joints_m2 / area_m2) }) },
    { name: say('laid.radius_stretcher'), value: radius(radii.stretcher) },
    { name: say('laid.radius_soldier'), value: radius(radii.soldier) },
  ];
}

/** A least radius is never said smaller than it is. */
function metresUp(value: number): string {
  return metres(Math.ceil(Math.round(value * 1e5) / 1e3) / 100);
}

/** A share in whole parts of a hundred; what is not nothing is not said to be. */
function percent(share: number): string {
  const whole = share * 100;
  return whole > 0 && whole < 1 ? say('laid.under_one') : wholeMm(whole);
}

/** How a course ends, in a few words. */
export function endOf(closing: ClosingWord, closer_mm: number | null): string {
  return say(`laid.closing.${closing}`, { mm: closer_mm === null ? '' : upTo(closer_mm, 0) });
}

/** Joints inside and outside; one figure where they are the same. */
export function jointsOf(inner: number, outer: number): string {
  const [a, b] = [upTo(inner, 1), upTo(outer, 1)];
  return a === b ? a : say('laid.from_to', { from: a, to: b });
}

/** Whole blocks and pieces of a course. */
export function blocksOf({ whole, cut }: { whole: number; cut: number }): string {
  return cut === 0 ? String(whole) : say('laid.whole_and_cut', { whole, cut });
}

export function courseRow(course: CourseFigures): string[] {
  return [
    course.rip ? say('laid.course_rip', { number: course.index }) : String(course.index),
    metres(course.length_m), blocksOf(course), jointsOf(course.inner_joint_mm, course.outer_joint_mm), endOf(course.closing, course.closer_mm),
  ];
}

/** A course, one line a figure. */
export function courseFacts(course: CourseFigures): Fact[] {
  const { inner_joint_mm, outer_joint_mm, length_m, radius_m, closing, closer_mm, least_lap_mm: lap, whole, cut } = course;
  const [inner, outer] = [upTo(inner_joint_mm, 1), upTo(outer_joint_mm, 1)];
  const joint = (name: string, mm: string): Fact => ({ name, value: say('courses.in_mm', { mm }), strong: true });
  return [
    { name: say('courses.blocks'), value: say('courses.blocks_is', { whole, cut }), strong: true },
    ...(inner === outer ? [joint(say('courses.joint'), inner)] : [joint(say('courses.joint_inside'), inner), joint(say('courses.joint_outside'), outer)]),
    { name: say('courses.ends'), value: say(`courses.ends.${closing}`, { mm: closer_mm === null ? '' : wholeMm(closer_mm) }) },
    { name: say('courses.length'), value: say(radius_m === null ? 'in_m' : 'courses.length_is', { m: metres(length_m) }) },
    ...(radius_m === null ? [] : [{ name: say('courses.radius'), value: say('in_m', { m: metres(radius_m) }) }]),
    ...(course.rip ? [{ name: say('courses.rip'), value: say('courses.rip_is') }] : []),
    ...(lap === null ? [] : [{ name: say('courses.lap'), value: say('courses.lap_is', { mm: upTo(lap, 0) }) }]),
  ];
}

/** An edge course by the sides that it runs along, each said once. */
export function edgeName({ parts, ring }: EdgeCourseFigures): string {
  const sides = parts.map(({ side }) => sayOr(`side.${side}`, say('laid.side_n', { side }))).filter((side, i, all) => all.indexOf(side) === i);
  return ring ? say('laid.ring') : sides.join(', ');
}

export function edgeRow(edge: EdgeCourseFigures): string[] {
  const inner = edge.parts.map((part) => part.inner_joint_mm);
  const outer = edge.parts.map((part) => part.outer_joint_mm);
  return [edgeName(edge), metres(edge.length_m), blocksOf(edge), jointsOf(Math.min(...inner), Math.max(...outer)), endOf(edge.closing, edge.closer_mm)];
}

/** A cut size in words: a rectangle, or its two long sides where an end is cut at an angle. */
export function cutName({ long_mm: long, short_mm: short, width_mm: width }: CutSizeFigures): string {
  const size = { long: wholeMm(long), short: wholeMm(short), width: wholeMm(width) };
  if (wholeMm(long) === wholeMm(short)) return say('laid.cut_square', size);
  return say(short < 0.5 ? 'laid.cut_point' : 'laid.cut_angle', size);
}

export function cutRow(size: CutSizeFigures): string[] {
  return [cutName(size), String(size.saw_cuts), String(size.count)];
}

/** A template's ordinates: along the board from its middle, and for the board on either side of the curve. */
export function templateRows({ inside, outside }: TemplateFigures): string[][] {
  return inside.map(({ at_m, mm }, i) => [metres(at_m), upTo(mm, 1), upTo(outside[i]?.mm ?? 0, 1)]);
}
