"""A line through a manoeuvre, made ready for the search for near passes.

The line is a chain of vertices over time. Its gear is the part from the front of the trolling weight to the last
hook: a vertex is put in at the weight's front, and the last vertex is moved back to the last hook.
For the broad phase the chain is cut into blocks of a few segments. A block lies within `slack` of the straight chord
between its ends (the distance to a straight piece is a convex function, so its vertices decide), so the distance of two
chords less their slacks is never more than that of the blocks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from spreadwright.tow.clearance.segments import segment_distance2
from spreadwright.tow.lanes import COMPILE
from spreadwright.tow.march import Motion

Singles = NDArray[np.float32]

BLOCK = 6  # segments a block


@dataclass(frozen=True)
class Outline:
    """vertices (T, V, 3) [m] relative to the boat; gear: index of the vertex at the front of the gear;
    edges (B + 1): vertices at the blocks' ends; slack (T, B) [m]; first_gear_block; sweep (T - 1): how far any vertex
    moves between two stored times, less the mean motion [m]; mean (T - 1, 3) that mean motion [m]; swerve (T, 3): how
    far the mean path of the vertices about a stored time departs from a straight one [m]; bow (T): the most by which
    any vertex's path departs from a straight one otherwise than that [m].
    """  # fmt: skip

    name: str
    times: NDArray[np.float64]
    vertices: Singles
    gear: int
    edges: NDArray[np.int64]
    slack: Singles
    first_gear_block: int
    sweep: Singles
    mean: Singles
    swerve: Singles
    bow: Singles


def make_outline(motion: Motion, gear_joint: int, front: float, tail: float) -> Outline:
    """The outline of a motion.

    gear_joint: which joint (end of a section) carries the trolling weight; front: length of the weight ahead of its
    node [m]; tail: length of the lure behind the last node, to the last hook [m].
    """
    places, along = motion.places, motion.arclength
    at = max(along[int(motion.joints[gear_joint])] - front, 0.05 * along[1])  # the weight may be longer than a segment
    gear = int(np.searchsorted(along, at))
    share = np.float32((at - along[gear - 1]) / (along[gear] - along[gear - 1]))
    head = places[:, gear - 1] + share * (places[:, gear] - places[:, gear - 1])
    last = places[:, -1] - places[:, -2]
    hook = places[:, -1] + last * (tail / np.maximum(np.linalg.norm(last, axis=1, keepdims=True), 1e-6))
    vertices = np.concatenate([places[:, :gear], head[:, None], places[:, gear:-1], hook[:, None]], axis=1).astype(
        np.float32
    )
    return outline_of(motion.line.name, motion.times, vertices, gear)


def outline_of(name: str, times: NDArray[np.float64], vertices: Singles, gear: int) -> Outline:
    """The outline of a chain of vertices (T, V, 3) [m] whose gear begins at vertex `gear`."""
    count = vertices.shape[1] - 1
    edges = np.array(sorted({*range(0, gear, BLOCK), *range(gear, count, BLOCK), count}), dtype=np.int64)
    slack = np.empty((len(vertices), len(edges) - 1), dtype=np.float32)
    sweep = np.zeros(max(len(vertices) - 1, 0), dtype=np.float32)
    mean = np.zeros((len(sweep), 3), dtype=np.float32)
    swerve = np.zeros((len(vertices), 3), dtype=np.float32)
    bow = np.zeros(len(vertices), dtype=np.float32)
    _measure(vertices, edges, slack, sweep, mean)
    _bend(vertices, swerve, bow)
    return Outline(
        name, times, vertices, gear, edges, slack, int(np.searchsorted(edges, gear)), sweep, mean, swerve, bow
    )


@njit(**COMPILE)
def _measure(v: Singles, edges: NDArray[np.int64], slack: Singles, sweep: Singles, mean: Singles) -> None:
    """Fill slack (T, B), sweep (T - 1) and mean (T - 1, 3) [m]."""
    times, count = v.shape[0], v.shape[1]
    for i in range(times):
        for b in range(edges.size - 1):
            slack[i, b] = _slack(v[i], edges[b], edges[b + 1])
    for i in range(times - 1):
        mx, my, mz = 0.0, 0.0, 0.0
        for k in range(count):
            mx += v[i + 1, k, 0] - v[i, k, 0]
            my += v[i + 1, k, 1] - v[i, k, 1]
            mz += v[i + 1, k, 2] - v[i, k, 2]
        mx, my, mz = mx / count, my / count, mz / count
        mean[i, 0], mean[i, 1], mean[i, 2] = mx, my, mz
        most = 0.0
        for k in range(count):
            x = v[i + 1, k, 0] - v[i, k, 0] - mx
            y = v[i + 1, k, 1] - v[i, k, 1] - my
            z = v[i + 1, k, 2] - v[i, k, 2] - mz
            most = max(most, x * x + y * y + z * z)
        sweep[i] = math.sqrt(most) * (1.0 + 1e-6) + 2e-5


@njit(**COMPILE)
def _bend(v: Singles, swerve: Singles, bow: Singles) -> None:
    """Fill swerve (T, 3) and bow (T) [m]: an eighth of the second difference about each stored time, the farthest that
    a path of steady acceleration departs from its chord; the first and last time have that of their neighbours."""
    times, count = v.shape[0], v.shape[1]
    for i in range(1, times - 1):
        x, y, z = 0.0, 0.0, 0.0
        for k in range(count):
            x += v[i + 1, k, 0] - 2.0 * v[i, k, 0] + v[i - 1, k, 0]
            y += v[i + 1, k, 1] - 2.0 * v[i, k, 1] + v[i - 1, k, 1]
            z += v[i + 1, k, 2] - 2.0 * v[i, k, 2] + v[i - 1, k, 2]
        x, y, z = x / count, y / count, z / count
        most = 0.0
        for k in range(count):
            dx = v[i + 1, k, 0] - 2.0 * v[i, k, 0] + v[i - 1, k, 0] - x
            dy = v[i + 1, k, 1] - 2.0 * v[i, k, 1] + v[i - 1, k, 1] - y
            dz = v[i + 1, k, 2] - 2.0 * v[i, k, 2] + v[i - 1, k, 2] - z
            most = max(most, dx * dx + dy * dy + dz * dz)
        swerve[i, 0], swerve[i, 1], swerve[i, 2] = x / 8.0, y / 8.0, z / 8.0
        bow[i] = math.sqrt(most) / 8.0
    if times > 2:
        swerve[0], bow[0] = swerve[1], bow[1]
        swerve[-1], bow[-1] = swerve[-2], bow[-2]


@njit(**COMPILE)
def _slack(v: Singles, first: int, last: int) -> float:
    """Largest distance of a block's vertices from its chord [m], with room for single precision."""
    most = 0.0
    for k in range(first + 1, last):
        most = max(
            most,
            segment_distance2(
                v[k, 0], v[k, 1], v[k, 2], v[k, 0], v[k, 1], v[k, 2],
                v[first, 0], v[first, 1], v[first, 2], v[last, 0], v[last, 1], v[last, 2],
            ),
        )  # fmt: skip
    return math.sqrt(most) + 2e-5


