"""What makes a spread good once its lines stay apart: different water for every lure, then what the captain likes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from spreadwright.spread.board import Board
from spreadwright.spread.motions import Passage
from spreadwright.tackle.trip import Trip

APART_ASTERN = 10.0  # [m] apart, two lures fish different water in distance: assumed
APART_IN_DEPTH = 0.5  # [m] likewise in depth: assumed
LIKING = 0.02  # worth of the best-liked lure; six of them weigh less than one pair's step of 0.5


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
    """What each row of the board is worth for its lure alone (rows): 0 to LIKING.

    The captain's colours (the first named counts most), or what the logbook says of a lure by name (0 to 1) if given.
    """
    own = [_colours(trip, lure) for lure in range(len(trip.shelf.lures))]
    if learnt:
        own = [0.5 * (liked + learnt.get(lure.name, 0.0)) for liked, lure in zip(own, trip.shelf.lures, strict=True)]
    return np.array([LIKING * own[lure] for lure in board.lures])


def _colours(trip: Trip, lure: int) -> float:
    """How much of what is preferred a lure shows, 0 to 1."""
    liked = trip.wishes.preferred_colours
    most = sum((len(liked) - i) / len(liked) for i in range(len(liked)))
    shown = sum((len(liked) - i) / len(liked) for i, each in enumerate(liked) if each in trip.shelf.lures[lure].colours)
    return shown / most if liked else 0.0
