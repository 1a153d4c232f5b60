"""How sure drag is before anything was measured: stated ranges as smooth distributions, and scores that walk them.

Every uncertain number has a score that is standard normal before any reading. The stated range (low, usual, high) is
taken as the middle nine of ten: its ends are the 5 % and 95 % points, its usual value the median. Between them the
logarithm of the number follows Tukey's g distribution (Hoaglin, "Summarizing shape numerically: the g-and-h
distributions", 1985), which goes through all three points, is smooth, and is never negative:

    ln c = ln usual + A (exp(g z) - 1) / g,   exp(g q) = ln(high / usual) / ln(usual / low),   q = 1.645

Worked example: 0.5, 1.0, 1.5: g = -0.326, A = 0.318; z = 1.645 gives 1.5, z = -1.645 gives 0.5.
That a range holds nine of ten is a choice, as no source says how often the truth lies outside one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.rig.hydrodynamics import SMOOTH, lure_drag, weight_drag
from spreadwright.spread.candidates import lure_kinds
from spreadwright.tackle.span import Span
from spreadwright.tackle.trip import Trip

Floats = NDArray[np.float64]

SURE = 1.6448536269514722  # scores within which nine of ten lie: the ends of every range here
LURE_ALIKE = 0.5  # how far lures err alike, as their areas come from one rule: assumed
LEAST_DOUBT = 1e-6  # a range narrower than this share of its usual value has nothing to learn
LOWEST, HIGHEST = -1.9, 4.0  # places in a range where drag is surely still above zero, and surely beyond belief


def number_at(span: Span, score: float) -> float:
    """The number [any] that has this score [-] in a range."""
    down, up = math.log(span.usual / span.low), math.log(span.high / span.usual)
    g = math.log(up / down) / SURE
    if abs(g) < 1e-9:
        return span.usual * math.exp(up * score / SURE)
    return span.usual * math.exp(up * math.expm1(g * score) / math.expm1(g * SURE))


def place_of(span: Span, number: float) -> float:
    """Where a number [any] stands in its range: -1 at the low, 0 at the usual, +1 at the high end [-].

    Straight between, as `rig.tow_model.Doubts` count it.
    """
    part = span.high - span.usual if number >= span.usual else span.usual - span.low
    return min(max((number - span.usual) / part, LOWEST), HIGHEST)


@dataclass(frozen=True)
class Kind:
    """Lures that the water cannot tell apart: their names, their drag area [m2], and whether it was measured."""

    names: tuple[str, ...]
    area: Span
    measured: bool


@dataclass(frozen=True)
class Prior:
    """Stated ranges of a trip's gear.

    across, along: of smooth lines, all other lines follow them [-]; weight: drag along it over the usual [-];
    kinds: lures; rods: how many marks may be off.

    The scores stand in this order: across, along, weight, stiffness, each kind of lure, each rod's mark.
    """

    across: Span
    along: Span
    weight: Span
    kinds: tuple[Kind, ...]
    rods: int

    @property
    def count(self) -> int:
        """How many scores there are."""
        return 4 + len(self.kinds) + self.rods

    @property
    def coefficients(self) -> list[int]:
        """Places of the drag coefficients among the scores."""
        return [0, 1, 2, *range(4, 4 + len(self.kinds))]

    def kind_of(self, lure: str) -> int | None:
        """Which kind a lure of that name is of; None for one whose drag is not in doubt."""
        return next((i for i, kind in enumerate(self.kinds) if lure in kind.names), None)

    def span(self, coefficient: int) -> Span:
        """The stated range of the coefficient at that place among the scores."""
        return (
            (self.across, self.along, self.weight)[coefficient] if coefficient < 3 else self.kinds[coefficient - 4].area
        )

    def covariance(self) -> Floats:
        """Of all scores before any reading [-]: independent, but for lures, which err alike by half."""
        whole = np.eye(self.count)
        guessed = [4 + i for i, kind in enumerate(self.kinds) if not kind.measured]
        for i in guessed:
            for j in guessed:
                if i != j:
                    whole[i, j] = LURE_ALIKE
        return whole


def prior_of(trip: Trip) -> Prior:
    """The stated ranges of a trip's lines, weights and lures."""
    lures = trip.shelf.lures
    kinds = []
    for group in lure_kinds(lures):
        first = lures[group[0]]
        area = lure_drag(first).axial
        if area.high - area.low > LEAST_DOUBT * area.usual:
            kinds.append(Kind(tuple(lures[i].name for i in group), area, first.drag_area is not None))
    weights = [weight_drag(each) for each in trip.shelf.weights]
    slim = next((each for each in weights if not each.round), weights[0]).axial
    share = Span(slim.low / slim.usual, 1.0, slim.high / slim.usual)
    return Prior(SMOOTH.across, SMOOTH.along, share, tuple(kinds), len(trip.outfits))
