"""Floss marks: the length to measure on slack line so that a mark stands where it is wanted under load.

A mark tied at 400 ft on slack nylon is not at 400 ft once the line pulls. Line stretches by
T = EA e (1 + k e^2), e the strain: the first part is Hooke's law, the second lets nylon stiffen
towards its break (a form chosen for this project; EA and k come with the line).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.tackle.line import Strand
from spreadwright.tackle.span import Span


@dataclass(frozen=True, slots=True)
class MarkMeasure:
    """One mark [m]: wanted distance under load, slack length to measure, where a mark tied at the
    wanted length on slack line would stand instead; stretch [1] at the mean of the load.

    slack_length is a range when the tension is one: low belongs to the greatest tension.
    """

    wanted: float
    slack_length: Span
    tied_at_wanted_stands_at: Span
    stretch: Span


def tension_at(stretch: float, stiffness: float, stiffening: float = 0.0) -> float:
    """Tension [N] at strain `stretch` [1]: EA e (1 + k e^2); slack line carries none.

    stiffness EA [N], stiffening k [1].

    >>> tension_at(0.1, 1000.0, 5.0)
    105.0
    """
    return stiffness * stretch * (1.0 + stiffening * stretch**2) if stretch > 0.0 else 0.0


def stretch_at(tension: float, stiffness: float, stiffening: float = 0.0) -> float:
    """Strain [1] at `tension` [N]: the one real root of k e^3 + e = T/EA.

    For k > 0 (hyperbolic form of Cardano's solution):
    e = 2 sinh(asinh(1.5 sqrt(3k) T/EA) / 3) / sqrt(3k); for k = 0: T/EA; EA infinite: 0.
    Valid for tension >= 0, EA > 0, k >= 0; raises ValueError otherwise.

    Worked example: EA 1000 N, k 5, T 105 N gives e = 0.1 (see `tension_at`).

    >>> round(stretch_at(105.0, 1000.0, 5.0), 12)
    0.1
    """
    if not (math.isfinite(tension) and tension >= 0.0 and stiffness > 0.0 and stiffening >= 0.0):
        raise ValueError(
            "tension and stiffening must not be negative and stiffness must be positive, given "
            f"T {tension}, EA {stiffness}, k {stiffening}"
        )
    ratio = tension / stiffness
    root = math.sqrt(3.0 * stiffening)
    if root * ratio < 1e-7:  # Hooke's law to the last digit; also k = 0
        return ratio
    return 2.0 * math.sinh(math.asinh(1.5 * root * ratio) / 3.0) / root


def slack_length_for(distance: float, tension: float, stiffness: float, stiffening: float = 0.0) -> float:
    """Slack length [m] to measure for a mark to stand at `distance` [m] under `tension` [N].

    distance / (1 + e): one tension along the whole length.

    >>> round(slack_length_for(110.0, 105.0, 1000.0, 5.0), 9)
    100.0
    """
    _check_distance(distance)
    return distance / (1.0 + stretch_at(tension, stiffness, stiffening))


def distance_of(slack: float, tension: float, stiffness: float, stiffening: float = 0.0) -> float:
    """Where [m] a mark tied at `slack` [m] stands under `tension` [N]: slack (1 + e).

    >>> round(distance_of(100.0, 105.0, 1000.0, 5.0), 9)
    110.0
    """
    _check_distance(slack)
    return slack * (1.0 + stretch_at(tension, stiffness, stiffening))


def slack_length_along(
    places: Sequence[float],
    tensions: Sequence[float],
    stiffness: float,
    stiffening: float = 0.0,
) -> float:
    """Slack length [m] of a line whose tension changes along it: integral of ds / (1 + e(T)).

    places [m]: distances along the stretched line, rising, first to last; tensions [N] there.
    Trapezium rule between them: second order in the spacing. Raises ValueError for fewer than two
    places, lengths that differ, or places that do not rise.

    >>> round(slack_length_along([0.0, 55.0, 110.0], [105.0] * 3, 1000.0, 5.0), 9)
    100.0
    """
    if len(places) != len(tensions) or len(places) < 2:
        raise ValueError("give two or more places and as many tensions")
    share = [1.0 / (1.0 + stretch_at(tension, stiffness, stiffening)) for tension in tensions]
    total = 0.0
    for at in range(len(places) - 1):
        step = places[at + 1] - places[at]
        if not step > 0.0:
            raise ValueError("places along the line must rise")
        total += 0.5 * (share[at] + share[at + 1]) * step
    return total


def measure_mark(wanted: float, tension: Span, stiffness: Span, stiffening: float = 0.0) -> MarkMeasure:
    """What to measure for one mark wanted at `wanted` [m], the doubt of tension and stiffness carried along.

    tension [N] and stiffness EA [N] as ranges: the greatest stretch is the greatest tension on the
    softest line. stiffening k [1].

    >>> mark = measure_mark(110.0, Span.exactly(105.0), Span.exactly(1000.0), 5.0)
    >>> round(mark.slack_length.usual, 6), round(mark.tied_at_wanted_stands_at.usual, 6)
    (100.0, 121.0)
    """
    _check_distance(wanted)
    stretch = Span(
        stretch_at(tension.low, stiffness.high, stiffening),
        stretch_at(tension.usual, stiffness.usual, stiffening),
        stretch_at(tension.high, stiffness.low, stiffening),
    )
    grown = Span(1.0 + stretch.low, 1.0 + stretch.usual, 1.0 + stretch.high)
    return MarkMeasure(wanted, Span.exactly(wanted).over(grown), grown * wanted, stretch)


def stiffness_of(line: Strand) -> Span:
    """EA [N] of a line from tackle, with the doubt of its modulus (its thickness taken as known)."""
    area = math.pi * line.diameter**2 / 4.0
    modulus = line.stuff.modulus
    return Span(modulus.low * area, modulus.value * area, modulus.high * area)


def _check_distance(distance: float) -> None:
    if not (math.isfinite(distance) and distance >= 0.0):
        raise ValueError(f"a distance must be zero or more and finite, given {distance}")
