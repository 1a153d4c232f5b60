"""Random tables of the core's layout, and the plain linear algebra that its compiled loops are held to.

A table is a flat array of records, a record a node, of rows of eight lanes (see lanes.py). `System` fills one at
random and asks the core for the residual and for the matrix of a Newton step, both as ordinary dense arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow import lanes
from spreadwright.tow.bodies import body_forces
from spreadwright.tow.forces import segment_forces
from spreadwright.tow.system import assemble

Floats = NDArray[np.float64]
DENSITY, AIR, GRAVITY, RAMP = 1025.0, 1.2, 9.80665, 0.05


@dataclass(frozen=True)
class Step:
    """How places, velocities and accelerations follow from the unknown: see segment_forces() and assemble()."""

    by_place: float
    by_speed: float
    push: float
    turn: float = 0.0
    drop: float = 0.0
    press: float = 0.0


def marching(gamma: float) -> Step:
    """A step in time: the unknowns are velocities."""
    return Step(by_place=gamma, by_speed=1.0, push=1.0 / gamma)


def settling(pseudo_time: float, turn: float = 0.0, press: float = 0.0) -> Step:
    """A correction of a steady shape: the unknowns are places, in a frame that may turn."""
    per = 1.0 / pseudo_time
    return Step(by_place=1.0, by_speed=per, push=per * per, turn=turn, drop=1.0, press=press)


@dataclass(frozen=True)
class System:
    """`segments` segments of eight lines in `table`, bodies at `bodies`, under the rule `step`."""

    segments: int
    table: Floats
    bodies: tuple[int, ...]
    step: Step

    def rows(self, table: Floats | None = None) -> Floats:
        """The table as (node, row, lane), a view."""
        return (self.table if table is None else table).reshape(self.segments + 1, -1, lanes.LANES)

    def filled(self, table: Floats) -> Floats:
        """The table's (node, row, lane) after forces and assembly."""
        s = self.step
        segment_forces(self.segments, table, DENSITY, AIR, GRAVITY, RAMP, s.by_place, s.by_speed, s.press)
        assemble(self.segments, table, s.by_place, s.push, s.turn, s.drop)
        for node in self.bodies:
            last = min(node + 1, self.segments)
            body_forces(
                node, node - 1, last, -1, -1, table, DENSITY, AIR, GRAVITY, RAMP,
                s.by_place, s.by_speed, s.push, s.turn, s.drop,
            )  # fmt: skip
        return self.rows(table)

    def moved(self, node: int, axis: int, size: float) -> Floats:
        """The table after the unknown of a node has grown by `size` along an axis, in all lanes."""
        table = self.table.copy()
        rows, s = self.rows(table), self.step
        place = s.by_place * size
        rows[node, lanes.X // lanes.ROW + axis] += place
        rows[node, lanes.VX // lanes.ROW + axis] += s.by_speed * size
        if axis == 0:
            rows[node, lanes.VY // lanes.ROW] += s.turn * place
        elif axis == 1:
            rows[node, lanes.VX // lanes.ROW] -= s.turn * place
        return table

    def residual(self, table: Floats) -> Floats:
        """Forces less inertia at nodes 1 to N, (3 N, lanes) [N]."""
        right = lanes.RIGHT // lanes.ROW
        return self.filled(table)[1:, right : right + 3].reshape(3 * self.segments, lanes.LANES).copy()

    def matrix(self) -> Floats:
        """The core's matrix, (lanes, 3 N, 3 N): minus the residual's slope by the unknowns."""
        return dense(self.filled(self.table.copy()), self.segments)

    def slopes(self, size: float) -> Floats:
        """The same from central differences of the residual."""
        n = 3 * self.segments
        result = np.empty((lanes.LANES, n, n))
        for k in range(self.segments):
            for axis in range(3):
                up = self.residual(self.moved(k + 1, axis, size))
                down = self.residual(self.moved(k + 1, axis, -size))
                result[:, :, 3 * k + axis] = -(up - down).T / (2.0 * size)
        return result


def dense(rows: Floats, segments: int) -> Floats:
    """Blocks of the linear system of nodes 1 to N as matrices (lanes, 3 N, 3 N)."""
    matrix = np.zeros((lanes.LANES, 3 * segments, 3 * segments))
    for k in range(1, segments + 1):
        here = slice(3 * k - 3, 3 * k)
        for place, other in ((lanes.BEFORE, k - 1), (lanes.OWN, k), (lanes.AFTER, k + 1)):
            if 1 <= other <= segments:
                block = rows[k, place // lanes.ROW : place // lanes.ROW + 9]
                matrix[:, here, 3 * other - 3 : 3 * other] = block.reshape(3, 3, lanes.LANES).transpose(2, 0, 1)
    return matrix


def row(rows: Floats, place: int, count: int = 1) -> Floats:
    """Rows of a quantity from `lanes`, as a view (node, count, lane)."""
    return rows[:, place // lanes.ROW : place // lanes.ROW + count]
