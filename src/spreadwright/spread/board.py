"""What the search works on: every rig on every rod, numbered rod by rod, with the pieces that it uses up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement

import numpy as np
from numpy.typing import NDArray

from spreadwright.spread.candidates import Candidate, Candidates
from spreadwright.tackle.trip import Trip

GROUPS = ("station", "mark", "weight", "shock leader", "bite leader", "lure", "unlike")
BOUGHT = ("weight", "shock leader", "bite leader", "lure")  # groups of which more can be bought
MOST_BOUGHT = 2  # pieces beyond those that must be bought anyhow, tried one by one

Whole = NDArray[np.int64]


@dataclass(frozen=True)
class Board:
    """Plain arrays for the search (see branch.Problem), a row for each rig with each lure it may fish.

    starts (rods + 1); rigs, lures (rows): place among the candidates and on the shelf; lines (rows): number among the
    lines that run; uses (rows, kinds): pieces; limits, group, names (pieces).
    """

    starts: Whole
    rigs: tuple[int, ...]
    lures: tuple[int, ...]
    lines: Whole
    uses: Whole
    limits: Whole
    group: Whole
    names: tuple[str, ...]

    @property
    def rods(self) -> int:
        """How many rods there are."""
        return len(self.starts) - 1


class _Pieces:
    """The pieces so far: group, name and how many there are."""

    def __init__(self) -> None:
        self.all: list[tuple[int, str, int]] = []

    def add(self, group: str, names: Sequence[str], counts: Sequence[int]) -> int:
        """Number the pieces of a group; returns the first number."""
        first = len(self.all)
        self.all.extend((GROUPS.index(group), name, count) for name, count in zip(names, counts, strict=True))
        return first


def make_board(trip: Trip, candidates: Candidates, place: dict[int, int]) -> Board:
    """Number rigs rod by rod and list what each uses up; lines that did not converge are left out."""
    shelf, pieces = trip.shelf, _Pieces()
    stations = pieces.add("station", [s.name for s in trip.boat.stations], [1] * len(trip.boat.stations))
    marks = sorted({round(rig.mark, 1) for rig in candidates.rigs})
    mark_count = 1 if trip.wishes.one_line_a_mark else len(trip.outfits)
    first_mark = pieces.add("mark", [f"{mark} m" for mark in marks], [mark_count] * len(marks))
    weights = pieces.add("weight", [w.name for w in shelf.weights], [w.count for w in shelf.weights])
    shocks = pieces.add("shock leader", [s.name for s in shelf.shock_leaders], [s.count for s in shelf.shock_leaders])
    bites = pieces.add("bite leader", [b.name for b in shelf.bite_leaders], [b.count for b in shelf.bite_leaders])
    lures = pieces.add("lure", [each.name for each in shelf.lures], [each.count for each in shelf.lures])
    rows: list[tuple[int, int]] = []
    starts = [0]
    for rod in range(len(trip.outfits)):
        own = [i for i in candidates.of_rod(rod) if candidates.rigs[i].line in place]
        rows.extend((i, lure) for i in own for lure in candidates.rigs[i].lures)
        starts.append(len(rows))
    uses = [
        [stations + r.station, first_mark + marks.index(round(r.mark, 1)), weights + r.weight, shocks + r.shock,
         bites + r.bite, lures + lure]
        for r, lure in ((candidates.rigs[i], lure) for i, lure in rows)
    ]  # fmt: skip
    return Board(
        np.array(starts, dtype=np.int64), tuple(i for i, _ in rows), tuple(lure for _, lure in rows),
        np.array([place[candidates.rigs[i].line] for i, _ in rows], dtype=np.int64),
        np.array(uses, dtype=np.int64).reshape(len(rows), 6),
        np.array([count for _, _, count in pieces.all], dtype=np.int64),
        np.array([group for group, _, _ in pieces.all], dtype=np.int64), tuple(name for _, name, _ in pieces.all),
    )  # fmt: skip


def unlike(board: Board, candidates: Candidates, before: Sequence[Sequence[Candidate]], different: int) -> Board:
    """The board with a rule more for each spread of `before`: at least `different` rods fish another mark or weight.

    Each spread becomes a piece that rigs like its own use up, and of which there are too few for all of them.
    """
    kept = board.rods - different
    columns = [
        [1 if _alike(candidates.rigs[i], spread[candidates.rigs[i].rod]) else 0 for i in board.rigs]
        for spread in before
    ]  # fmt: skip
    first = len(board.names)
    extra = np.array(
        [np.where(np.array(column, dtype=bool), first + k, -1) for k, column in enumerate(columns)], dtype=np.int64
    ).reshape(len(before), len(board.rigs))
    return Board(
        board.starts, board.rigs, board.lures, board.lines, np.concatenate([board.uses, extra.T], axis=1),
        np.concatenate([board.limits, np.full(len(before), kept)]),
        np.concatenate([board.group, np.full(len(before), GROUPS.index("unlike"))]),
        (*board.names, *(f"spread {k + 1}" for k in range(len(before)))),
    )  # fmt: skip


def _alike(rig: Candidate, other: Candidate) -> bool:
    return rig.mark == other.mark and rig.weight == other.weight


def least_bought(board: Board) -> Whole:
    """How many pieces of each group must be bought whatever the spread (groups).

    As many as the group's whole stock falls short of the rods, or as rods that can fish one piece only (a lock) need.
    """
    spare = np.zeros(len(GROUPS), dtype=np.int64)
    for name in BOUGHT:
        group = GROUPS.index(name)
        column = [GROUPS[g] for g in board.group[board.uses[0]]].index(name)
        forced = np.zeros(len(board.limits), dtype=np.int64)
        for rod in range(board.rods):
            only = np.unique(board.uses[board.starts[rod] : board.starts[rod + 1], column])
            if len(only) == 1:
                forced[only[0]] += 1
        short = int(np.maximum(forced - board.limits, 0).sum())
        spare[group] = max(short, board.rods - int(board.limits[board.group == group].sum()), 0)
    return spare


def purchases(board: Board) -> Iterator[Whole]:
    """What may be bought (groups), the least first: what must be, then one piece more of one group, and so on."""
    least = least_bought(board)
    yield least
    groups = [GROUPS.index(name) for name in BOUGHT]
    for more in range(1, MOST_BOUGHT + 1):
        for chosen in combinations_with_replacement(groups, more):
            yield least + np.bincount(chosen, minlength=len(GROUPS))
    every = np.isin(np.arange(len(GROUPS)), groups).astype(np.int64)
    for times in range(1, board.rods + 1):
        yield least + times * every


def beyond_the_shelf(board: Board, rows: Sequence[int]) -> tuple[str, ...]:
    """Names of the pieces that a spread needs more of than there are, as often as one is short."""
    used = np.zeros(len(board.limits), dtype=np.int64)
    names = []
    for row in rows:
        for piece in board.uses[row]:
            if piece >= 0:
                used[piece] += 1
                if used[piece] > board.limits[piece]:
                    names.append(board.names[piece])
    return tuple(names)


def affordable(board: Board, spare: Whole, rows: Whole) -> bool:
    """Can the spread be made of what there is, and of what may be bought?"""
    pieces = board.uses[rows].ravel()
    used = np.bincount(pieces[pieces >= 0], minlength=len(board.limits))
    short = np.bincount(board.group, weights=np.maximum(used - board.limits, 0), minlength=len(GROUPS))
    return bool((short <= spare).all())
