"""Spots triangulated and measured by scipy and numpy, for the bench beside this file.

    python ground.py SPOTS.csv SAMPLES

Prints the median seconds over some samples, each filled with runs as the bench does, and cut and fill over a level of zero in cubic metres.
"""

import math
import statistics
import sys
import time

import numpy as np
from scipy.spatial import Delaunay

SAMPLE = 0.025


def measure(places, levels):
    """Every triangle split along the line where its level is zero, all at once: the corner alone on
    its side of that line is the tip of a pyramid."""
    corners = Delaunay(places).simplices
    a, b, c = (places[corners[:, i]] for i in range(3))
    areas = (
        np.abs(
            (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (c[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
        )
        / 2
    )
    low, middle, high = np.sort(levels[corners], axis=1).T
    mean = (low + middle + high) / 3
    with np.errstate(divide="ignore", invalid="ignore"):
        upper = high / 3 * (high / (high - middle)) * (high / (high - low))
        lower = -low / 3 * (low / (low - middle)) * (low / (low - high))
    cut = np.where(middle > 0, mean + lower, upper)
    cut = np.where(low >= 0, mean, np.where(high <= 0, 0.0, cut))
    return float(areas @ cut), float(areas @ (cut - mean))


def main():
    table = np.loadtxt(sys.argv[1], delimiter=",")
    places, levels = np.ascontiguousarray(table[:, :2]), np.ascontiguousarray(table[:, 2])

    def seconds(runs):
        start = time.perf_counter()
        for _ in range(runs):
            measure(places, levels)
        return time.perf_counter() - start

    runs = math.ceil(SAMPLE / seconds(1))
    times = [seconds(runs) / runs for _ in range(int(sys.argv[2]))]
    cut, fill = measure(places, levels)
    print(statistics.median(times), cut, fill)


main()
