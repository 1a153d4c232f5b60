"""A study: one spread at many speeds, radii and sea states, on one boat or several; the values it is made of."""

from __future__ import annotations

import math
from dataclasses import dataclass

from spreadwright.day.boat_motion import Hull
from spreadwright.rig.tow_model import TowedRig
from spreadwright.tackle.pattern import Pattern


@dataclass(frozen=True)
class SeaAsked:
    """A sea: significant height [m] and peak period [s]; height 0 is calm."""

    height: float
    period: float

    @property
    def calm(self) -> bool:
        """No waves at all."""
        return self.height == 0.0


CALM = SeaAsked(0.0, 0.0)


@dataclass(frozen=True)
class Asked:
    """What is swept: speeds [m/s], radii [m], seas; empty where the trip's own is meant.

    waves_from: where the waves come from, from right ahead on the first straight, positive to port [rad]; seed of the
    waves; hulls: one for all boats or one for each, empty where boat motion is not counted.
    """

    speeds: tuple[float, ...] = ()
    radii: tuple[float, ...] = ()
    seas: tuple[SeaAsked, ...] = (CALM,)
    waves_from: float = 0.0
    seed: int = 1
    hulls: tuple[Hull, ...] = ()


@dataclass(frozen=True)
class Fished:
    """One rod of a spread: names, mark [m] and the line it tows."""

    rod: str
    station: str
    mark: float
    weight: str
    lure: str
    towed: TowedRig


@dataclass(frozen=True)
class Spread:
    """The spread of one boat, whole and small enough to be sent to another machine.

    boat: its name, with the trip's title where two boats have the same; density [kg/m3] of the water; reach [m] within
    which gear counts as tangled; hull None: its motion is not counted; chosen: where the spread comes from.
    """

    boat: str
    fished: tuple[Fished, ...]
    pattern: Pattern
    density: float
    reach: float
    hull: Hull | None
    chosen: str


@dataclass(frozen=True)
class Case:
    """One case of a study: a spread at a speed [m/s], a radius [m], in a sea; waves as in `Asked` [rad]."""

    spread: Spread
    speed: float
    radius: float
    sea: SeaAsked
    waves_from: float
    seed: int


@dataclass(frozen=True)
class RodThrough:
    """One rod through a case: lure depth on the straight in still water, least and greatest [m]; pull at the rod on the
    straight, least and greatest [N]; lure speed least and greatest [m/s]; the nearest other rod and its gap [m]."""

    depth: float
    depth_least: float
    depth_greatest: float
    pull: float
    pull_least: float
    pull_greatest: float
    lure_speed_least: float
    lure_speed_greatest: float
    nearest: str
    gap: float


_NO = math.nan
NOTHING = RodThrough(_NO, _NO, _NO, _NO, _NO, _NO, _NO, _NO, "", _NO)


@dataclass(frozen=True)
class Outcome:
    """What came of a case: every rod, the smallest gear-to-line gap [m] with its pair, pairs wrapped, tangle or not.

    problem: why nothing could be computed, empty where all went well (then all numbers stand).
    """

    rods: tuple[RodThrough, ...]
    gap: float
    first: str
    second: str
    wraps: int
    tangle: bool
    problem: str = ""


@dataclass(frozen=True)
class Study:
    """All cases with their outcomes, in the order asked: boats, then seas, then radii, then speeds.

    sentences: what came of it in short; counted: what is counted in and what is not.
    """

    title: str
    units: str
    spreads: tuple[Spread, ...]
    cases: tuple[Case, ...]
    outcomes: tuple[Outcome, ...]
    sentences: tuple[str, ...] = ()
    counted: tuple[str, ...] = ()
