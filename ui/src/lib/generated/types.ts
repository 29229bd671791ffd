// Generated from Rust by `make types`. Do not edit.

/**
 * What an arc is known by, besides its chord.
 */
export type ArcBy = "rise" | "radius";

/**
 * A curve looked over while it is typed.
 */
export type ArcLook = { 
/**
 * Everything that is wrong with what was typed, at `/chord`, `/rise`, `/radius` or `/every`.
 */
problems: Array<Problem>, 
/**
 * The curve, where there is one.
 */
arc: ArcView | null, };

/**
 * A curve over a chord as it is typed.
 */
export type ArcTyped = { 
/**
 * The chord, in metres where no unit is written.
 */
chord: string, 
/**
 * What is known besides.
 */
by: ArcBy, 
/**
 * The rise, in millimetres where no unit is written.
 */
rise: string, 
/**
 * The radius, in metres where no unit is written.
 */
radius: string, 
/**
 * Spacing of the offsets, in metres where no unit is written; empty for half a metre.
 */
every: string, };

/**
 * A curve over a chord, ready to be set out.
 */
export type ArcView = { 
/**
 * Its radius.
 */
radius_m: number, 
/**
 * Its chord.
 */
chord_m: number, 
/**
 * Its rise over the middle of the chord.
 */
rise_mm: number, 
/**
 * Its length along the curve.
 */
length_m: number, 
/**
 * Offsets square to the chord, from its middle to its end.
 */
from_chord: Array<OffsetView>, 
/**
 * Offsets square to the tangent, from the tangent point.
 */
from_tangent: Array<OffsetView>, };

/**
 * Something that is assumed and may be otherwise.
 */
export type Assumption = "swell" | "ground_density" | "dig_depth" | "stone_density" | "stone_top" | "bed_density" | "joint" | "joint_sand_density";

/**
 * The three checks of a level book, and how it closes.
 */
export type BookChecks = { 
/**
 * Sum of back sights.
 */
sum_bs_m: number, 
/**
 * Sum of fore sights.
 */
sum_fs_m: number, 
/**
 * Sum of rises.
 */
rise_m: number, 
/**
 * Sum of falls.
 */
fall_m: number, 
/**
 * The last level less the first.
 */
last_less_first_m: number, 
/**
 * Whether the three differences are the same.
 */
agree: boolean, 
/**
 * Whether it closes within what is allowed, or is not closed at all.
 */
accepted: boolean, 
/**
 * How it closes, in words.
 */
says: Phrase, };

/**
 * A staff position as it is typed. A change point has both its fore sight and its back sight.
 */
export type BookRow = { 
/**
 * The point's name.
 */
point: string, 
/**
 * Back sight: the first reading from a set-up, in metres.
 */
bs: string, 
/**
 * Intermediate sight.
 */
is: string, 
/**
 * Fore sight: the last reading from a set-up.
 */
fs: string, };

/**
 * The answer for one row of a level book.
 */
export type BookRowLook = { 
/**
 * Its level as observed.
 */
reduced_m: number | null, 
/**
 * Its level with the misclosure shared, where there is one and it is accepted.
 */
adjusted_m: number | null, };

/**
 * Strength class of a cement.
 */
export type CementClass = "32.5" | "42.5";

/**
 * Extra work as the papers screen lists it.
 */
export type ChangeView = { 
/**
 * The entry's identity.
 */
entry: string, 
/**
 * The number of its note, from 1.
 */
number: number, 
/**
 * When it was noted.
 */
at: string, 
/**
 * Who noted it.
 */
who: string, 
/**
 * What is to be done, and why.
 */
what: string, 
/**
 * How and with whom it was agreed; empty where it does not say.
 */
agreed: string, 
/**
 * How much of it, with its unit; empty for one sum.
 */
quantity: string, 
/**
 * The agreed price of one unit; empty for one sum.
 */
rate: string, 
/**
 * The price; empty where it is beyond what is counted.
 */
price: string, 
/**
 * Who signed its note.
 */
signatures: Array<SignatureView>, };

/**
 * Kinds of data that an operation can change.
 */
export type Changed = "shelf" | "job" | "photos" | "papers" | "settings";

/**
 * Everything there is to choose from.
 */
export type ChoicesView = { 
/**
 * Specifications that passes may be held against; one is picked by name, for each job.
 */
specifications: Array<SpecificationView>, 
/**
 * Kinds of machine.
 */
plant: Array<PlantView>, 
/**
 * Swell of ground by its kind.
 */
swell: Array<FigureView>, 
/**
 * Concretes and mortar.
 */
mixes: Array<FigureView>, 
/**
 * Dye: the limit, the usual dose, where colours saturate.
 */
dye: Array<FigureView>, 
/**
 * Vibration: action and limit values, doubling, plates.
 */
vibration: Array<FigureView>, 
/**
 * What is bought, with its measure.
 */
goods: Array<GoodsView>, 
/**
 * Keys of `bags`: what one bag of each holds.
 */
bags: Array<string>, };

/**
 * How a course ends.
 */
export type ClosingWord = "even" | "closer" | "at_outline";

/**
 * What a specification says of a layer.
 */
export type CompactionView = { 
/**
 * In a word, for the whole layer in one lift.
 */
verdict: Verdict, 
/**
 * In words, with what to do.
 */
says: Phrase, 
/**
 * What to mind besides.
 */
cautions: Array<Phrase>, 
/**
 * The document.
 */
source: string, 
/**
 * How well its row is known.
 */
status: string, };

/**
 * Concrete along an edge.
 */
export type ConcreteView = { 
/**
 * The entry.
 */
entry: string, 
/**
 * Which stretch.
 */
stretch: string, 
/**
 * When it was placed.
 */
at: string, 
/**
 * The air as it was placed, degrees Celsius.
 */
temperature_c: number, 
/**
 * Its age now, hours at 20 C.
 */
age_h: number, 
/**
 * When it bears a plate, if the last temperature lasts; none where it hardens no further.
 */
plate_from: string | null, 
/**
 * When it bears cars.
 */
cars_from: string | null, 
/**
 * In words.
 */
says: Phrase, };

/**
 * A line of one thickness, in pieces that follow each other in no order.
 */
export type ContourDrawn = { 
/**
 * The thickness.
 */
mm: number, 
/**
 * Its pieces, from place to place in metres.
 */
pieces: Array<[[number, number], [number, number]]>, };

/**
 * A course.
 */
export type CourseFigures = { 
/**
 * Its number from 1.
 */
index: number, 
/**
 * Radius of its inner side on its tightest curve; none where it is straight.
 */
radius_m: number | null, 
/**
 * Length along its inner side.
 */
length_m: number, 
/**
 * Blocks and pieces in it.
 */
blocks: number, 
/**
 * Whole ones.
 */
whole: number, 
/**
 * Cut ones.
 */
cut: number, 
/**
 * The joint between ends at the inner side; the joint as planned where it is straight.
 */
inner_joint_mm: number, 
/**
 * The same at the outer side.
 */
outer_joint_mm: number, 
/**
 * How it ends.
 */
closing: ClosingWord, 
/**
 * Length of the piece that closes it, where one does.
 */
closer_mm: number | null, 
/**
 * Whether it is not a full width.
 */
rip: boolean, 
/**
 * The shortest lap against the course before, where laps are followed.
 */
least_lap_mm: number | null, };

/**
 * Everything that is sawn.
 */
export type CutFigures = { 
/**
 * Cut pieces.
 */
pieces: number, 
/**
 * Blocks that they are sawn from.
 */
blocks: number, 
/**
 * Pieces that come out of what another left over.
 */
from_off_cuts: number, 
/**
 * Pieces under a third of a block.
 */
small: number, 
/**
 * Length of all saw cuts.
 */
sawn_m: number, 
/**
 * How many saw cuts there are.
 */
saw_cuts: number, 
/**
 * How long they take, minutes.
 */
saw_min: number, 
/**
 * At so many minutes each (common practice, no source).
 */
cut_min: number, 
/**
 * What the saw takes away.
 */
kerf_mm: number, 
/**
 * By size, the most frequent first.
 */
sizes: Array<CutSizeFigures>, };

/**
 * Pieces of one size, in whole millimetres.
 */
export type CutSizeFigures = { 
/**
 * Along the longer of its long sides.
 */
long_mm: number, 
/**
 * Along the shorter: less where the end is cut at an angle, nothing where it is a point.
 */
short_mm: number, 
/**
 * Its width.
 */
width_mm: number, 
/**
 * Saw cuts that one takes.
 */
saw_cuts: number, 
/**
 * How many.
 */
count: number, 
/**
 * Share of a block's face of the largest of them.
 */
fraction: number, };

/**
 * How damp stone or sand is as it is spread.
 */
export type Damp = "dry" | "as_it_came" | "watered" | "too_wet";

/**
 * Which day of which job.
 */
export type DayAsked = { 
/**
 * The job's identity.
 */
job: string, 
/**
 * The day as a date; left out, today.
 */
day?: string, };

