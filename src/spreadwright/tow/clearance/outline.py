"""A line through a manoeuvre, made ready for the search for near passes.

The line is a chain of vertices over time. Its gear is the part from the front of the trolling weight to the last
hook: a vertex is put in at the weight's front, and the last vertex is moved back to the last hook.
For the broad phase the chain is cut into blocks of a few segments. A block lies within `slack` of the straight chord
between its ends (the distance to a straight piece is a convex function, so its vertices decide), so the distance of two
chords less their slacks is never more than that of the blocks.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow.march import Motion

Singles = NDArray[np.float32]

BLOCK = 6  # segments a block


@dataclass(frozen=True)
class Outline:
    """vertices (T, V, 3) [m] relative to the boat; gear: index of the vertex at the front of the gear;
    edges (B + 1): vertices at the blocks' ends; slack (T, B) [m]; first_gear_block; sweep (T - 1): how far any vertex
    moves between two stored times, less the mean motion [m]; mean (T - 1, 3) that mean motion [m]; bow: bound on how
    far a vertex's path between two times departs from a straight one [m].
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
    bow: float


def make_outline(motion: Motion, gear_joint: int, front: float, tail: float) -> Outline:
    """The outline of a motion.

    gear_joint: which joint (end of a section) carries the trolling weight; front: length of the weight ahead of its
    node [m]; tail: length of the lure behind the last node, to the last hook [m].
    """
    places = motion.places
    node = int(motion.joints[gear_joint])
    ahead = places[:, node - 1] - places[:, node]
    room = np.linalg.norm(ahead, axis=1, keepdims=True)
    head = places[:, node] + ahead * np.minimum(0.95, front / np.maximum(room, 1e-6))
    last = places[:, -1] - places[:, -2]
    hook = places[:, -1] + last * (tail / np.maximum(np.linalg.norm(last, axis=1, keepdims=True), 1e-6))
    vertices = np.concatenate([places[:, :node], head[:, None], places[:, node:-1], hook[:, None]], axis=1).astype(
        np.float32
    )
    return outline_of(motion.line.name, motion.times, vertices, node)


def outline_of(name: str, times: NDArray[np.float64], vertices: Singles, gear: int) -> Outline:
    """The outline of a chain of vertices (T, V, 3) [m] whose gear begins at vertex `gear`."""
    count = vertices.shape[1] - 1
    edges = np.array(sorted({*range(0, gear, BLOCK), *range(gear, count, BLOCK), count}), dtype=np.int64)
    slack = np.stack([_slack(vertices[:, a : b + 1]) for a, b in zip(edges[:-1], edges[1:], strict=True)], axis=1)
    step = np.diff(vertices.astype(np.float64), axis=0)
    mean = step.mean(axis=1)
    sweep = np.sqrt(((step - mean[:, None]) ** 2).sum(axis=2)).max(axis=1)
    bend = np.abs(np.diff(step, axis=0))
    bow = float(np.sqrt((bend**2).sum(axis=2)).max() / 8.0) if len(bend) else 0.0
    return Outline(
        name, times, vertices, gear, edges, slack.astype(np.float32), int(np.searchsorted(edges, gear)),
        sweep.astype(np.float32), mean.astype(np.float32), bow,
    )  # fmt: skip


def _slack(block: Singles) -> NDArray[np.float64]:
    """Largest distance of a block's vertices from its chord (T) [m], with room for single precision."""
    points = block.astype(np.float64)
    start, chord = points[:, :1], points[:, -1:] - points[:, :1]
    share = ((points - start) * chord).sum(axis=2) / np.maximum((chord**2).sum(axis=2), 1e-12)
    away = points - start - np.clip(share, 0.0, 1.0)[:, :, None] * chord
    slack: NDArray[np.float64] = np.sqrt((away**2).sum(axis=2)).max(axis=1) + 2e-5
    return slack
