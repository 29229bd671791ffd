"""A herringbone clipped to an outline by shapely, for the bench beside this file.

    python laying.py OUTLINE.csv SAMPLES BY_LOOP

Prints the median seconds of clipping the blocks about the outline with arrays, those inside let be, and,
where BY_LOOP is 1, of a plain loop that clips each (else a dash); then how many are whole and how many pieces are cut. The making of
the blocks is not timed, nor is counting.
"""

import math
import statistics
import sys
import time

import numpy as np
import shapely

LENGTH, WIDTH, JOINT = 0.2, 0.1, 0.003
WHOLE, DUST = 0.995, 1e-6
SAMPLE = 0.025


def blocks(reach):
    """Blocks turned by 45 degrees about the origin, as far as `reach` both ways."""
    m = WIDTH + JOINT
    n = math.ceil(reach * math.sqrt(2) / m) + 4
    i, k = (grid.ravel() for grid in np.meshgrid(np.arange(-n, n), np.arange(-n, n)))
    turned = math.sqrt(0.5)
    near = (np.abs(i - k) * m * turned < reach + 1) & (np.abs(i + k) * m * turned < reach + 1)
    i, k = i[near], k[near]
    boxes = []
    for rest, (w, h) in ((0, (LENGTH, WIDTH)), (3, (WIDTH, LENGTH))):
        x, y = i[(i - k) % 4 == rest] * m, k[(i - k) % 4 == rest] * m
        boxes.append(shapely.box(x, y, x + w, y + h))
    axes = np.array([[turned, turned], [-turned, turned]])
    return shapely.transform(np.concatenate(boxes), lambda p: p @ axes)


def at_once(outline, laid):
    """The quickest way that shapely offers: blocks inside a prepared outline are not clipped."""
    shapely.prepare(outline)
    inside = shapely.contains_properly(outline, laid)
    return np.concatenate([laid[inside], shapely.intersection(laid[~inside], outline)])


def by_loop(outline, laid):
    return [block.intersection(outline) for block in laid]


def seconds(work, samples):
    def run(times):
        start = time.perf_counter()
        for _ in range(times):
            work()
        return time.perf_counter() - start

    runs = math.ceil(SAMPLE / run(1))
    return statistics.median(run(runs) / runs for _ in range(samples))


def main():
    outline = shapely.Polygon(np.loadtxt(sys.argv[1], delimiter=","))
    samples = int(sys.argv[2])
    laid = blocks(max(map(abs, outline.bounds)))
    # Only blocks about the outline are clipped: the rest would cost shapely time for nothing.
    laid = laid[shapely.intersects(laid, outline)]
    parts = shapely.get_parts(at_once(outline, laid))
    areas = shapely.area(parts)
    areas = areas[areas >= DUST] / (LENGTH * WIDTH)
    all_at_once = seconds(lambda: at_once(outline, laid), samples)
    looped = seconds(lambda: by_loop(outline, laid), samples) if sys.argv[3] == "1" else "-"
    whole = int(np.sum(areas >= WHOLE))
    print(all_at_once, looped, whole, len(areas) - whole)


main()