/**
 * What was done on a day.
 */
export type DayView = { 
/**
 * The day, as a date.
 */
day: string, 
/**
 * What was done, a line each; empty where nothing was logged.
 */
done: Array<Phrase>, 
/**
 * How it was closed; none while it is not.
 */
closed: Phrase | null, 
/**
 * All of it in a few lines for the customer.
 */
to_customer: string, };

/**
 * A value that the plan did not give.
 */
export type DefaultUsed = { 
/**
 * Which value, as a path in the plan file.
 */
key: string, 
/**
 * What was used.
 */
value: number | string | number[], 
/**
 * Where it comes from.
 */
source: string, 
/**
 * How well that is known: seen, secondary, memory, practice or computed.
 */
status: string, };

/**
 * A delivery as the order list shows it.
 */
export type DeliveredView = { 
/**
 * The entry's identity.
 */
entry: string, 
/**
 * When it came.
 */
at: string, 
/**
 * Who logged it.
 */
who: string, 
/**
 * What it was called.
 */
what: string, 
/**
 * How much, as it was written down.
 */
quantity: number, 
/**
 * In which unit.
 */
unit: Unit, 
/**
 * Number on the ticket.
 */
ticket: string, 
/**
 * Who brought it.
 */
supplier: string, 
/**
 * A kept photo by its SHA-256; empty without one.
 */
photo: string, 
/**
 * The maker's batch.
 */
batch: string, 
/**
 * Its colour.
 */
colour: string, 
/**
 * Where it is stacked.
 */
stacked: string, 
/**
 * What it counts for in the line's measure; none where that cannot be told.
 */
counts: number | null, };

/**
 * One side of the outline for dimensioning.
 */
export type DimensionView = { 
/**
 * Where it starts.
 */
from: [number, number], 
/**
 * Where it ends.
 */
to: [number, number], 
/**
 * Its middle, on the line itself.
 */
middle: [number, number], 
/**
 * Its length along the line.
 */
length_m: number, 
/**
 * Its radius where it is an arc.
 */
radius_m: number | null, };

/**
 * The answer to a dip.
 */
export type DipAnswer = { 
/**
 * What the tape should have read.
 */
target_mm: number, 
/**
 * How high it is; negative when low.
 */
high_mm: number, 
/**
 * High, right or low.
 */
word: Word, };

/**
 * A place on a string for a layer, with the reading once there is one.
 */
export type DipPlace = { 
/**
 * The job's identity.
 */
job: string, 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift of the sub-base; left out, its finished top.
 */
lift?: number, 
/**
 * Pin at the string's zero.
 */
from: string, 
/**
 * The string's other pin.
 */
to: string, 
/**
 * Distance along the string from its zero, in metres.
 */
at_m: number, 
/**
 * How far the string is raised, in millimetres.
 */
raise_mm: number, 
/**
 * What the tape reads, in millimetres.
 */
reading_mm?: number, };

/**
 * What a tape should read at a place, before and after the reading.
 */
export type DipTarget = { 
/**
 * What the tape should read.
 */
target_mm: number, 
/**
 * Where that is.
 */
x_m: number, 
/**
 * Where that is.
 */
y_m: number, 
/**
 * The string's straight length.
 */
length_m: number, 
/**
 * Tolerance above design.
 */
high_by_mm: number, 
/**
 * Tolerance below design.
 */
low_by_mm: number, 
/**
 * With a reading given: how high it is; negative when low.
 */
high_mm: number | null, 
/**
 * With a reading given: high, right or low.
 */
word: Word | null, 
/**
 * With a reading given: what it costs in stone or sand to leave it low everywhere.
 */
costs: Phrase | null, 
/**
 * Asked once, kindly: the reading is far from what its neighbours say.
 */
doubt: Phrase | null, };

/**
 * A dip with its answer.
 */
export type DipView = { 
/**
 * The entry's identity.
 */
entry: string, 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift.
 */
lift: number | null, 
/**
 * Where it was taken.
 */
x_m: number, 
/**
 * Where it was taken.
 */
y_m: number, 
/**
 * The string it was taken from: pin at its zero.
 */
from: string, 
/**
 * The string's other pin.
 */
to: string, 
/**
 * Distance along the string from its zero.
 */
at_m: number, 
/**
 * How far the string was raised.
 */
raise_mm: number, 
/**
 * What the tape read.
 */
reading_mm: number, 
/**
 * What it should have read.
 */
target_mm: number, 
/**
 * How high it is; negative when low.
 */
high_mm: number, 
/**
 * High, right or low.
 */
word: Word, 
/**
 * Whether a newer dip at the same place and layer has taken its place.
 */
superseded: boolean, 
/**
 * When it was taken.
 */
at: string, 
/**
 * Who took it.
 */
who: string, };

/**
 * Unsaved input by key, kept so that nothing typed is lost when the app is ended.
 */
export type Drafts = Record<string, unknown>;

/**
 * The plan view in local metres, x along the reference edge, y to its left.
 */
export type Drawing = { 
/**
 * The outline as a ring; chords keep within 0.5 mm of arcs.
 */
outline: Array<[number, number]>, 
/**
 * The area to dig, working room included.
 */
dig: Array<[number, number]>, 
/**
 * Holes as rings.
 */
holes: Array<Array<[number, number]>>, 
/**
 * The reference edge as a line.
 */
edge: Array<[number, number]>, 
/**
 * Pins in walking order.
 */
pins: Array<PinView>, 
/**
 * Strings between pins.
 */
strings: Array<StringView>, 
/**
 * Sides with their length or radius, for dimensions.
 */
dimensions: Array<DimensionView>, 
/**
 * Area of the paving.
 */
area_m2: number, 
/**
 * Perimeter of the paving.
 */
perimeter_m: number, };

/**
 * Tape readings of the same places, round by round.
 */
export type DropTestAsked = { 
/**
 * What the tape read at each place, millimetres: the first round before any extra pass, then
 * one after each.
 */
rounds_mm: Array<Array<number>>, };

/**
 * A drop test as it stands.
 */
export type DropTestStand = { 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift of the sub-base.
 */
lift: number | null, 
/**
 * Rounds of readings so far.
 */
rounds: number, 
/**
 * What they show; none before the second round.
 */
says: Phrase | null, 
/**
 * What to mind besides.
 */
cautions: Array<Phrase>, };

/**
 * What a drop test shows.
 */
export type DropTestView = { 
/**
 * Pass by pass.
 */
passes: Array<DropView>, 
/**
 * In a word.
 */
verdict: DropVerdict, 
/**
 * About how many passes are left; none where that cannot be told.
 */
passes_left: number | null, 
/**
 * In words.
 */
says: Phrase, 
/**
 * What to mind besides.
 */
cautions: Array<Phrase>, };

/**
 * What a drop test shows.
 */
export type DropVerdict = "done" | "settling" | "too_thick_or_dry";

/**
 * What one pass did.
 */
export type DropView = { 
/**
 * Mean drop of the places.
 */
mean_mm: number, 
/**
 * The place that moved most; negative where it rose.
 */
most_mm: number, 
/**
 * Standard deviation of the drops.
 */
spread_mm: number, };

/**
 * An edge course.
 */
export type EdgeCourseFigures = { 
/**
 * Length along its inner side.
 */
length_m: number, 
/**
 * Units and pieces.
 */
blocks: number, 
/**
 * Whole ones.
 */
whole: number, 
/**
 * Cut ones.
 */
cut: number, 
/**
 * How it ends.
 */
closing: ClosingWord, 
/**
 * Length along the edge of the piece that closes it, where one does.
 */
closer_mm: number | null, 
/**
 * The joint that would finish it on whole units, where a piece closes it and there is one.
 */
finish_joint_mm: number | null, 
/**
 * Whether it closes on itself.
 */
ring: boolean, 
/**
 * Its straights and arcs.
 */
parts: Array<EdgePartFigures>, };

/**
 * A straight or an arc of an edge course.
 */
export type EdgePartFigures = { 
/**
 * The side of the outline, as the plan file names it.
 */
side: string, 
/**
 * Radius at the inner corners; none where it is straight.
 */
radius_m: number | null, 
/**
 * Length along the inner corners.
 */
length_m: number, 
/**
 * The joint there.
 */
inner_joint_mm: number, 
/**
 * The joint at the outer corners.
 */
outer_joint_mm: number, 
/**
 * How far each unit is turned against the one before.
 */
turn_deg: number, };

/**
 * One diary entry as a screen shows it.
 */
export type EntryView = { 
/**
 * The entry's identity.
 */
id: string, 
/**
 * Its kind: note, dip, pass, photo, strike and so on.
 */
kind: string, 
/**
 * When it happened.
 */
at: string, 
/**
 * When it was recorded, where that differs by more than five minutes.
 */
late: string | null, 
/**
 * Who logged it.
 */
who: string, 
/**
 * The stage it belongs to.
 */
stage: Stage | null, 
/**
 * What it says.
 */
says: Phrase, 
/**
 * The photo, where it is one.
 */
photo: string | null, 
/**
 * Who struck it, when and why.
 */
struck: StruckView | null, 
/**
 * Whether it may be struck from the diary.
 */
can_strike: boolean, };

