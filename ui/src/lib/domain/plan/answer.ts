import { isObject, objectOf, objectsOf, typedOf } from './json';

/** What is left over of one tape once the corners are worked out. */
export interface Residual {
  from: string;
  to: string;
  measured_m: number;
  residual_mm: number;
  allowed_mm: number;
  /** Whether this one is to be measured again. */
  again: boolean;
}

/** The tapes of ties with what is left over of each, from the outline of a plan's answer. */
export function residualsOf(outline: unknown): Residual[] {
  return objectsOf(objectOf(objectOf(outline).ties).residuals).map((r) => ({
    from: typedOf(r.from), to: typedOf(r.to), measured_m: Number(r.measured_m), residual_mm: Number(r.residual_mm),
    allowed_mm: Number(r.allowed_mm), again: r.again === true,
  }));
}

/** Whether any tape runs between corners, beside the two that make each of them. */
export function isChecked(outline: unknown): boolean {
  const ties = objectOf(objectOf(outline).ties);
  // The ends of the base line are no corners that were measured.
  const corners = objectsOf(ties.corners).filter((c) => c.name !== 'A' && c.name !== 'B');
  return objectsOf(ties.residuals).length > 2 * corners.length;
}

/** The areas under offsets by two rules, from the outline of a plan's answer. */
export function areasOf(outline: unknown): { trapezoid_m2: number; simpson_m2: number } | null {
  const { offsets } = objectOf(outline);
  return isObject(offsets) ? { trapezoid_m2: Number(offsets.trapezoid_m2), simpson_m2: Number(offsets.simpson_m2) } : null;
}

/** The sides of a shape by name or number with their lengths, from the outline of a plan's answer. */
export function sidesOf(outline: unknown): { side: string; length_m: number }[] {
  return objectsOf(objectOf(outline).sides).map((s) => ({ side: typedOf(s.side), length_m: Number(s.length_m) }));
}

/** Codes of the cautions that want an answer, from a plan's answer. */
export function toAnswer(answer: unknown): string[] {
  const codes = objectsOf(objectOf(answer).cautions).filter((c) => c.answer_needed === true).map((c) => typedOf(c.code));
  return [...new Set(codes)];
}

const PARTS = ['cement_kg', 'sand_kg', 'stone_kg', 'dye_kg'] as const;

/** A mix that is made here: how much, in how many batches, and what goes into each. */
export interface Batches {
  mix: 'concrete' | 'mortar';
  m3: number;
  count: number;
  parts: { part: (typeof PARTS)[number]; batch: number; all: number }[];
}

/** The concrete and the mortar of a plan's answer by batch; what comes mixed and what there is none of is left out. */
export function batchesOf(answer: unknown): Batches[] {
  return (['concrete', 'mortar'] as const).flatMap((mix) => {
    const said = objectOf(objectOf(answer)[mix]);
    if (!isObject(said.batch) || !isObject(said.all)) return [];
    const [batch, all] = [said.batch, said.all];
    const parts = PARTS.map((part) => ({ part, batch: Number(batch[part]), all: Number(all[part]) })).filter((p) => p.all > 0);
    return [{ mix, m3: Number(said.m3), count: Number(said.batches), parts }];
  });
}
