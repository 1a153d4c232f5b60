"""Where the nodes of a line go: close together where its shape bends, far apart where it runs straight.

The shape kinks at the rod tip, where the line meets the water, at every body and joint. The wished segment length
grows with the distance to the nearest such place:  h(s) = (finest + growth * distance), at most `coarsest`,
times the mesh's scale. Halving the scale halves every segment, so convergence is read off two meshes.
Lines that are computed side by side share the count of segments of each section; each has its own spacing.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.lanes import COMPILE
from spreadwright.tow.line import Line

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Grading:
    """finest and coarsest segment [m], growth a metre of distance [-], scale of the whole [-]."""

    finest: float = 0.6
    coarsest: float = 6.0
    growth: float = 0.12
    scale: float = 1.0

    def scaled(self, factor: float) -> Grading:
        """The same grading with every segment `factor` times as long [-]."""
        return Grading(self.finest, self.coarsest, self.growth, self.scale * factor)


SAMPLES = 200  # of a section


@njit(**COMPILE)
def _wished(
    start: float, end: float, places: Floats, finest: float, coarsest: float, growth: float, scale: float
) -> Floats:
    """Number of segments wished from the start of a section up to each of its samples; arclengths in [m]."""
    running = np.zeros(SAMPLES + 1)
    before = 0.0
    for i in range(SAMPLES + 1):
        s = start + (end - start) * i / SAMPLES
        distance = np.inf
        for place in places:
            distance = min(distance, abs(s - place))
        density = 1.0 / (scale * min(finest + growth * distance, coarsest))
        if i > 0:
            running[i] = running[i - 1] + 0.5 * (before + density) * (end - start) / SAMPLES
        before = density
    return running


def _running_count(start: float, end: float, places: Floats, grading: Grading) -> Floats:
    """Number of segments wished up to each of a section's evenly spaced samples, its start and end included."""
    return _wished(start, end, places, grading.finest, grading.coarsest, grading.growth, grading.scale)


def _bends(line: Line, entry: float | None) -> tuple[Floats, Floats]:
    """Ends of the sections and the places where the line bends, as arclength from the tip [m]."""
    ends = np.concatenate([[0.0], np.cumsum([section.length for section in line.sections])])
    places = ends if entry is None else np.append(ends, entry)
    return ends, places


def section_counts(line: Line, grading: Grading, entry: float | None = None) -> list[int]:
    """Segments wished for each section of a line; `entry` [m] is where it meets the water [m of arclength]."""
    ends, places = _bends(line, entry)
    wished = [_running_count(a, b, places, grading)[-1] for a, b in pairwise(ends)]
    return [max(1, int(np.ceil(count - 1e-9))) for count in wished]


def node_places(line: Line, counts: list[int], grading: Grading, entry: float | None = None) -> Floats:
    """Arclength of every node from the tip [m], with `counts` segments in each section."""
    ends, places = _bends(line, entry)
    nodes = [np.zeros(1)]
    for a, b, count in zip(ends[:-1], ends[1:], counts, strict=True):
        running = _running_count(a, b, places, grading)
        inner = np.interp(np.linspace(0.0, running[-1], count + 1)[1:], running, np.linspace(a, b, SAMPLES + 1))
        inner[-1] = b
        nodes.append(inner)
    return np.concatenate(nodes)