/**
 * One line of a gate.
 */
export type Evidence = { 
/**
 * Whether it is there.
 */
met: boolean, 
/**
 * What it is, with its figures.
 */
says: Phrase, 
/**
 * The question that a `check` entry answers, where this line is answered by the person.
 */
check: string | null, };

/**
 * A fall over a length, told one way.
 */
export type FallAsked = { 
/**
 * The length it runs over.
 */
length_m: number, 
/**
 * How far it drops over that length.
 */
drop_mm?: number, 
/**
 * Or one in so many.
 */
one_in?: number, 
/**
 * Or per cent.
 */
percent?: number, 
/**
 * Length of the person's own level, for the drop under it.
 */
level_mm?: number, };

/**
 * The same fall, told every way.
 */
export type FallView = { 
/**
 * How far it drops over the length.
 */
drop_mm: number, 
/**
 * One in so many; none where it is level.
 */
one_in: number | null, 
/**
 * Per cent.
 */
percent: number, 
/**
 * How far it drops under the person's own level.
 */
under_level_mm: number | null, 
/**
 * What to mind.
 */
cautions: Array<Phrase>, };

/**
 * A figure of the reference, with where it comes from.
 */
export type FigureView = { 
/**
 * Its key.
 */
key: string, 
/**
 * What it is of.
 */
topic: string, 
/**
 * As the source gives it.
 */
value: string, 
/**
 * Its unit.
 */
unit: string, 
/**
 * Where it applies.
 */
context: string, 
/**
 * The numbers in it: both ends of a range, each part of a mix.
 */
numbers: Array<number>, 
/**
 * Where it comes from.
 */
source: string, 
/**
 * How well that is known.
 */
status: string, };

/**
 * What fills a vehicle first.
 */
export type FilledBy = "volume" | "mass";

/**
 * The weather as it is expected on a day.
 */
export type ForecastView = { 
/**
 * The entry.
 */
entry: string, 
/**
 * The day, as a date.
 */
day: string, 
/**
 * In a word.
 */
sky: Sky, 
/**
 * In words, with its temperatures and what was added.
 */
says: Phrase, 
/**
 * Work of the stages ahead that it speaks against.
 */
holds: Array<Phrase>, };

/**
 * What is bought.
 */
export type Goods = "blocks" | "sub_base" | "bed" | "joint_sand" | "cement" | "fine_aggregate" | "coarse_aggregate" | "concrete" | "mortar_sand" | "dye" | "membrane_under_sub_base" | "membrane_under_bed";

/**
 * Something that is bought.
 */
export type GoodsView = { 
/**
 * Which.
 */
what: Goods, 
/**
 * Its name.
 */
says: Phrase, 
/**
 * What it is measured in.
 */
measure: Measure, };

/**
 * A quantity that is told as a range.
 */
export type Headline = "spoil_loose" | "spoil" | "sub_base" | "bed" | "joint_sand";

/**
 * Hours of a task.
 */
export type HoursView = { 
/**
 * The task.
 */
task: Task, 
/**
 * Its name.
 */
says: Phrase, 
/**
 * Its key in the plan file's `rates`.
 */
key: string, 
/**
 * How many of its units: m³, m² or t.
 */
units: number, 
/**
 * One person's hours for one of them.
 */
each_h: number, 
/**
 * One person's hours for all.
 */
hours: number, };

/**
 * A completion record that was handed out.
 */
export type IssuedRecord = { 
/**
 * Issue number, from 1.
 */
number: number, 
/**
 * When it was issued.
 */
at: string, 
/**
 * Who issued it.
 */
who: string, 
/**
 * The file's name in the store's papers folder.
 */
file: string, 
/**
 * Who signed it, the customer first.
 */
signed_by: Array<SignatureView>, 
/**
 * Entries that were logged after it.
 */
logged_since: number, };

/**
 * Everything a job's screens show, folded from its diary.
 */
export type JobView = { 
/**
 * The job's identity.
 */
id: string, 
/**
 * Title from the plan in force.
 */
title: string, 
/**
 * Who goes over it.
 */
use: Use, 
/**
 * Where it is, for whom and by whom, as the plan says; empty where it does not.
 */
place: string, 
/**
 * The customer as named in the plan.
 */
customer: string, 
/**
 * The section drawing.
 */
section: Section, 
/**
 * What is needed now, in one sentence.
 */
next: Phrase, 
/**
 * The stage in work.
 */
stage: Stage, 
/**
 * Every stage in working order.
 */
stages: Array<StageView>, 
/**
 * Every layer from the formation up, the sub-base by lift.
 */
layers: Array<LayerView>, 
/**
 * Passes by layer, lift and plant.
 */
passes: Array<PassRow>, 
/**
 * Plant that has been logged on this job, most recent first.
 */
plants: Array<string>, 
/**
 * The plan view.
 */
drawing: Drawing, 
/**
 * Dips in order of logging, struck ones left out.
 */
dips: Array<DipView>, 
/**
 * Photos in order, struck ones left out.
 */
photos: Array<PhotoView>, 
/**
 * Cautions for the stage in work.
 */
cautions: Array<Phrase>, 
/**
 * The last entry that can be undone: by this phone, not struck, not the plan.
 */
undo: UndoView | null, 
/**
 * Completion records issued so far.
 */
records: Array<IssuedRecord>, 
/**
 * What happened besides dips and passes.
 */
site: SiteView, 
/**
 * Extra work, struck ones left out.
 */
changes: Array<ChangeView>, 
/**
 * Signatures that the next completion record will carry, the customer's first.
 */
signatures: Array<SignatureView>, 
/**
 * The currency that prices are in; empty where none was named.
 */
currency: string, 
/**
 * The plan in force, as written in the plan file.
 */
plan: unknown, };

/**
 * Unsaved input to keep, or to forget when the value is null.
 */
export type KeepDraft = { 
/**
 * Which input.
 */
key: string, 
/**
 * What was typed.
 */
value: unknown, };

/**
 * Words at a place.
 */
export type LabelView = { 
/**
 * The words.
 */
text: string, 
/**
 * Their middle, metres.
 */
x_m: number, 
/**
 * The same.
 */
y_m: number, };

/**
 * A layer whose top is measured from the string.
 */
export type Layer = "formation" | "sub_base" | "bed" | "surface";

/**
 * One layer under a place.
 */
export type LayerAt = { 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift; none for other layers.
 */
lift: number | null, 
/**
 * Level of its top.
 */
level_mm: number, 
/**
 * What a tape should read from the string, level across to the place.
 */
target_mm: number | null, 
/**
 * Tolerance above design.
 */
high_by_mm: number, 
/**
 * Tolerance below design.
 */
low_by_mm: number, };

/**
 * How far a layer has come.
 */
export type LayerState = "planned" | "in_work" | "done";

/**
 * One layer, or one lift of the sub-base, with what was measured.
 */
export type LayerView = { 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift; none for other layers.
 */
lift: number | null, 
/**
 * How far its top lies under the finished surface, in millimetres.
 */
below_finished_mm: number, 
/**
 * Tolerance above design, in millimetres.
 */
high_by_mm: number, 
/**
 * Tolerance below design, in millimetres.
 */
low_by_mm: number, 
/**
 * Dips taken, struck ones left out; only the newest at a place counts.
 */
dips: number, 
/**
 * Dips inside the tolerance.
 */
in: number, 
/**
 * Dips outside it.
 */
out: number, 
/**
 * The fewest dips that can cover the layer.
 */
wanted_dips: number, 
/**
 * Whether there are dips enough and none of it is far from one.
 */
covered: boolean, 
/**
 * How far its farthest point is from a dip, metres; none before the first.
 */
widest_gap_m: number | null, 
/**
 * Where to dip next: the farthest point, where it is too far from a dip.
 */
next_place: NextPlace | null, 
/**
 * Thickness measured against the layer below.
 */
thickness_mm: Spread | null, };

/**
 * SVG path data, x along the reference edge, y to its left: to be turned over for a screen whose y
 * runs down.
 */
export type LayingPaths = { 
/**
 * The outline and its holes.
 */
outline: string, 
/**
 * Whole blocks of the field.
 */
whole: string, 
/**
 * Cut pieces of the field.
 */
cut: string, 
/**
 * Rips.
 */
rips: string, 
/**
 * Whole units of the edge courses.
 */
edge: string, 
/**
 * Cut units of the edge courses.
 */
edge_cut: string, 
/**
 * Pieces under a third of a block, which are among the others too.
 */
small: string, };

/**
 * Something wrong with a laying: `code`, `values` and `text`, and where.
 */
