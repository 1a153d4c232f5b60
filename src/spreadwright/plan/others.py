"""Other spreads than the one chosen: the next best that differ in kind, and what one more piece would gain.

All from the lines and gaps that the choice already has. A spread differs in kind when at least two rods fish another
mark or weight. What is held against the chosen spread is the smallest gap of the search, counted up to enough, then the
share of pairs in different water.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from spreadwright.plan.value import Gain, Other, OtherRig
from spreadwright.plan.worded import twins, worded
from spreadwright.quantity import System, show
from spreadwright.spread.board import BOUGHT, GROUPS, Board, unlike
from spreadwright.spread.candidates import Candidates
from spreadwright.spread.choose import Chooser, Decision, rows_of
from spreadwright.tackle.trip import Trip

DIFFERENT = 2  # rods
NEXT_BEST = 2  # spreads
LEAST_GAIN = 0.01  # [m] of the gap, and of the share of pairs


def next_best(trip: Trip, candidates: Candidates, chooser: Chooser, decision: Decision) -> tuple[Other, ...]:
    """The best spreads that differ in kind from the chosen one and from one another, the better first."""
    before = [[candidates.rigs[i] for i in decision.rigs]]
    found = []
    for _ in range(NEXT_BEST if len(decision.rigs) >= DIFFERENT else 0):
        other = chooser.choose(unlike(chooser.board, candidates, before, DIFFERENT))
        if isinstance(other, str):
            break
        before.append([candidates.rigs[i] for i in other.rigs])
        found.append(_other(trip, candidates, other, decision))
    return tuple(found)


def _other(trip: Trip, candidates: Candidates, other: Decision, decision: Decision) -> Other:
    shelf, rigs = trip.shelf, []
    for number, lure in zip(other.rigs, other.lures, strict=True):
        rig, name = candidates.rigs[number], trip.outfits[candidates.rigs[number].rod].name
        rigs.append(
            OtherRig(
                rod=name, station=trip.boat.stations[rig.station].name, mark=rig.mark,
                weight=shelf.weights[rig.weight].name, shock_leader=shelf.shock_leaders[rig.shock].name,
                bite_leader=shelf.bite_leaders[rig.bite].name, lure=shelf.lures[lure].name,
            )
        )  # fmt: skip

    def say(system: System) -> str:
        changes = _changes(trip, candidates, other, decision, system)
        gap = show(other.gap, "length", system, figures=2)
        return f"{'; '.join(changes)}: smallest gap {gap}, {100 * other.coverage:.0f} % of pairs in different water"

    words = worded(trip.units, say)
    return Other(rigs=tuple(rigs), gap=other.gap, coverage=other.coverage, proven=other.proven, words=words,
                 other_units=twins([words]))  # fmt: skip


def _changes(trip: Trip, candidates: Candidates, other: Decision, decision: Decision, system: System) -> Iterator[str]:
    """What each rod fishes otherwise, mark and weight."""
    for number, old in zip(other.rigs, decision.rigs, strict=True):
        rig, was = candidates.rigs[number], candidates.rigs[old]
        parts = []
        if rig.mark != was.mark:
            parts.append(show(rig.mark, "length", system, figures=3))
        if rig.weight != was.weight:
            parts.append(trip.shelf.weights[rig.weight].name)
        if parts:
            yield f"{trip.outfits[rig.rod].name} on {' with '.join(parts)}"


def one_more(trip: Trip, chooser: Chooser, decision: Decision) -> tuple[Gain, ...]:
    """What one more of each piece that the chosen spread uses up would gain, the most first."""
    gains = []
    for piece, board in _with_one_more(chooser.board, decision):
        better = chooser.choose(board, tuple(zip(decision.rigs, decision.lures, strict=True)))
        if isinstance(better, Decision):
            gains.append(_gain(trip, chooser.board.names[piece], decision, better))
    return tuple(sorted(gains, key=lambda gain: (-gain.wider, -gain.more_apart)))


def _with_one_more(board: Board, decision: Decision) -> Iterator[tuple[int, Board]]:
    """Boards with one more of each piece that the spread uses all of; what must be bought anyhow is passed over."""
    rows = rows_of(board, tuple(zip(decision.rigs, decision.lures, strict=True)))
    assert rows is not None  # the decision is of this board
    used = np.bincount(board.uses[rows].ravel(), minlength=len(board.limits))
    for piece, (count, limit) in enumerate(zip(used, board.limits, strict=True)):
        if GROUPS[board.group[piece]] in BOUGHT and count == limit > 0:
            limits = board.limits.copy()
            limits[piece] += 1
            yield piece, replace(board, limits=limits)


def _gain(trip: Trip, name: str, decision: Decision, better: Decision) -> Gain:
    wider, more = better.gap - decision.gap, better.coverage - decision.coverage
    sure = "" if better.proven and decision.proven else " (best found, not proven)"

    def say(system: System) -> str:
        words = "no wider gap, and no more pairs in different water"
        if wider >= LEAST_GAIN:
            words = f"the smallest gap would be wider by {show(wider, 'length', system, figures=1)}"
        elif more >= LEAST_GAIN:
            words = f"no wider gap, but {100 * more:.0f} % more of the pairs in different water"
        return f"one more {name}: {words}{sure}"

    words = worded(trip.units, say)
    return Gain(piece=name, wider=max(0.0, wider), more_apart=max(0.0, more), words=words, other_units=twins([words]))
