"""What makes a spread good once its lines stay apart: different water for every lure, then what the captain likes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from spreadwright.spread.board import BOUGHT, GROUPS, Board
from spreadwright.spread.motions import Passage
from spreadwright.tackle.trip import Trip

APART_ASTERN = 10.0  # [m] apart, two lures fish different water in distance: assumed
APART_IN_DEPTH = 0.5  # [m] likewise in depth: assumed
HALF_A_POINT = 0.5  # steps of the worth of pairs
HEAD_OFF = 0.25  # share of a preferred diameter from which a head is not liked for its size: assumed
FAIR = 0.5  # confidence in a piece of which nothing is said
LIKED_STEP = 0.01  # likings are told apart to a hundredth of one piece's best


Pairs = NDArray[np.bool_]


def different_water(passages: Sequence[Passage]) -> tuple[Pairs, Pairs]:
    """Which pairs of lures run 10 m or more apart astern, and which 0.5 m or more in depth (lines, lines)."""
    astern = np.array([p.astern for p in passages])
    depth = np.array([float(p.depths[0, -1]) for p in passages])
    far = np.abs(astern[:, None] - astern[None, :]) >= APART_ASTERN
    deep = np.abs(depth[:, None] - depth[None, :]) >= APART_IN_DEPTH
    return far, deep


def pair_scores(apart: tuple[Pairs, Pairs]) -> NDArray[np.float32]:
    """What each pair of lines is worth: half a point for distance and half for depth (lines, lines)."""
    return np.asarray(0.5 * apart[0] + 0.5 * apart[1], dtype=np.float32)


def likings(trip: Trip, board: Board, learnt: Mapping[str, float] | None = None) -> NDArray[np.float64]:
    """How well each of the board's pieces is liked (pieces), 0 to 1.

    Lures: the mean of what is said of them: colours and head sizes preferred (the first named counts most), the
    captain's confidence, and what the logbook says of a lure by name (0 to 1) if given. Weights and leaders:
    confidence. A piece without a word counts as fair where another of its kind has one.
    """
    shelf = trip.shelf
    kinds: tuple[Sequence[Any], ...] = (shelf.weights, shelf.shock_leaders, shelf.bite_leaders)
    liked = np.zeros(len(board.names))
    for group, pieces in zip(BOUGHT, kinds, strict=False):
        liked[board.group == GROUPS.index(group)] = _confidences(pieces) or [0.0] * len(pieces)
    liked[board.group == GROUPS.index("lure")] = _lures(trip, learnt)
    return liked


def _lures(trip: Trip, learnt: Mapping[str, float] | None) -> list[float]:
    lures, wishes = trip.shelf.lures, trip.wishes
    said: list[Sequence[float]] = []
    if wishes.preferred_colours:
        said.append([_colours(trip, lure) for lure in range(len(lures))])
    if wishes.preferred_heads:
        said.append([_head(wishes.preferred_heads, lure.head_diameter) for lure in lures])
    if confident := _confidences(lures):
        said.append(confident)
    if learnt:
        said.append([learnt.get(lure.name, 0.0) for lure in lures])
    return [sum(each) / len(said) for each in zip(*said, strict=True)] if said else [0.0] * len(lures)


def _confidences(pieces: Sequence[Any]) -> list[float]:
    """The captain's confidence in each piece, 0 to 1; nothing where there is no word of any."""
    if all(piece.confidence is None for piece in pieces):
        return []
    return [FAIR if piece.confidence is None else piece.confidence for piece in pieces]


def _head(preferred: Sequence[float], diameter: float) -> float:
    """How well a head of that diameter [m] meets the sizes preferred, 0 to 1: nought from a quarter off."""
    return max(
        (len(preferred) - i) / len(preferred) * max(0.0, 1.0 - abs(diameter / size - 1.0) / HEAD_OFF)
        for i, size in enumerate(preferred)
    )


def _colours(trip: Trip, lure: int) -> float:
    """How much of what is preferred a lure shows, 0 to 1."""
    liked = trip.wishes.preferred_colours
    most = sum((len(liked) - i) / len(liked) for i in range(len(liked)))
    shown = sum((len(liked) - i) / len(liked) for i, each in enumerate(liked) if each in trip.shelf.lures[lure].colours)
    return shown / most if liked else 0.0