export type LayingProblem = { 
/**
 * Chainage along the reference edge where it begins.
 */
from_m: number | null, 
/**
 * Chainage where it ends.
 */
to_m: number | null, 
/**
 * The first and the last course it is in.
 */
courses: [number, number] | null, 
/**
 * The place to mark on a drawing, metres.
 */
place_m: [number, number] | null, 
/**
 * What would mend it, worked out again.
 */
proposal: LayingProposal | null, 
/**
 * The key in the catalogue.
 */
code: string, 
/**
 * Values for the places in the text, already in the units the text names.
 */
values: { [key in string]: Value }, 
/**
 * The English, for the command line and the papers.
 */
text: string, };

/**
 * What would mend a problem: `code`, `values` and `text`.
 */
export type LayingProposal = { 
/**
 * Whether it mends all of it.
 */
mends: boolean, 
/**
 * The key in the catalogue.
 */
code: string, 
/**
 * Values for the places in the text, already in the units the text names.
 */
values: { [key in string]: Value }, 
/**
 * The English, for the command line and the papers.
 */
text: string, };

/**
 * A laying to be drawn, with its figures.
 */
export type LayingView = { 
/**
 * Blocks to buy, with the allowance.
 */
buy: number, 
/**
 * What one unit of the paths is in metres.
 */
unit_m: number, 
/**
 * Lower left and upper right corner of the outline, metres.
 */
bounds_m: [[number, number], [number, number]], 
/**
 * The numbers of the courses, at their starts outside the paving.
 */
numbers: Array<LabelView>, 
/**
 * The pieces, one path a kind.
 */
paths: LayingPaths, 
/**
 * The plan's title.
 */
title: string, 
/**
 * Blocks that are whole: 99.5 % of the face or more is left.
 */
whole: number, 
/**
 * Cut pieces.
 */
cut: number, 
/**
 * Blocks that it takes: the whole ones, and those that pieces are sawn from.
 */
needed: number, 
/**
 * Share of a block's face of the smallest cut piece; none where nothing is cut.
 */
smallest_cut_fraction: number | null, 
/**
 * Cut pieces under a third of a block.
 */
small: number, 
/**
 * Area of the outline.
 */
area_m2: number, 
/**
 * Area of the pieces.
 */
covered_m2: number, 
/**
 * What is left: the joints.
 */
joints_m2: number, 
/**
 * The courses of the field.
 */
courses: Array<CourseFigures>, 
/**
 * The edge courses, each along sides that run on into each other.
 */
edge_courses: Array<EdgeCourseFigures>, 
/**
 * The cut list.
 */
cuts: CutFigures, 
/**
 * How the start of a straight bond was found; none where courses follow a curve, or the plan
 * gives the start.
 */
search: SearchFigures | null, 
/**
 * Widths of whole courses near the one that is planned.
 */
whole_course_widths: Array<WidthFigures>, 
/**
 * The narrowest and the widest joint that may be laid.
 */
joint_limits_mm: [number, number], 
/**
 * The joint at the ends of blocks, in patterns that turn them: two widths lie along one length.
 */
end_joint_mm: number | null, 
/**
 * Least inner radius on which the joints stay within these limits.
 */
least_radius_m: LeastRadii, 
/**
 * Boards sawn to the curves.
 */
templates: Array<TemplateFigures>, 
/**
 * Packs to open at once and mix, so that no colour lies in bands.
 */
packs: PackFigures, 
/**
 * What is wrong, and what would mend it.
 */
problems: Array<LayingProblem>, };

/**
 * Least inner radii; none where the limits leave nothing between them.
 */
export type LeastRadii = { 
/**
 * With the long side along the course.
 */
stretcher: number | null, 
/**
 * Set radially.
 */
soldier: number | null, };

/**
 * A level book looked over while it is typed.
 */
export type LevelBookLook = { 
/**
 * The level that the first point was taken at.
 */
start_m: number, 
/**
 * One answer for each row that was typed, as far as the book is sound.
 */
rows: Array<BookRowLook>, 
/**
 * Everything that is wrong, at `/start`, `/close`, `/rows/2` or `/rows/2/bs`.
 */
problems: Array<Problem>, 
/**
 * What the book still lacks, where nothing in it is wrong.
 */
unfinished: Phrase | null, 
/**
 * The checks, once the book is whole.
 */
checks: BookChecks | null, };

/**
 * A level book as it is typed.
 */
export type LevelBookTyped = { 
/**
 * The level that the first point has; empty for the datum, 0.
 */
start: string, 
/**
 * The level that the last point is known to have; empty where it is not known.
 */
close: string, 
/**
 * One row a staff position, in booking order; a row with nothing in it is passed over.
 */
rows: Array<BookRow>, };

/**
 * One lift of a layer.
 */
export type LiftView = { 
/**
 * Compacted thickness.
 */
thickness_mm: number, 
/**
 * Passes over it.
 */
passes: number, };

/**
 * Spoil in loads of a vehicle.
 */
export type LoadsView = { 
/**
 * The person's name for it.
 */
vehicle: string, 
/**
 * What it is.
 */
kind: VehicleKind, 
/**
 * Loads, at the least and at the most swell.
 */
loads: [number, number], 
/**
 * What fills it first at the most.
 */
filled_by: FilledBy, };

/**
 * One thing that happened.
 */
export type LogEntry = { 
/**
 * The job's identity.
 */
job: string, 
/**
 * The kind of entry: note, dip, pass, photo, check, stage, delivery, strike.
 */
kind: string, 
/**
 * What it says, by kind.
 */
body: unknown, 
/**
 * When it happened, where that is not now: RFC 3339 with offset.
 */
at?: string, };

/**
 * What came of logging.
 */
export type Logged = { 
/**
 * The new entry's identity.
 */
id: string, 
/**
 * The answer to a dip.
 */
answer: DipAnswer | null, 
/**
 * What kinds of data changed, so that a screen knows what to read again.
 */
changed: Array<Changed>, };

/**
 * What is compacted.
 */
export type Material = "granular" | "cohesive";

/**
 * Stone or bed sand as it stands.
 */
export type MaterialView = { 
/**
 * Which.
 */
what: Goods, 
/**
 * The need as planned.
 */
planned_t: number, 
/**
 * The need by what was measured.
 */
needed_t: number, 
/**
 * Dips of the layer below that this rests on.
 */
dips: number, 
/**
 * Their mean depth to fill beyond the plan; none before the first.
 */
mean_short_mm: number | null, 
/**
 * Two standard errors, for what lies between the dips; none before the second.
 */
uncertainty_t: number | null, 
/**
 * Delivered so far.
 */
delivered_t: number, 
/**
 * In the ground, by the lifts that are measured whole; none before one is.
 */
placed_t: number | null, 
/**
 * How much more is needed than was delivered; negative where there is more.
 */
short_t: number, 
/**
 * That many more of what it is sold in; 0 where nothing is short.
 */
short_units: number, 
/**
 * That many barrows; 0 where nothing is short.
 */
short_barrows: number, 
/**
 * The area that what is here and not yet placed covers to its full depth.
 */
covers_m2: number, 
/**
 * In words.
 */
says: Phrase, };

/**
 * What an amount is measured in.
 */
export type Measure = "pieces" | "kg" | "m3" | "m2";

/**
 * A mix and how much of it.
 */
export type MixAsked = { 
/**
 * Which.
 */
mix: MixName, 
/**
 * How much, mixed.
 */
volume_m3: number, 
/**
 * Parts of sand to one of cement in mortar, by volume; left out, 3.
 */
parts?: number, 
/**
 * Class of the cement in concrete; left out, 32.5.
 */
cement_class?: CementClass, 
/**
 * Concrete mixed by hand, without a mixer.
 */
by_hand?: boolean, 
/**
 * What one batch of the mixer holds; left out, the usual.
 */
mixer_l?: number, 
/**
 * What one bag of cement holds; left out, the usual.
 */
bag_kg?: number, 
/**
 * Water in the sand, per cent of its dry mass; left out, none.
 */
sand_moisture_percent?: number, 
/**
 * Dye, per cent of the mass of cement; left out, none.
 */
dye_percent?: number, 
/**
 * Its colour.
 */
dye_colour?: string, };

/**
 * A mix by its name.
 */
export type MixName = "ST1" | "ST2" | "ST4" | "mortar";

/**
 * A mix, weighed out.
 */
export type MixView = { 
/**
 * All of it.
 */
all: PartsView, 
/**
 * How many batches, all alike.
 */
batches: number, 
/**
 * One of them.
 */
batch: PartsView, 
/**
 * Whole bags of cement.
 */
bags: number, 
/**
 * What is left of the last.
 */
cement_left_kg: number, 
/**
 * The sand of a mortar as loose volume.
 */
sand_m3: number | null, 
/**
 * Where the mix comes from.
 */
source: string, 
/**
 * How well that is known.
 */
status: string, 
/**
 * What to mind besides.
 */
cautions: Array<Phrase>, };

