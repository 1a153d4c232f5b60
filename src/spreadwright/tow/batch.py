"""Eight lines made ready to be computed side by side: their meshes and their properties, in one table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow import lanes
from spreadwright.tow.line import Body, Line, Sea, Section
from spreadwright.tow.mesh import Grading, node_places, section_counts

Floats = NDArray[np.float64]

# A line "that does not stretch" gets the stiffness at which the largest load stretches it by this much: 60 m of it
# grow by 0.1 mm.
LEAST_STRETCH = 2e-6
# Where the largest load stretches a section by less than this, pulls are carried along (taut.py).
HARDLY_STRETCHES = 2.5e-4


@dataclass(frozen=True)
class Batch:
    """Up to eight lines with the same count of sections, laid out in one table (see lanes.py).

    table: the flat array; segments: their count N; bodies: nodes that carry one; arclength: (N + 1, lines) [m];
    joints: node at the end of each section; tips: rod tips in the boat's frame, (lines, 3) [m]; hardly_stretches: True
    where the largest load stretches some section by less than 2.5e-4.
    """

    lines: tuple[Line, ...]
    sea: Sea
    table: Floats
    segments: int
    bodies: NDArray[np.int64]
    joints: NDArray[np.int64]
    arclength: Floats
    tips: Floats
    hardly_stretches: bool = False

    def rows(self) -> Floats:
        """The table as (node, row, lane): a view, not a copy."""
        return self.table.reshape(self.segments + 1, lanes.RECORD // lanes.LANES, lanes.LANES)


def make_batch(
    lines: Sequence[Line],
    sea: Sea,
    grading: Grading,
    load: float,
    entries: Sequence[float | None] | None = None,
    mesh_counts: Sequence[int] | None = None,
) -> Batch:
    """Lay out one to eight lines. `load` [N] is the largest pull expected; it sets what "does not stretch" means.

    `mesh_counts`: segments of each section, where a line is to be solved alone on a batch's mesh.
    """
    if not 1 <= len(lines) <= lanes.LANES:
        raise ValueError(f"{len(lines)} lines given; a batch holds 1 to {lanes.LANES}; split the list")
    sections = len(lines[0].sections)
    if any(len(line.sections) != sections for line in lines):
        raise ValueError("the lines of a batch must have the same count of sections; sort them first")
    where = list(entries) if entries is not None else [None] * len(lines)
    wished = [section_counts(line, grading, entry) for line, entry in zip(lines, where, strict=True)]
    counts = list(mesh_counts) if mesh_counts else [max(each) for each in zip(*wished, strict=True)]
    segments = sum(counts)
    table = np.zeros((segments + 1) * lanes.RECORD)
    joints = np.cumsum(counts)
    arclength = np.empty((segments + 1, len(lines)))
    batch = Batch(
        lines=tuple(lines),
        sea=sea,
        table=table,
        segments=segments,
        bodies=np.array([j for i, j in enumerate(joints) if any(line.bodies[i] for line in lines)], dtype=np.int64),
        joints=joints.astype(np.int64),
        arclength=arclength,
        tips=np.array([line.tip for line in lines], dtype=float),
        hardly_stretches=any(each.stiffness > load / HARDLY_STRETCHES for line in lines for each in line.sections),
    )
    rows = batch.rows()
    for lane in range(lanes.LANES):
        source = min(lane, len(lines) - 1)  # spare lanes repeat the last line
        line = lines[source]
        places = node_places(line, counts, grading, where[source])
        if lane < len(lines):
            arclength[:, lane] = places
        _fill_segments(rows, lane, line, counts, np.diff(places), load, sea.density)
        _fill_bodies(rows, lane, line, batch.joints)
    return batch


def _stiffness(section: Section, load: float) -> float:
    return min(section.stiffness, load / LEAST_STRETCH)


def _fill_segments(
    rows: Floats, lane: int, line: Line, counts: list[int], lengths: Floats, load: float, density: float
) -> None:
    start = 0
    for section, count in zip(line.sections, counts, strict=True):
        part = slice(start, start + count)
        length = lengths[part]
        stiffness = _stiffness(section, load)
        values = {
            lanes.PER_LENGTH: 1.0 / length,
            lanes.STIFFNESS: np.full(count, stiffness),
            lanes.STIFFENING: np.full(count, section.stiffening),
            lanes.DAMPING: np.full(count, stiffness * section.damping_time),
            lanes.NORMAL: 0.5 * section.normal_drag * section.diameter * length,
            lanes.TANGENTIAL: 0.5 * section.tangential_drag * math.pi * section.diameter * length,
            lanes.SKIN: section.tangential_force / max(density, 1e-9) * length,
            lanes.MASS: section.density * section.area * length,
            lanes.VOLUME: section.area * length,
            lanes.ADDED: section.added_mass * section.area * length,
        }
        for row, value in values.items():
            rows[part, row // lanes.LANES, lane] = value
        start += count


def _fill_bodies(rows: Floats, lane: int, line: Line, joints: NDArray[np.int64]) -> None:
    for joint, body in zip(joints, line.bodies, strict=True):
        if body is not None:
            set_body(rows, int(joint), lane, body)


def set_body(rows: Floats, node: int, lane: int, body: Body) -> None:
    """Put a body on a node of one lane (also used to let a fish take hold)."""
    slender = body.law == "slender"
    values = {
        lanes.BODY_MASS: body.mass,
        lanes.BODY_VOLUME: body.volume,
        lanes.BODY_ADDED: body.added_mass * body.volume,
        lanes.BODY_ROUND: 0.0 if slender else 0.5 * body.drag_area,
        lanes.BODY_AXIAL: 0.5 * body.axial_area if slender else 0.0,
        lanes.BODY_SIDE: 0.5 * body.normal_area if slender else 0.0,
        lanes.BODY_FORCE: body.force[0],
        lanes.BODY_FORCE + lanes.ROW: body.force[1],
        lanes.BODY_FORCE + 2 * lanes.ROW: body.force[2],
    }
    for row, value in values.items():
        rows[node, row // lanes.LANES, lane] = value
