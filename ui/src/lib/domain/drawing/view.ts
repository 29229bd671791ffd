/** A place in metres on the ground, or in pixels on the sheet. */
export type Point = [number, number];

/** How the ground lies on the sheet: first turned, then scaled, then moved; y grows downwards. */
export interface View {
  /** Pixels for a metre. */
  scale: number;
  /** Where the ground's zero lies on the sheet. */
  x: number;
  y: number;
  /** The ground is turned a quarter, so that a long job fits an upright phone. */
  turned: boolean;
}

export interface Bounds {
  left: number;
  bottom: number;
  right: number;
  top: number;
}

/** The smallest upright box round some points. */
export function boundsOf(points: readonly Point[]): Bounds {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return { left: Math.min(...xs), right: Math.max(...xs), bottom: Math.min(...ys), top: Math.max(...ys) };
}

/** Fits some points into a room with a margin all round, turned a quarter where that is larger. */
export function fit(points: readonly Point[], width: number, height: number, margin: number, mayTurn = true): View {
  if (points.length === 0) return { scale: 1, x: 0, y: 0, turned: false };
  const box = boundsOf(points);
  const [w, h] = [Math.max(0.1, box.right - box.left), Math.max(0.1, box.top - box.bottom)];
  const [roomW, roomH] = [Math.max(1, width - 2 * margin), Math.max(1, height - 2 * margin)];
  const straight = Math.min(roomW / w, roomH / h);
  const quarter = Math.min(roomW / h, roomH / w);
  const turned = mayTurn && quarter > straight * 1.2;
  const scale = turned ? quarter : straight;
  const view: View = { scale, x: 0, y: 0, turned };
  const [cx, cy] = toSheet(view, [(box.left + box.right) / 2, (box.bottom + box.top) / 2]);
  return { ...view, x: width / 2 - cx, y: height / 2 - cy };
}

/** A place on the ground as a place on the sheet. */
export function toSheet({ scale, x, y, turned }: View, [gx, gy]: Point): Point {
  return turned ? [x - gy * scale, y - gx * scale] : [x + gx * scale, y - gy * scale];
}

/** A place on the sheet as a place on the ground. */
export function toGround({ scale, x, y, turned }: View, [sx, sy]: Point): Point {
  return turned ? [(y - sy) / scale, (x - sx) / scale] : [(sx - x) / scale, (y - sy) / scale];
}

/** Zooms by a factor so that one place of the sheet stays where it is. */
export function zoomAt(view: View, factor: number, [sx, sy]: Point, least: number, most: number): View {
  const scale = Math.min(most, Math.max(least, view.scale * factor));
  const by = scale / view.scale;
  return { ...view, scale, x: sx + (view.x - sx) * by, y: sy + (view.y - sy) * by };
}

/** Moves the ground over the sheet. */
export function moveBy(view: View, dx: number, dy: number): View {
  return { ...view, x: view.x + dx, y: view.y + dy };
}

/** A line or ring as path data on the sheet. */
export function pathOf(view: View, points: readonly Point[], closed: boolean): string {
  const places = points.map((p) => {
    const [x, y] = toSheet(view, p);
    return `${x.toFixed(1)} ${y.toFixed(1)}`;
  });
  return places.length ? `M${places.join('L')}${closed ? 'Z' : ''}` : '';
}

/** Whether a place lies inside a ring. */
export function inside(ring: readonly Point[], [x, y]: Point): boolean {
  let within = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
    const [xi, yi] = ring[i] as Point;
    const [xj, yj] = ring[j] as Point;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) within = !within;
  }
  return within;
}

/** The way out of a ring from a place on or near it, as a step of length 1; upwards where there is none. */
export function outward(ring: readonly Point[], place: Point, reach: number): Point {
  let [x, y] = [0, 0];
  for (let i = 0; i < 32; i += 1) {
    const angle = ((i + 0.5) / 32) * 2 * Math.PI;
    const step: Point = [Math.cos(angle), Math.sin(angle)];
    if (inside(ring, [place[0] + step[0] * reach, place[1] + step[1] * reach])) continue;
    x += step[0];
    y += step[1];
  }
  const length = Math.hypot(x, y);
  return length < 1e-6 ? [0, 1] : [x / length, y / length];
}