/**
 * What is moved.
 */
export type Moved = "spoil" | "stone" | "sand" | "blocks" | "joint_sand" | "concrete";

/**
 * Something moved by hand.
 */
export type MovedView = { 
/**
 * What.
 */
what: Moved, 
/**
 * Its name.
 */
says: Phrase, 
/**
 * The stage that moves it.
 */
stage: Stage, 
/**
 * How much.
 */
tonnes: number, 
/**
 * Trips of the barrow.
 */
barrows: number, };

/**
 * What one assumption does to a quantity.
 */
export type MoverView = { 
/**
 * Which.
 */
assumption: Assumption, 
/**
 * Its name.
 */
says: Phrase, 
/**
 * Its least and most, in its own unit.
 */
between: [number, number], 
/**
 * The quantity at these, the smaller first.
 */
quantity: [number, number], };

/**
 * A place, and the string from which to dip it.
 */
export type NextPlace = { 
/**
 * Along x, metres.
 */
x_m: number, 
/**
 * Along y, metres.
 */
y_m: number, 
/**
 * The pin at the string's zero.
 */
from: string, 
/**
 * The pin at its other end.
 */
to: string, 
/**
 * Distance along the string, metres.
 */
at_m: number, };

/**
 * No arguments.
 */
export type Nothing = Record<symbol, never>;

/**
 * Which job.
 */
export type OfJob = { 
/**
 * The job's identity.
 */
job: string, };

/**
 * A layer of a job.
 */
export type OfLayer = { 
/**
 * The job's identity.
 */
job: string, 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift of the sub-base; left out, its finished top.
 */
lift?: number, };

/**
 * An offset square to a line.
 */
export type OffsetView = { 
/**
 * Distance along the line.
 */
at_m: number, 
/**
 * Distance square to it, to the curve.
 */
mm: number, };

/**
 * One line of an order. Amounts are in its measure.
 */
export type OrderLineView = { 
/**
 * What it is.
 */
what: Goods, 
/**
 * Its measure.
 */
measure: Measure, 
/**
 * What the job takes.
 */
need: number, 
/**
 * Ordered beyond it, per cent.
 */
allowance_percent: number, 
/**
 * The need with its allowance.
 */
with_allowance: number, 
/**
 * The need with its allowance, in words.
 */
says: Phrase, 
/**
 * What is ordered.
 */
order: QuoteView, 
/**
 * What others offer.
 */
others: Array<QuoteView>, 
/**
 * Delivered so far.
 */
delivered: number, 
/**
 * Ordered and not yet here.
 */
short: number, 
/**
 * Here and not ordered.
 */
over: number, 
/**
 * Needed and not yet here, the allowance left aside.
 */
missing: number, 
/**
 * Every delivery for it.
 */
deliveries: Array<DeliveredView>, };

/**
 * An order, with its deliveries where the job has begun.
 */
export type OrderListView = { 
/**
 * The currency of the prices; empty where there are none.
 */
currency: string, 
/**
 * Line by line, in the order things are needed.
 */
lines: Array<OrderLineView>, 
/**
 * Deliveries of what is not on the order.
 */
others: Array<DeliveredView>, 
/**
 * What is ordered, together, as far as it has prices; none where that is beyond what can be
 * held.
 */
total_minor: number | null, 
/**
 * Lines without a price.
 */
unpriced: number, 
/**
 * Each supplier with what their offers come to.
 */
suppliers: Array<SupplierView>, 
/**
 * What is needed and not yet here, in words; empty where everything is.
 */
missing: string, 
/**
 * Stone and bed sand by what was measured; empty before a job has begun.
 */
stands: Array<MaterialView>, 
/**
 * Every default that the order leans on.
 */
defaults: Array<DefaultUsed>, };

/**
 * An ordinate.
 */
export type OrdinateFigures = { 
/**
 * Distance from the middle of the board.
 */
at_m: number, 
/**
 * The ordinate there.
 */
mm: number, };

/**
 * A person's own plant, bags and vehicles, each written as in a plan file, so that a screen puts
 * them into a new plan as they are.
 */
export type OwnKitView = { 
/**
 * Machines: the plan file's `plant`.
 */
plant: Array<OwnPlant>, 
/**
 * Bag sizes: the plan file's `bags`.
 */
bags: { [key in string]: number }, 
/**
 * Vehicles: the plan file's `vehicles`.
 */
vehicles: Array<OwnVehicle>, };

/**
 * A machine as a plan file writes it.
 */
export type OwnPlant = { 
/**
 * The name that passes are logged under.
 */
name: string, 
/**
 * What it is.
 */
kind: PlantKind, 
/**
 * Its rating in the unit of its kind.
 */
rating?: number, 
/**
 * Working mass.
 */
mass_kg?: number, 
/**
 * Area in contact with the ground.
 */
contact_m2?: number, 
/**
 * Length of the base plate.
 */
frame_length_mm?: number, 
/**
 * Width of the plate or drum.
 */
width_mm?: number, 
/**
 * How far one strip laps over the last.
 */
overlap_mm?: number, 
/**
 * How fast it travels.
 */
speed_m_per_min?: number, 
/**
 * How hard it shakes.
 */
vibration_m_s2?: number, 
/**
 * How that is known: `declared` by the maker, which is doubled, or `measured` at work.
 */
vibration?: "declared" | "measured", };

/**
 * What the crew's own finished jobs say of a task.
 */
export type OwnRateView = { 
/**
 * The task.
 */
task: Task, 
/**
 * Its key in the plan file's `rates`.
 */
key: string, 
/**
 * One person's hours for one of its units, by these jobs.
 */
each_h: number, 
/**
 * The book's, for stretcher bond.
 */
book_h: number, 
/**
 * Jobs it rests on.
 */
jobs: number, 
/**
 * One person's hours on these, all tasks of the same stages together.
 */
worked_h: number, 
/**
 * What the book's rates would have made of them.
 */
by_the_book_h: number, };

/**
 * A vehicle as a plan file writes it.
 */
export type OwnVehicle = { 
/**
 * The person's name for it.
 */
name: string, 
/**
 * What it is.
 */
kind: VehicleKind, 
/**
 * Loose volume it holds.
 */
volume_m3: number, 
/**
 * Mass it may carry.
 */
mass_t: number, };

/**
 * How many packs to open at once, as a source has it.
 */
export type PackFigures = { 
/**
 * How many at least.
 */
open_at_once: number, 
/**
 * Where that is from.
 */
source: string, 
/**
 * How it is known.
 */
status: string, };

/**
 * A pack of blocks.
 */
export type PackView = { 
/**
 * The entry.
 */
entry: string, 
/**
 * Which it is, from 1.
 */
number: number, 
/**
 * What its label says.
 */
label: string, 
/**
 * A photo of the label.
 */
photo: string | null, 
/**
 * When it was opened.
 */
opened_at: string, 
/**
 * When it was laid to its last block; none while it is open.
 */
emptied_at: string | null, };

/**
 * The packs of blocks.
 */
export type PacksView = { 
/**
 * Every pack that was opened, in order.
 */
list: Array<PackView>, 
/**
 * How many are laid from now.
 */
open: number, 
/**
 * What to mind: how many to lay from, or that too few are open.
 */
says: Phrase, 
/**
 * Whether too few are open.
 */
few: boolean, };

/**
 * What goes into a mix.
 */
export type PartsView = { 
/**
 * Cement.
 */
cement_kg: number, 
/**
 * Sand, as if it were dry.
 */
sand_kg: number, 
/**
 * The same sand as it lies, with the water in it.
 */
damp_sand_kg: number, 
/**
 * Stone.
 */
stone_kg: number, 
/**
 * Dye.
 */
dye_kg: number, };

/**
 * Passes logged on one layer or lift with one machine.
 */
export type PassRow = { 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift; none for other layers.
 */
lift: number | null, 
/**
 * The machine, as named when logged.
 */
plant: string, 
/**
 * Passes done.
 */
done: number, 
/**
 * Passes wanted; none where no published figure is held for this machine.
 */
wanted: number | null, 
/**
 * Whether anything still moved under the plate at the last pass; none if not said.
 */
still_moving: boolean | null, 
/**
 * When the last pass was made.
 */
last_at: string, 
/**
 * How many came sooner after the one before than this machine can go over the layer; none where
 * its width is not in the plan.
 */
quick: number | null, 
/**
 * The least minutes of a pass; none where its width is not in the plan.
 */
pass_min: number | null, };

/**
 * A machine and a layer under one specification.
 */
