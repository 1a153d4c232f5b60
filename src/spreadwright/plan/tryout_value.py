"""A spread made by hand, and what came of towing it: frozen values that every face shows and none changes. SI inside.

A hand-made spread names its pieces by their places in the trip's lists (from 0), as the page's choosers do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from spreadwright.plan.value import Estimate, Part, TurnDepths

Number = Annotated[int, Field(ge=0, le=999)]
Place3 = tuple[float, float, float]


class HandRod(Part):
    """What one rod fishes by the captain's hand: places in the trip's outfits, stations, that outfit's marks, and the
    shelf's weights, shock leaders, bite leaders and lures, all counted from 0."""

    rod: Number
    station: Number
    mark: Number
    weight: Number
    shock_leader: Number
    bite_leader: Number
    lure: Number


class HandSpread(Part):
    """A spread made by hand: the rods that fish, each once; a rod that is left out stays ashore."""

    rods: Annotated[tuple[HandRod, ...], Field(min_length=1, max_length=40)]


class TriedRod(Part):
    """One rod of a hand-made spread on a straight course.

    mark, astern [m]; tip and line: places (x, y, z) in the boat's frame [m]; joints: vertices of weight, end of shock
    leader and lure in it; depths [m], pull at the rod [N], angle below level at the tip [rad]; failed: why there is no
    steady shape, else empty; reasons: what speaks against fishing this rig.
    """

    hand: HandRod
    rod: str
    station: str
    mark: float
    weight: str
    shock_leader: str
    bite_leader: str
    lure: str
    tip: Place3
    line: tuple[Place3, ...]
    joints: tuple[int, int, int]
    astern: float
    weight_depth: Estimate | None
    lure_depth: Estimate | None
    pull: Estimate | None
    angle: Estimate | None
    failed: str
    reasons: tuple[str, ...]


class TriedSpread(Part):
    """A hand-made spread straight ahead; reasons: what speaks against it as a whole."""

    rods: tuple[TriedRod, ...]
    reasons: tuple[str, ...]


class TriedPair(Part):
    """Two lines through the manoeuvre.

    gap [m] from either's gear to the other's line, its range where that was asked for, when [s], and the two nearest
    places in the boat's frame [m]; winding [turns] left at the end; tangle: gear within reach or a wrap.
    """

    first: str
    second: str
    gap: float
    range: Estimate | None
    time: float
    on_first: Place3
    on_second: Place3
    winding: float
    tangle: bool


class TriedRange(Part):
    """One rod straight ahead with its ranges: depths [m], pull at the rod [N], angle below level at the tip [rad]."""

    rod: str
    weight_depth: Estimate
    lure_depth: Estimate
    pull: Estimate
    angle: Estimate


class TriedRanges(Part):
    """How sure a hand-made spread is, from so many samples in which everything in doubt varies at once.

    pairs: nearest first, with their ranges; rods: straight ahead; depths: through the turns; of_plan: the plan's own
    spread, with the plan's own ranges.
    """

    pairs: tuple[TriedPair, ...]
    rods: tuple[TriedRange, ...]
    depths: TurnDepths | None
    samples: int
    of_plan: bool


@dataclass(frozen=True)
class LineMotion:
    """One line through the manoeuvre, thinned: where its vertices are in the boat's frame at every stored time.

    places: [time][3 * vertex + axis] in whole centimetres [cm]; joints: vertices of weight, end of shock leader, lure;
    least, greatest depth of weight and of lure, and greatest pull at the rod, over the whole manoeuvre [m, N].
    """

    rod: str
    places: list[list[int]]
    joints: tuple[int, int, int]
    weight_depths: tuple[float, float]
    lure_depths: tuple[float, float]
    most_pull: float
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class TriedRun:
    """A hand-made spread through the trip's S-turn.

    step [s] between stored times; boat: (x, y, heading) at each [m, m, rad], earth frame; lines and pairs in the order
    of the spread, nearest pair first; failed: lines that could not be computed, with the reason.
    """

    step: float
    boat: list[tuple[float, float, float]]
    lines: tuple[LineMotion, ...]
    pairs: tuple[TriedPair, ...]
    failed: tuple[str, ...]
