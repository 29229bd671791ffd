import { chance } from './chance';

/**
 * A layer as drawn: a band that starts at (x, y) and falls to the right by `slope` for each step
 * across. Materials are drawn as path data, in the manner of construction drawings.
 */
export interface Band {
  x: number;
  y: number;
  width: number;
  depth: number;
  slope: number;
}

/** The corners of a band, clockwise from the upper left. */
export function bandPath({ x, y, width, depth, slope }: Band): string {
  const fall = slope * width;
  return `M${at(x, y)}L${at(x + width, y + fall)}L${at(x + width, y + fall + depth)}L${at(x, y + depth)}Z`;
}

/** Graded crushed stone: angular pieces, large ones first, small ones and fines in the gaps. */
export function stones(band: Band, seed: number): string {
  const next = chance(seed);
  const largest = Math.min(8, Math.max(3, band.depth * 0.2));
  const placed: { u: number; v: number; r: number }[] = [];
  let path = '';
  for (const share of [1, 0.78, 0.58, 0.42, 0.28, 0.16]) {
    const r = largest * share;
    if (r < 0.7) break;
    const tries = Math.min(1600, Math.round((band.width * band.depth * 1.6) / (r * r)));
    for (let i = 0; i < tries; i += 1) {
      const u = r + next() * (band.width - 2 * r);
      const v = r + next() * (band.depth - 2 * r);
      if (placed.some((p) => Math.hypot(p.u - u, p.v - v) < (p.r + r) * 0.97 + 0.3)) continue;
      placed.push({ u, v, r });
      path += stone(band, u, v, r, next);
    }
  }
  return path;
}

/** One broken stone: corners at uneven angles, a flat here and there. */
function stone(band: Band, u: number, v: number, r: number, next: () => number): string {
  const corners = r < 2.2 ? 3 + Math.floor(next() * 2) : 4 + Math.floor(next() * 3);
  const turn = next() * Math.PI * 2;
  const flat = 0.7 + next() * 0.3;
  const lean = next() * Math.PI;
  const points: string[] = [];
  for (let i = 0; i < corners; i += 1) {
    const angle = turn + ((i + (next() - 0.5) * 0.75) / corners) * Math.PI * 2;
    const reach = r * (0.88 + next() * 0.2);
    const [a, b] = [Math.cos(angle) * reach, Math.sin(angle) * reach * flat];
    const [du, dv] = [a * Math.cos(lean) - b * Math.sin(lean), a * Math.sin(lean) + b * Math.cos(lean)];
    points.push(inBand(band, u + du, v + dv));
  }
  return `M${points.join('L')}Z`;
}

/** Sand: dots, in two weights. Each is a stroke of no length with round ends. */
export function sand(band: Band, seed: number): { fine: string; coarse: string } {
  const next = chance(seed);
  const step = 5;
  let [fine, coarse] = ['', ''];
  for (let row = 0, v = step * 0.5; v < band.depth - 1; row += 1, v += step * 0.8) {
    for (let u = step * (row % 2 ? 0.9 : 0.4); u < band.width - 1; u += step) {
      const spot = [u + (next() - 0.5) * 3.4, v + (next() - 0.5) * 3] as const;
      if (spot[0] < 1.5 || spot[1] < 1.5 || spot[0] > band.width - 1.5 || spot[1] > band.depth - 1.5) continue;
      if (next() < 0.3) coarse += dot(band, ...spot);
      else fine += dot(band, ...spot);
    }
  }
  return { fine, coarse };
}

function dot(band: Band, u: number, v: number): string {
  return `M${inBand(band, u, v)}h.01`;
}

/** Concrete blocks side by side, their upper arrises taken off. */
export function blocks(band: Band, count: number, joint: number): string {
  const width = (band.width - joint * (count - 1)) / count;
  const arris = Math.min(3, width * 0.12, band.depth * 0.12);
  let path = '';
  for (let i = 0; i < count; i += 1) {
    const u = i * (width + joint);
    const corners: [number, number][] = [
      [u, arris], [u + arris, 0], [u + width - arris, 0], [u + width, arris],
      [u + width, band.depth], [u, band.depth],
    ];
    path += `M${corners.map(([a, b]) => inBand(band, a, b)).join('L')}Z`;
  }
  return path;
}

/** The joints between blocks as single lines, for blocks that are only planned. */
export function joints(band: Band, count: number): string {
  let path = '';
  for (let i = 1; i < count; i += 1) {
    const u = (band.width * i) / count;
    path += `M${inBand(band, u, 1)}L${inBand(band, u, band.depth - 1)}`;
  }
  return path;
}

/** Concrete: a few dots and small three-cornered stones, kept clear of the joints. */
export function concrete(band: Band, count: number, joint: number, seed: number): { dots: string; grit: string } {
  const next = chance(seed);
  const width = (band.width - joint * (count - 1)) / count;
  const each = Math.min(14, Math.max(3, Math.round((width * band.depth) / 85)));
  let [dots, grit] = ['', ''];
  for (let i = 0; i < count; i += 1) {
    for (let n = 0; n < each; n += 1) {
      const u = i * (width + joint) + 4 + next() * Math.max(0, width - 8);
      const v = 5 + next() * Math.max(0, band.depth - 9);
      if (n % 4 === 0 && width > 14) grit += stone(band, u, v, 1.5 + next() * 0.7, next);
      else dots += dot(band, u, v);
    }
  }
  return { dots, grit };
}

/**
 * Ground: groups of strokes at one slant beside a line, long and short by turns; below it (or left
 * of a steep one), or with `over` on its other side.
 */
export function earth(from: [number, number], to: [number, number], seed: number, depth = 10, over = false): string {
  const next = chance(seed);
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const way = over ? -1 : 1;
  let path = '';
  for (let start = 2; start < length - 2; start += 17 + next() * 3) {
    for (let i = 0; i < 4; i += 1) {
      const along = start + i * 3.4;
      if (along > length) break;
      const reach = depth * (1 - i * 0.17) * (0.92 + next() * 0.16) * way;
      const [x, y] = [from[0] + ux * along, from[1] + uy * along];
      path += `M${at(x, y)}L${at(x - reach * 0.8, y + reach)}`;
    }
  }
  return path;
}

function inBand(band: Band, u: number, v: number): string {
  return at(band.x + u, band.y + v + band.slope * u);
}

/** A place in path data, to a tenth of a pixel. */
export function at(x: number, y: number): string {
  return `${Math.round(x * 10) / 10} ${Math.round(y * 10) / 10}`;
}