export type PassesAsked = { 
/**
 * The specification by its name.
 */
specification: string, 
/**
 * The kind of machine by its name.
 */
plant: string, 
/**
 * Its rating: kg/m² of contact for a plate, kg for a tamper, kg/m of drum for a roller.
 */
rating?: number, 
/**
 * Its working mass, where the rating is not given.
 */
mass_kg?: number, 
/**
 * A plate's area in contact with the ground.
 */
contact_m2?: number, 
/**
 * Width of its plate or drum.
 */
width_mm?: number, 
/**
 * How far one strip laps over the last; left out, 75 mm (our default).
 */
overlap_mm?: number, 
/**
 * How fast it travels.
 */
speed_m_per_min?: number, 
/**
 * The layer, compacted.
 */
layer_mm: number, 
/**
 * What is compacted; left out, stone.
 */
material?: Material, 
/**
 * The area of the layer, for the time of a pass.
 */
area_m2?: number, };

/**
 * Passes for a layer, or the lifts it must be laid in.
 */
export type PassesView = { 
/**
 * Passes over the layer in one lift; none where that is not permitted or there is no row.
 */
passes: number | null, 
/**
 * In a word.
 */
verdict: Verdict, 
/**
 * Lifts that the machine may compact; empty where none can be told.
 */
lifts: Array<LiftView>, 
/**
 * The document.
 */
source: string, 
/**
 * How well its row is known.
 */
status: string, 
/**
 * In words, with what to do.
 */
says: Phrase, 
/**
 * What to mind besides.
 */
cautions: Array<Phrase>, 
/**
 * The rating that was looked up.
 */
rating: number, 
/**
 * Its unit.
 */
rated_in: string, 
/**
 * The least time of one pass, minutes; none without an area and a width.
 */
pass_min: number | null, };

/**
 * One person's day on the plates.
 */
export type PersonDayView = { 
/**
 * The day: 2026-04-07.
 */
day: string, 
/**
 * Who; empty where nobody was named.
 */
who: string, 
/**
 * Machine by machine.
 */
runs: Array<RunView>, 
/**
 * The exposure of what is reckoned.
 */
exposure: VibrationView, 
/**
 * Passes that are not reckoned, because the machine's width or vibration is not known.
 */
unknown_passes: number, };

/**
 * A photo kept on the job.
 */
export type PhotoView = { 
/**
 * The entry's identity.
 */
entry: string, 
/**
 * SHA-256 of the kept bytes, in hexadecimal.
 */
sha256: string, 
/**
 * The stage it proves.
 */
stage: Stage, 
/**
 * What it shows, in the person's words.
 */
caption: string, 
/**
 * The pin it was taken at; empty where it names none.
 */
pin: string, 
/**
 * When it was taken.
 */
at: string, 
/**
 * Who took it.
 */
who: string, };

/**
 * A sentence as a key with values, and its English.
 */
export type Phrase = { 
/**
 * The key in the catalogue.
 */
code: string, 
/**
 * Values for the places in the text, already in the units the text names.
 */
values: { [key in string]: Value }, 
/**
 * The English, for the command line and the papers.
 */
text: string, };

/**
 * A pin.
 */
export type PinView = { 
/**
 * Its name: R1, R2… along the reference edge, F1… along the far edge.
 */
name: string, 
/**
 * Along the frame's x.
 */
x_m: number, 
/**
 * Along the frame's y.
 */
y_m: number, 
/**
 * Distance along the reference edge.
 */
at_m: number, 
/**
 * Finished level here.
 */
finished_mm: number, 
/**
 * Formation level here.
 */
formation_mm: number, };

/**
 * Headline figures of a plan.
 */
export type PlanFigures = { 
/**
 * Area of the paving.
 */
area_m2: number, 
/**
 * Perimeter of the paving.
 */
perimeter_m: number, 
/**
 * Mean depth to dig.
 */
dig_depth_mm: number, 
/**
 * Ground to dig, in the solid.
 */
dig_solid_m3: number, 
/**
 * Ground to take away, loose, least and most.
 */
dig_loose_m3: [number, number], 
/**
 * Stone.
 */
sub_base_t: number, 
/**
 * Bed sand.
 */
bed_t: number, 
/**
 * Blocks to buy.
 */
blocks: number, 
/**
 * Joint sand.
 */
joint_sand_kg: number, 
/**
 * Haunch concrete.
 */
haunch_m3: number, 
/**
 * Every default used, with its source.
 */
defaults: Array<DefaultUsed>, 
/**
 * Cautions that apply.
 */
cautions: Array<Phrase>, };

/**
 * A plan looked over while it is being typed.
 */
export type PlanLook = { 
/**
 * Every problem; empty when the plan is good.
 */
problems: Array<Problem>, 
/**
 * The drawing, where the plan is good.
 */
drawing: Drawing | null, 
/**
 * The section, where the plan is good.
 */
section: Section | null, 
/**
 * The take-off as `fairfall plan --json` gives it, where the plan is good.
 */
answer: unknown, 
/**
 * Headline figures, where the plan is good.
 */
figures: PlanFigures | null, };

/**
 * A plan as it stands on the screen, to be looked over without keeping it.
 */
export type PlanText = { 
/**
 * The plan file's text.
 */
text: string, };

/**
 * One lift of the sub-base as planned.
 */
export type PlannedLift = { 
/**
 * Compacted thickness.
 */
thickness_mm: number, 
/**
 * Passes over it; none where no row says.
 */
passes: number | null, };

/**
 * A kind of machine, as the compaction tables tell them apart.
 */
export type PlantKind = "vibrating_plate" | "vibro_tamper" | "single_drum_roller" | "twin_drum_roller" | "vibratory_roller" | "tight_places_tamper";

/**
 * A kind of machine.
 */
export type PlantView = { 
/**
 * Which.
 */
kind: PlantKind, 
/**
 * Its name.
 */
says: Phrase, 
/**
 * What its rating is in.
 */
rated_in: string, };

/**
 * Where the plate may go now.
 */
export type PlateView = { 
/**
 * On which layer.
 */
layer: Layer, 
/**
 * Rings, outer ones and holes alike, to be filled by the even-odd rule.
 */
rings: Array<Array<[number, number]>>, 
/**
 * Its area.
 */
area_m2: number, 
/**
 * In words.
 */
says: Phrase, };

/**
 * What a typed price comes to.
 */
export type PriceLook = { 
/**
 * How much; none while it is no number.
 */
quantity: number | null, 
/**
 * The price of one unit in whole minor units; none while it is no amount.
 */
rate_minor: number | null, 
/**
 * The price in words; empty while something is missing.
 */
price: string, 
/**
 * What is wrong with what is typed; nothing is said of what is empty.
 */
problems: Array<Problem>, };

/**
 * A price as it is typed.
 */
export type PriceTyped = { 
/**
 * How much, in its unit.
 */
quantity: string, 
/**
 * In which unit.
 */
unit: Unit, 
/**
 * The price of one unit: "96.50".
 */
rate: string, 
/**
 * The currency's code; empty for none.
 */
currency: string, };

/**
 * Something in a plan that cannot be, in words, with its place.
 */
export type Problem = { 
/**
 * JSON pointer (RFC 6901) to the value; empty for the whole file.
 */
at: string, 
/**
 * What is wrong.
 */
problem: string, 
/**
 * What would be right.
 */
right: string, };

/**
 * What comes of one offer.
 */
export type QuoteView = { 
/**
 * Who; empty where that is not said.
 */
supplier: string, 
/**
 * In what it is sold.
 */
sold_in: SoldIn, 
/**
 * What one holds, in the line's measure.
 */
holds: number, 
/**
 * How many.
 */
count: number, 
/**
 * How many of what, in words.
 */
says: Phrase, 
/**
 * What these hold together.
 */
ordered: number, 
/**
 * What is left of them when the need and its allowance are used.
 */
left_over: number, 
/**
 * What one costs, in minor units.
 */
price_minor: number | null, 
/**
 * What they cost, in minor units.
 */
total_minor: number | null, };

/**
 * A quantity as a range, in its measure.
 */
export type RangeView = { 
/**
 * Which.
 */
what: Headline, 
/**
 * Its name.
 */
says: Phrase, 
/**
 * Its measure.
 */
measure: Measure, 
/**
 * With everything as planned.
 */
usual: number, 
/**
 * The least and the most of it.
 */
between: [number, number], 
/**
 * What moves it, the strongest first.
 */
moved_by: Array<MoverView>, };

/**
 * A new plan for a job that is under way.
 */
export type RevisePlan = { 
/**
 * The job's identity.
 */
job: string, 
/**
 * The plan file's text.
 */
text: string, };

/**
 * One machine in a person's day.
 */
export type RunView = { 
/**
 * The machine, as logged.
 */
plant: string, 
/**
 * Passes with it.
 */
passes: number, 
/**
 * The least time they take, minutes; none where that cannot be told.
 */
minutes: number | null, 
/**
 * What they are reckoned with: the maker's value doubled, or the measured one.
 */
reckoned_m_s2: number | null, 
/**
 * Passes among them that are not reckoned.
 */
unknown_passes: number, };

/**
 * What the search for a start did.
 */
