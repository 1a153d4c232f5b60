"""The scales of the spread's drawing: how large a metre is along, across and down, stretched by plain factors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.plan.value import Plan
from spreadwright.quantity import System, read
from spreadwright.sheets.figures import unit_of

EDGE = 10.0  # between the sheet's edge and its panels
STRETCHES = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0)
STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)


@dataclass(frozen=True)
class Scales:
    """Sheet units a metre along the course, and the stretches of what lies across and down against that.

    transom: where the transom stands on the sheet; left, right: the panels' edges; text: the size of words.
    """

    left: float
    right: float
    transom: float
    along: float
    across: float
    down: float
    text: float
    foot: float  # metres in the unit that distances are shown in
    unit: str

    def x(self, forward: float) -> float:
        """Place on the sheet of a distance forward of the transom [m]."""
        return self.transom + forward * self.along

    def step(self, room: float, unit_size: float) -> float:
        """The least round step, in the shown unit, that takes at least `room` on the sheet at that size of a metre."""
        return next((step for step in STEPS if step * self.foot * unit_size >= room), STEPS[-1])


def extents(plan: Plan) -> tuple[float, float, float, float]:
    """Of the straight lines [m]: farthest astern, farthest to either side, highest, deepest; all at least a little."""
    places = [place for outline in plan.drawing for place in outline.straight]
    deep = [value.high for rod in plan.rods for value in (rod.weight_depth, rod.lure_depth)]
    deep += [value.greatest for rod in plan.rods for value in (rod.weight_depth_swing, rod.lure_depth_swing)]
    return (
        max([-place[0] for place in places] + [5.0]),
        max([abs(place[1]) for place in places] + [1.0]),
        max([place[2] for place in places] + [1.0]),
        max([-place[2] for place in places] + deep + [1.0]),
    )


def stretch(room: float, extent: float, along: float) -> float:
    """The largest plain factor at which `extent` [m] still fits into `room`."""
    fitting = [factor for factor in STRETCHES if factor * extent * along <= room]
    return fitting[-1] if fitting else STRETCHES[0]


def scales(plan: Plan, width: float, system: System, bow: float) -> Scales:
    """Scales for a sheet of this width, with `bow` kept for the boat right of its transom."""
    text = 11.0 if width < 560.0 else 12.0
    astern, side, high, deep = extents(plan)
    left, right = EDGE, width - EDGE
    transom = right - bow
    ahead = max((outline.straight[0][0] for outline in plan.drawing), default=0.0)
    across, down = _between(0.30 * width, 105.0, 190.0), _between(0.50 * width, 190.0, 270.0)
    along = min(
        (transom - left - 14.0) / astern, (bow - 24.0) / max(ahead, 0.1), across / (2.0 * side), down / (high + deep)
    )  # fmt: skip
    unit = unit_of("length", system)
    return Scales(
        left=left,
        right=right,
        transom=transom,
        along=along,
        across=stretch(across, 2.0 * side, along),
        down=stretch(down, high + deep, along),
        text=text,
        foot=read(f"1 {unit}", "length"),
        unit=unit,
    )


def _between(value: float, least: float, most: float) -> float:
    return min(max(value, least), most)


def ticks(step: float, most: float) -> Sequence[float]:
    """Multiples of `step` from zero to `most`."""
    return [step * i for i in range(int(most / step + 1e-9) + 1)]
