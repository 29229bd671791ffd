import { fit, moveBy, zoomAt, type Point, type View } from '../domain/drawing/view';

/** A slip of the finger of 2 mm is not a drag: at 160 pixels to the inch, 12.6. */
const SLIP = 12.6;
/** Two presses within this time and this near are a double press. */
const DOUBLE_MS = 320;
const DOUBLE_PX = 30;

/** A drawing that is moved, pinched and zoomed under the fingers. */
export class Sheet {
  width = $state(0);
  height = $state(0);
  /** Where the drawing lies, once it has been moved from its fit. */
  private moved = $state.raw<View | null>(null);
  private fingers = new Map<number, Point>();
  private start: Point | null = null;
  private dragging = false;
  private last: { time: number; place: Point } | null = null;
  private readonly points: () => readonly Point[];
  private readonly margin: number;
  private readonly onpress: ((place: Point) => void) | undefined;

  /** What must be on the sheet, the margin round it, and what a single press on a place does. */
  constructor(points: () => readonly Point[], margin: number, onpress?: (place: Point) => void) {
    this.points = points;
    this.margin = margin;
    this.onpress = onpress;
  }

  readonly fitted = $derived.by(() => fit(this.points(), this.width, this.height, this.margin));
  readonly view = $derived(this.moved ?? this.fitted);

  get isFitted(): boolean {
    return this.moved === null;
  }

  whole(): void {
    this.moved = null;
  }

  zoom(factor: number, about: Point = [this.width / 2, this.height / 2]): void {
    const { scale } = this.fitted;
    this.moved = zoomAt(this.view, factor, about, scale * 0.6, Math.max(scale * 24, 600));
  }

  pan(dx: number, dy: number): void {
    this.moved = moveBy(this.view, dx, dy);
  }

  down(id: number, place: Point): void {
    this.fingers.set(id, place);
    if (this.fingers.size === 1) {
      this.start = place;
      this.dragging = false;
    }
  }

  move(id: number, place: Point): void {
    const before = this.fingers.get(id);
    if (!before) return;
    this.fingers.set(id, place);
    if (this.fingers.size === 1) this.drag(before, place);
    else if (this.fingers.size === 2) this.pinch(id, before, place);
  }

  up(id: number, place: Point, time: number): void {
    const single = this.fingers.size === 1 && this.fingers.has(id);
    this.fingers.delete(id);
    if (!single || this.dragging) {
      this.last = null;
      return;
    }
    if (this.last && time - this.last.time < DOUBLE_MS && distance(place, this.last.place) < DOUBLE_PX) {
      this.zoom(2, place);
      this.last = null;
    } else {
      this.last = { time, place };
      this.onpress?.(place);
    }
  }

  lost(id: number): void {
    this.fingers.delete(id);
  }

  private drag(before: Point, place: Point): void {
    if (!this.dragging && this.start && distance(this.start, place) < SLIP) return;
    this.dragging = true;
    this.pan(place[0] - before[0], place[1] - before[1]);
  }

  private pinch(id: number, before: Point, place: Point): void {
    const other = [...this.fingers].find(([finger]) => finger !== id)?.[1];
    if (!other) return;
    this.dragging = true;
    const middle: Point = [(place[0] + other[0]) / 2, (place[1] + other[1]) / 2];
    this.pan((place[0] - before[0]) / 2, (place[1] - before[1]) / 2);
    const was = distance(before, other);
    if (was > 1) this.zoom(distance(place, other) / was, middle);
  }
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