export type SearchFigures = { 
/**
 * Starts that were tried.
 */
tried: number, 
/**
 * From the corner, nothing shifted.
 */
plain: TriedFigures, 
/**
 * The start that was taken.
 */
taken: TriedFigures, 
/**
 * Blocks that need no cut because of it.
 */
cuts_saved: number, 
/**
 * The same in words.
 */
says: Phrase, };

/**
 * The cross-section through the layers, top first.
 */
export type Section = { 
/**
 * Layers from the blocks down to the formation.
 */
layers: Array<SectionLayer>, 
/**
 * Width of the paving that the section cuts, in metres.
 */
width_m: number, 
/**
 * How far the surface drops over that width, in millimetres, away from the reference edge.
 */
drop_mm: number, 
/**
 * "1 in" this many across; none where the surface has no crossfall.
 */
crossfall_one_in: number | null, 
/**
 * The existing ground against the finished level at the reference edge, in millimetres:
 * positive when the ground stands above the finished surface.
 */
ground_above_finished_mm: number, };

/**
 * One layer in the section.
 */
export type SectionLayer = { 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift of the sub-base, from 1 at the bottom; none for other layers.
 */
lift: number | null, 
/**
 * Designed thickness in millimetres; 0 for the formation, which is a surface.
 */
thickness_mm: number, 
/**
 * Measured mean thickness, where there are dips of this layer and the one below.
 */
measured_mm: number | null, 
/**
 * Drawn dashed, outlined in marker, or solid.
 */
state: LayerState, 
/**
 * The stage that a tap on this layer opens.
 */
stage: Stage, };

/**
 * Who holds the phone now.
 */
export type SetPerson = { 
/**
 * The name that entries carry from now on.
 */
name: string, };

/**
 * A shape looked over.
 */
export type ShapeLook = { 
/**
 * The shape as far as it can be drawn.
 */
drawing: Drawing | null, 
/**
 * The `outline` of the plan's answer for what is drawn: area, sides, residuals of ties.
 */
outline: unknown, 
/**
 * Whether everything that was typed is in the drawing.
 */
whole: boolean, };

/**
 * A shape as it is typed, in the words of the plan file.
 */
export type ShapeTyped = { 
/**
 * The plan's `outline`.
 */
outline: unknown, 
/**
 * The plan's `holes`; null where there are none.
 */
holes: unknown, };

/**
 * A sheet of a curve at true size: millimetres from the board's middle and from its straight side.
 */
export type SheetFigures = { 
/**
 * Its lower left corner.
 */
corner_mm: [number, number], 
/**
 * Its width and height.
 */
size_mm: [number, number], 
/**
 * Points of the curve.
 */
line_mm: Array<[number, number]>, };

/**
 * The shelf of jobs, newest activity first.
 */
export type Shelf = { 
/**
 * One row a job.
 */
jobs: Array<ShelfJob>, 
/**
 * Who holds the phone; empty until a name is given.
 */
person: string, 
/**
 * Everyone who has logged on this phone, most recent first.
 */
people: Array<string>, 
/**
 * What the store has to tell, such as a damaged file moved aside.
 */
notices: Array<Phrase>, };

/**
 * One job on the shelf.
 */
export type ShelfJob = { 
/**
 * The job's identity.
 */
id: string, 
/**
 * Its title from the plan in force.
 */
title: string, 
/**
 * Who goes over it.
 */
use: Use, 
/**
 * The small section drawing.
 */
section: Section, 
/**
 * What is needed now.
 */
next: Phrase, 
/**
 * Entries in the diary, struck ones included.
 */
entries: number, 
/**
 * When the newest entry was recorded.
 */
last_at: string, };

/**
 * A signature as a screen shows it: by whom, as whom, when. The strokes stand on the paper.
 */
export type SignatureView = { 
/**
 * The signer's name in letters.
 */
name: string, 
/**
 * As whom, in words.
 */
role: string, 
/**
 * When.
 */
at: string, 
/**
 * Whether it was drawn; else the name was typed.
 */
drawn: boolean, 
/**
 * Entries other than signatures that were logged after it.
 */
logged_since: number, };

/**
 * What happened besides dips and passes, and what follows from it now.
 */
export type SiteView = { 
/**
 * Soft spots of the formation, in order.
 */
soft_spots: Array<SoftSpotView>, 
/**
 * The weather as last noted.
 */
weather: WeatherView | null, 
/**
 * Layers and lifts as they were last spread.
 */
spreads: Array<SpreadView>, 
/**
 * Edge concrete with its age.
 */
concrete: Array<ConcreteView>, 
/**
 * Drop tests, the newest of each layer and lift.
 */
drop_tests: Array<DropTestStand>, 
/**
 * Snags, in order.
 */
snags: Array<SnagView>, 
/**
 * Packs of blocks.
 */
packs: PacksView, 
/**
 * What is expected of the days from today on.
 */
forecasts: Array<ForecastView>, 
/**
 * Where the plate may go now; none where the stage in work uses none.
 */
plate: PlateView | null, };

/**
 * The weather on the site, in a word.
 */
export type Sky = "dry" | "wet" | "frost" | "drying";

/**
 * A snag.
 */
export type SnagView = { 
/**
 * The entry.
 */
entry: string, 
/**
 * What, and where.
 */
text: string, 
/**
 * A photo that shows it.
 */
photo: string | null, 
/**
 * By when, as a date.
 */
due: string | null, 
/**
 * What was done; none while it is open.
 */
closed: string | null, };

/**
 * A soft spot.
 */
export type SoftSpotView = { 
/**
 * The entry.
 */
entry: string, 
/**
 * Pin at the string's zero.
 */
from: string, 
/**
 * The string's other pin.
 */
to: string, 
/**
 * Along it, metres.
 */
at_m: number, 
/**
 * What it is like.
 */
text: string, 
/**
 * How it was filled; none while it is open.
 */
filled: Phrase | null, };

/**
 * What something is sold in.
 */
export type SoldIn = "piece" | "pack" | "bag" | "bulk_bag" | "tonne" | "cubic_metre" | "roll";

/**
 * A named specification. Rows of two are never mixed.
 */
export type Specification = "reinstatement_A8.1" | "highway_800";

/**
 * A specification.
 */
export type SpecificationView = { 
/**
 * Its name in the plan file.
 */
name: string, 
/**
 * Its title.
 */
says: Phrase, 
/**
 * The document.
 */
source: string, 
/**
 * How well its rows are known.
 */
status: string, };

/**
 * Least, mean and greatest of a measured quantity.
 */
export type Spread = { 
/**
 * The least.
 */
least: number, 
/**
 * The mean.
 */
mean: number, 
/**
 * The greatest.
 */
greatest: number, };

/**
 * A layer or lift as it was spread.
 */
export type SpreadView = { 
/**
 * Which layer.
 */
layer: Layer, 
/**
 * Which lift of the sub-base.
 */
lift: number | null, 
/**
 * How thick it lay loose, millimetres.
 */
loose_mm: number | null, 
/**
 * How damp it was.
 */
damp: Damp, 
/**
 * When.
 */
at: string, };

/**
 * A stage of the work.
 */
export type Stage = "before_start" | "excavate" | "compact_formation" | "sub_base" | "restrain_edges" | "bed" | "screed" | "lay" | "cut" | "joint" | "hand_over" | "return_visit";

/**
 * Where a stage stands.
 */
export type StageState = "waiting" | "in_work" | "done" | "passed_with_reason";

/**
 * One stage with its gate.
 */
export type StageView = { 
/**
 * Which stage.
 */
stage: Stage, 
/**
 * Where it stands.
 */
state: StageState, 
/**
 * The gate: each line of evidence, met or not.
 */
gate: Array<Evidence>, 
/**
 * Why it was passed with something missing; empty otherwise.
 */
reason: string, 
/**
 * Who closed it and when; empty while it is open.
 */
closed_by: string, 
/**
 * When it was closed; empty while it is open.
 */
closed_at: string, };

/**
 * A job that was begun.
 */
export type Started = { 
/**
 * Its identity.
 */
job: string, 
/**
 * What kinds of data changed.
 */
changed: Array<Changed>, };

/**
 * A string that passes beside a place.
 */
export type StringBeside = { 
/**
 * Pin at its zero.
 */
from: string, 
/**
 * Pin at its other end.
 */
to: string, 
/**
 * Its straight length.
 */
length_m: number, 
/**
 * Along the string from its zero to the foot of the place.
 */
at_m: number, 
/**
 * Square off the string to the place; positive to the left, walking from its zero.
 */
aside_m: number, 
/**
 * How far the line hangs at the foot, where it hangs more than 2 mm at its middle.
 */
sag_mm: number | null, };

/**
 * A string between two pins, marked at finished level.
 */
export type StringView = { 
/**
 * Pin at its zero.
 */
from: string, 
/**
 * Pin at its other end.
 */
to: string, 
/**
 * Straight length.
 */
length_m: number, 
/**
 * Sag at the middle of a 3 g/m line pulled to 50 N, shown once it passes 2 mm.
 */
sag_mm: number | null, };

/**
 * How an entry was struck.
 */