@njit(**COMPILE)
def slack_between(v: Singles, w: Singles, first: int, last: int) -> float:
    """Bound on a block's slack [m] at every time between two stored ones, its vertices going straight from v to w.

    A vertex keeps its share along the chord: the vector from that point of the chord to it is then linear in time, so
    never longer than at one of the ends. (Its least distance from the chord may be larger in between than at both.)
    """
    most = 0.0
    for k in range(first + 1, last):
        ux, uy, uz = v[last, 0] - v[first, 0], v[last, 1] - v[first, 1], v[last, 2] - v[first, 2]
        px, py, pz = v[k, 0] - v[first, 0], v[k, 1] - v[first, 1], v[k, 2] - v[first, 2]
        share = (px * ux + py * uy + pz * uz) / max(ux * ux + uy * uy + uz * uz, 1e-12)
        share = min(max(share, 0.0), 1.0)
        x, y, z = px - share * ux, py - share * uy, pz - share * uz
        most = max(most, x * x + y * y + z * z)
        x = w[k, 0] - w[first, 0] - share * (w[last, 0] - w[first, 0])
        y = w[k, 1] - w[first, 1] - share * (w[last, 1] - w[first, 1])
        z = w[k, 2] - w[first, 2] - share * (w[last, 2] - w[first, 2])
        most = max(most, x * x + y * y + z * z)
    return math.sqrt(most) + 2e-5