export type StruckView = { 
/**
 * Who.
 */
who: string, 
/**
 * When.
 */
at: string, 
/**
 * Why.
 */
reason: string, };

/**
 * What one supplier would get.
 */
export type SupplierView = { 
/**
 * Who; empty for offers that name nobody.
 */
supplier: string, 
/**
 * Lines of the order that this supplier can serve.
 */
lines: number, 
/**
 * How many of these have no price.
 */
unpriced: number, 
/**
 * Their prices together, in minor units.
 */
total_minor: number | null, };

/**
 * Ground in the solid and what carries it away.
 */
export type SwellAsked = { 
/**
 * Ground in the solid.
 */
solid_m3: number, 
/**
 * How much it swells, least and most, per cent.
 */
swell_percent: [number, number], 
/**
 * What it weighs in the solid, t/m³; left out, the usual.
 */
t_per_m3?: number, 
/**
 * Loose volume that the vehicle holds.
 */
vehicle_m3: number, 
/**
 * Mass that it may carry.
 */
vehicle_t: number, };

/**
 * The same, loose, in loads.
 */
export type SwellView = { 
/**
 * Loose, least and most.
 */
loose_m3: [number, number], 
/**
 * Its mass.
 */
tonnes: number, 
/**
 * Loads, least and most.
 */
loads: [number, number], 
/**
 * What fills the vehicle first at the most swell.
 */
filled_by: FilledBy, };

/**
 * What a plan takes.
 */
export type TakesView = { 
/**
 * The specification that passes are held against; none until one is named.
 */
specification: Specification | null, 
/**
 * The machine that compacts the stone; none until one is named.
 */
plant: string | null, 
/**
 * Lifts of the sub-base from the bottom up.
 */
lifts: Array<PlannedLift>, 
/**
 * What the specification says of the sub-base under that machine; none until both are named.
 */
compaction: CompactionView | null, 
/**
 * The least time of one pass over the stone, minutes; none where the machine's width is not
 * known.
 */
pass_min: number | null, 
/**
 * Spoil in loads of each vehicle.
 */
loads: Array<LoadsView>, 
/**
 * One person's hours, task by task.
 */
hours: Array<HoursView>, 
/**
 * All of them.
 */
person_hours: number, 
/**
 * Quantities as ranges.
 */
ranges: Array<RangeView>, 
/**
 * What is moved by hand, with trips of the barrow.
 */
by_hand: Array<MovedView>, 
/**
 * All of it.
 */
by_hand_t: number, };

/**
 * A place with its levels, and what a tape should read there.
 */
export type TargetAt = { 
/**
 * Along the frame's x.
 */
x_m: number, 
/**
 * Along the frame's y.
 */
y_m: number, 
/**
 * Along the reference edge to the foot of the place.
 */
along_m: number, 
/**
 * From the reference edge into the paving; negative on its other side.
 */
out_m: number, 
/**
 * Whether it lies in the paving.
 */
inside: boolean, 
/**
 * The string, where one passes beside the place.
 */
string: StringBeside | null, 
/**
 * Other strings that pass beside the place, the nearest first.
 */
others: Array<StringBeside>, 
/**
 * Every layer from the formation up.
 */
layers: Array<LayerAt>, };

/**
 * A place on the ground: by x and y, or along the reference edge and out from it.
 */
export type TargetPlace = { 
/**
 * The job's identity.
 */
job: string, 
/**
 * Along the frame's x, in metres.
 */
x_m?: number, 
/**
 * Along the frame's y, in metres.
 */
y_m?: number, 
/**
 * Along the reference edge, in metres, where x and y are left out.
 */
along_m?: number, 
/**
 * From the reference edge into the paving, in metres.
 */
out_m?: number, 
/**
 * Pin at the string's zero; left out, the nearest string that passes beside the place.
 */
from?: string, 
/**
 * The string's other pin.
 */
to?: string, 
/**
 * How far the string is raised, in millimetres.
 */
raise_mm: number, };

/**
 * Work that a rate is held for, by the stage that it belongs to.
 */
export type Task = "dig" | "spoil" | "formation" | "sub_base" | "lay" | "joint" | "haunch";

/**
 * A board sawn to a curve.
 */
export type TemplateFigures = { 
/**
 * The curve.
 */
radius_m: number, 
/**
 * Length of the board.
 */
board_m: number, 
/**
 * For the board inside the curve: from its straight side.
 */
inside: Array<OrdinateFigures>, 
/**
 * For the board outside it: from the line that touches the curve at its middle.
 */
outside: Array<OrdinateFigures>, 
/**
 * The curve of the board inside at true size, over sheets that overlap.
 */
sheets: Array<SheetFigures>, };

/**
 * The thickness of a layer between its dips and those of the layer below, straight from place to place.
 */
export type ThicknessDrawn = { 
/**
 * Least, mean and greatest over the whole paving.
 */
over_mm: Spread, 
/**
 * What is under this is too thin.
 */
limit_mm: number, 
/**
 * How much of the paving is.
 */
thin_m2: number, 
/**
 * Lines of equal thickness.
 */
contours: Array<ContourDrawn>, 
/**
 * Where it is too thin, in pieces that have no hollows.
 */
thin: Array<Array<[number, number]>>, };

/**
 * One tool by itself.
 */
export type ToolView = { 
/**
 * What it was reckoned with.
 */
reckoned_m_s2: number, 
/**
 * Its points.
 */
points: number, 
/**
 * How long this tool alone may run before the action value, minutes rounded down.
 */
alone_to_action_min: number | null, 
/**
 * How long this tool alone may run before the limit value, minutes rounded down.
 */
alone_to_limit_min: number | null, };

/**
 * A start that was tried.
 */
export type TriedFigures = { 
/**
 * How far the pattern is shifted along and across its courses.
 */
start_mm: [number, number], 
/**
 * Blocks of the field that are cut.
 */
blocks_cut: number, 
/**
 * Those of which less than a third is left.
 */
small: number, };

/**
 * The last thing done, for undo.
 */
export type UndoView = { 
/**
 * The entry that would be struck.
 */
entry: string, 
/**
 * What it was, in words.
 */
says: Phrase, };

/**
 * Units that deliveries come in.
 */
export type Unit = "t" | "kg" | "m3" | "m2" | "packs" | "bags" | "pieces" | "m" | "hours" | "loads" | "sum";

/**
 * Who or what goes over the paving.
 */
export type Use = "foot" | "car";

/**
 * A value in a phrase.
 */
export type Value = number | string;

/**
 * What carries.
 */
export type VehicleKind = "skip" | "trailer" | "lorry" | "van" | "barrow";

/**
 * What a specification says of a layer.
 */
export type Verdict = "ok" | "not_permitted" | "no_row";

/**
 * A day's work, tool by tool.
 */
export type VibrationAsked = { 
/**
 * Every tool.
 */
tools: Array<WorkAsked>, };

/**
 * Which jobs' passes are counted.
 */
export type VibrationDaysAsked = { 
/**
 * One job; left out, all of them, because a day is one day whatever the job.
 */
job?: string, };

/**
 * A day's exposure.
 */
export type VibrationView = { 
/**
 * Points of all tools together.
 */
points: number, 
/**
 * The same as a daily exposure over eight hours.
 */
a8_m_s2: number, 
/**
 * Total hours of this same mix of work that reach the action value.
 */
to_action_h: number | null, 
/**
 * Total hours of this same mix of work that reach the limit value.
 */
to_limit_h: number | null, 
/**
 * Minutes of this mix that are left before the action value, rounded down.
 */
left_to_action_min: number | null, 
/**
 * Minutes of this mix that are left before the limit value, rounded down.
 */
left_to_limit_min: number | null, 
/**
 * Where it stands against the two values.
 */
says: Phrase, 
/**
 * Tool by tool.
 */
tools: Array<ToolView>, };

/**
 * The weather as noted.
 */
export type WeatherView = { 
/**
 * In a word.
 */
sky: Sky, 
/**
 * The air, degrees Celsius.
 */
temperature_c: number | null, 
/**
 * Anything added.
 */
text: string, 
/**
 * When.
 */
at: string, };

/**
 * A width of whole courses.
 */
export type WidthFigures = { 
/**
 * How many courses.
 */
courses: number, 
/**
 * The width over all, with the joint as planned.
 */
width_m: number, 
/**
 * The joint with which they fill the width that is planned; none for a single course.
 */
joint_mm: number | null, 
/**
 * Whether that joint is within its limits.
 */
joint_allowed: boolean, };

/**
 * What a dip says: the layer against its design.
 */
export type Word = "high" | "right" | "low";

/**
 * Work with one tool.
 */
export type WorkAsked = { 
/**
 * How hard it shakes, m/s².
 */
m_s2: number, 
/**
 * Whether that was measured at work; otherwise it is the maker's, and is doubled.
 */
measured: boolean, 
/**
 * For how long, minutes.
 */
minutes: number, };
