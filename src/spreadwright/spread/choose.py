"""Choose the spread: first the widest smallest gap up to "enough", then coverage, then what the captain prefers.

Gaps start as upper bounds and are made exact only where a choice depends on them: the best spread under the bounds is
found, its gaps are computed in full, and where one falls short the search goes on with the better knowledge. When the
best under the bounds keeps its value in full, nothing can beat it: that is the proof, and its bound is shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.spread.branch import FOUND, NONE, best_spread
from spreadwright.spread.candidates import Candidate, Candidates
from spreadwright.spread.motions import Passage, Progress
from spreadwright.spread.pairs import PairGaps
from spreadwright.tackle.trip import Trip

STEP = 0.001  # [m] gaps are told apart to a millimetre
# Budgets are counted in work, not in seconds, so that the answer does not depend on the machine.
MOST_NODES = 400_000  # of one search
STARTS = 10  # of the climb for the gap, where the search could not settle it
COVER_STEP = 0.09  # coverage comes in tenths of a pair: a better spread is better by one
MOST_TRIALS = 300  # better spreads looked at in full for one move of the climb
MOST_SEARCHES = 400  # for the gap, and again for coverage
ALL_NODES = 1_000_000  # of all searches for one of the two
FULL_DISTANCE = 30.0  # [m] apart astern, two lines cover different water in full: assumed
FULL_DEPTH = 1.0  # [m] likewise in depth: assumed
COLOUR_SHARE = 0.02  # of the coverage of one pair, for a preferred colour: breaks ties, no more


@dataclass(frozen=True)
class Decision:
    """The spread chosen: a candidate a rod and its lure, the smallest gap [m], the bound on it, and how it went.

    bound: no spread of these candidates has a smallest gap above it (counted up to `enough`) [m]; proven: both gap and
    coverage are the best there is; coverage 0 to 1; nodes visited in the search.
    """

    rigs: tuple[int, ...]
    lures: tuple[int, ...]
    gap: float
    bound: float
    proven: bool
    coverage: float
    coverage_bound: float
    nodes: int
    bought: tuple[str, ...]


@dataclass(frozen=True)
class Board:
    """What the search works on, as plain arrays (see branch.best_spread)."""

    starts: NDArray[np.int64]
    rigs: tuple[int, ...]
    lines: NDArray[np.int64]
    uses: NDArray[np.int64]
    limits: NDArray[np.int64]
    group: NDArray[np.int64]
    names: tuple[str, ...]


GROUPS = ("station", "mark", "weight", "shock leader", "bite leader", "lure")


def make_board(trip: Trip, candidates: Candidates, place: dict[int, int]) -> Board:
    """Number candidates rod by rod and list what each uses up; lines that did not converge are left out."""
    shelf = trip.shelf
    pieces: list[tuple[int, str, int]] = []  # group, name, how many there are

    def add(group: int, names: Sequence[str], counts: Sequence[int]) -> int:
        first = len(pieces)
        pieces.extend((group, name, count) for name, count in zip(names, counts, strict=True))
        return first

    stations = add(0, [s.name for s in trip.boat.stations], [1] * len(trip.boat.stations))
    marks = sorted({round(rig.mark, 1) for rig in candidates.rigs})
    mark_count = 1 if trip.wishes.one_line_a_mark else len(trip.outfits)
    first_mark = add(1, [f"{mark} m" for mark in marks], [mark_count] * len(marks))
    weights = add(2, [w.name for w in shelf.weights], [w.count for w in shelf.weights])
    shocks = add(3, [s.name for s in shelf.shock_leaders], [s.count for s in shelf.shock_leaders])
    bites = add(4, [b.name for b in shelf.bite_leaders], [b.count for b in shelf.bite_leaders])
    kind_counts = [sum(shelf.lures[i].count for i in kind) for kind in candidates.kinds]
    kinds = add(5, [shelf.lures[kind[0]].name for kind in candidates.kinds], kind_counts)
    chosen: list[int] = []
    starts = [0]
    for rod in range(len(trip.outfits)):
        chosen.extend(i for i in candidates.of_rod(rod) if candidates.rigs[i].line in place)
        starts.append(len(chosen))
    rigs = [candidates.rigs[i] for i in chosen]
    uses = np.array(
        [
            [stations + r.station, first_mark + marks.index(round(r.mark, 1)), weights + r.weight, shocks + r.shock,
             bites + r.bite, kinds + r.kind]
            for r in rigs
        ],
        dtype=np.int64,
    ).reshape(len(rigs), 6)  # fmt: skip
    return Board(
        np.array(starts, dtype=np.int64), tuple(chosen), np.array([place[r.line] for r in rigs], dtype=np.int64), uses,
        np.array([count for _, _, count in pieces], dtype=np.int64),
        np.array([group for group, _, _ in pieces], dtype=np.int64), tuple(name for _, name, _ in pieces),
    )  # fmt: skip


def spare_pieces(board: Board, rods: int) -> NDArray[np.int64]:
    """How many pieces of each group must be bought so that every rod can fish at all: never of stations or marks."""
    spare = np.zeros(len(GROUPS), dtype=np.int64)
    for group in range(2, len(GROUPS)):
        spare[group] = max(0, rods - int(board.limits[board.group == group].sum()))
    return spare


def pair_scores(passages: Sequence[Passage]) -> NDArray[np.float32]:
    """How much different water each pair of lines covers: 1 when 30 m apart astern and 1 m in depth."""
    astern = np.array([p.astern for p in passages])
    depth = np.array([float(p.depths[0, -1]) for p in passages])
    far = _steps(np.abs(astern[:, None] - astern[None, :]) / FULL_DISTANCE)
    deep = _steps(np.abs(depth[:, None] - depth[None, :]) / FULL_DEPTH)
    return (0.5 * (far + deep)).astype(np.float32)


def _steps(share: NDArray[np.float64]) -> NDArray[np.float64]:
    """Shares up to 1 counted in fifths: finer differences are no better water, and ties end the search sooner."""
    return np.floor(5.0 * np.minimum(share, 1.0) + 1e-6) / 5.0


def preferences(trip: Trip, candidates: Candidates, board: Board) -> NDArray[np.float32]:
    """A small bonus for rigs whose lure has a colour the captain prefers, more for the first named."""
    liked = trip.wishes.preferred_colours
    bonus = np.zeros(len(board.rigs), dtype=np.float32)
    for i, rig in enumerate(board.rigs):
        best = max((_liking(trip, lure, liked) for lure in candidates.rigs[rig].lures), default=0.0)
        bonus[i] = COLOUR_SHARE * best
    return bonus


def _liking(trip: Trip, lure: int, liked: Sequence[str]) -> float:
    colours = trip.shelf.lures[lure].colours
    return sum((len(liked) - i) / len(liked) for i, colour in enumerate(liked) if colour in colours)


class Chooser:
    """Searches one board; keeps what it learns about gaps for later questions."""

    def __init__(
        self, trip: Trip, candidates: Candidates, passages: Sequence[Passage | None], gaps: PairGaps,
        place: dict[int, int], enough: float, progress: Progress | None = None,
    ) -> None:  # fmt: skip
        """`place` gives a candidate's line its number among the lines that run, as `gaps` counts them."""
        self.trip, self.candidates, self.gaps = trip, candidates, gaps
        self.board = make_board(trip, candidates, place)
        self.enough = enough
        self.scores = pair_scores([passage for passage in passages if passage is not None])
        self.bonus = preferences(trip, candidates, self.board)
        self.progress = progress
        self.nodes = 0
        self.gave_up = False

    def choose(self) -> Decision | str:
        """The best spread, or a sentence that says why there is none."""
        rods = len(self.trip.outfits)
        for rod in range(rods):
            if self.board.starts[rod] == self.board.starts[rod + 1]:
                return f"no rig is left for rod {self.trip.outfits[rod].name}: loosen what is fixed, banned or refused"
        spare = spare_pieces(self.board, rods)
        for _ in range(4 * rods):
            widest = self._widest(spare)
            if widest is not None:
                break
            spare = spare + (np.arange(len(GROUPS)) >= 2)  # locks may need more than one of a piece
        else:
            return "no spread fits the stations, marks and locks: free a station or a lock"
        chosen, gap, bound = widest
        least = min(gap, self.enough) - STEP
        covered, coverage, coverage_bound = self._cover(spare, least, chosen)
        return self._decision(covered, bound, coverage, coverage_bound)

    def _search(
        self, spare: NDArray[np.int64], least: float, score: NDArray[np.float32], own: NDArray[np.float32],
        beat: float, step: float = 0.0, any_will_do: bool = False,
    ) -> tuple[int, float, NDArray[np.int64]]:  # fmt: skip
        board = self.board
        chosen = np.full(len(board.starts) - 1, -1, dtype=np.int64)
        state, value, nodes = best_spread(
            board.starts, self.gaps.upper, board.lines, least, score, own, board.uses, board.limits, spare,
            board.group, beat, step, MOST_NODES, any_will_do, chosen,
        )  # fmt: skip
        self.nodes += int(nodes)
        return int(state), float(value), chosen

    def _widest(self, spare: NDArray[np.int64]) -> tuple[NDArray[np.int64], float, float] | None:
        """The spread with the widest smallest gap, that gap, and the bound that proves it."""
        none = np.zeros(len(self.board.rigs), dtype=np.float32)
        state, _, chosen = self._search(spare, -1.0, self.gaps.upper, none, -np.inf, any_will_do=True)
        if chosen.min() < 0:
            return None
        best, low = chosen, self._smallest(chosen)
        high, wish, start = self.enough, self.enough - 0.5 * STEP, self.nodes
        for _ in range(MOST_SEARCHES):
            if high - low <= STEP or self.nodes - start > ALL_NODES:
                break
            wish = max(wish, low + STEP)
            state, _, chosen = self._search(spare, wish, self.gaps.upper, none, -np.inf, any_will_do=True)
            if chosen.min() >= 0:
                gap = self._smallest(chosen, low)
                if gap > low:
                    best, low = chosen, gap
                    self._tell("widening the smallest gap", low)
                    wish = wish if wish > low + STEP else 0.5 * (low + high)
            elif state == NONE:
                high = wish
                wish = 0.5 * (low + high)
            else:  # too hard to tell at this gap: ask for less, and own up to it
                self.gave_up = True
                wish = 0.5 * (low + wish)
                if wish - low <= STEP:
                    break
        best = self._widen(spare, best)
        if high - self._smallest(best) > STEP:
            best = self._restart(spare, best)
        best_gap = self._smallest(best)
        self.gave_up = self.gave_up or high - best_gap > STEP
        return best, best_gap, max(high, best_gap)

    def _restart(self, spare: NDArray[np.int64], best: NDArray[np.int64]) -> NDArray[np.int64]:
        """Widen from a number of unlike starts as well, always the same ones, and keep the widest."""
        random = np.random.Generator(np.random.PCG64(11))
        none = np.zeros(len(self.board.rigs), dtype=np.float32)
        for _ in range(STARTS):
            wild = random.random(self.scores.shape, dtype=np.float32)
            least = 0.8 * self._smallest(best)
            _, _, chosen = self._search(spare, least, wild, none, -np.inf, any_will_do=True)
            if chosen.min() >= 0:
                wider = self._widen(spare, chosen)
                best = wider if self._smallest(wider) > self._smallest(best) else best
        return best

    def _widen(self, spare: NDArray[np.int64], start: NDArray[np.int64]) -> NDArray[np.int64]:
        """Change one rod at a time as long as the smallest gap grows: the rods of the tightest pair first."""
        best = start.copy()
        better = True
        while better:
            better = False
            gap, tight = self._tightest(best)
            if gap >= self.enough:
                break
            for rod in [*tight, *(r for r in range(len(best)) if r not in tight)]:
                trial = self._wider(spare, best, rod, gap)
                if trial is not None:
                    best, better = trial, True
                    break
        return best

    def _wider(
        self, spare: NDArray[np.int64], chosen: NDArray[np.int64], rod: int, gap: float
    ) -> NDArray[np.int64] | None:
        """The spread with another rig on one rod and a wider smallest gap, or None."""
        others = self.board.lines[np.delete(chosen, rod)]
        rest = min((self._pair(a, b) for i, a in enumerate(others) for b in others[:i]), default=self.enough)
        if rest <= gap + STEP:
            return None
        own = np.arange(self.board.starts[rod], self.board.starts[rod + 1])
        bound = self.gaps.upper[np.ix_(self.board.lines[own], others)].min(axis=1)
        best, best_gap = None, gap + STEP
        for i in np.argsort(-bound, kind="stable"):
            if bound[i] <= best_gap:
                break
            trial = chosen.copy()
            trial[rod] = own[i]
            if self._affordable(spare, trial):
                found = min(self._pair(self.board.lines[own[i]], other, best_gap) for other in others)
                if min(found, rest) > best_gap:
                    best, best_gap = trial, min(found, rest)
        return best

    def _pair(self, a: int, b: int, floor: float = -1.0) -> float:
        return self.gaps.gap(int(a), int(b), floor)

    def _tightest(self, chosen: NDArray[np.int64]) -> tuple[float, tuple[int, int]]:
        lines = self.board.lines[chosen]
        gap, tight = self.enough, (0, 0)
        for i in range(len(lines)):
            for j in range(i):
                found = self._pair(lines[i], lines[j])
                if found < gap:
                    gap, tight = found, (i, j)
        return gap, tight

    def _cover(
        self, spare: NDArray[np.int64], least: float, start: NDArray[np.int64]
    ) -> tuple[NDArray[np.int64], float, float]:
        """Among spreads that keep the gap, the one that covers most; with the bound that the search proved."""
        best = self._climb(spare, least, start)
        value = self._covered(best)
        most = 0.5 * len(start) * (len(start) - 1)
        none = np.zeros(len(self.board.rigs), dtype=np.float32)
        begun = self.nodes
        for _ in range(MOST_SEARCHES):
            if self.nodes - begun > ALL_NODES or not self._tell("covering distance and depth", value):
                break
            state, found, chosen = self._search(spare, least, self.scores, none, value, COVER_STEP)
            if state == NONE:
                best = self._climb(spare, least, best)
                return best, self._covered(best), self._covered(best)
            if state == FOUND:
                most = min(most, found)
            if chosen.min() >= 0 and self._smallest(chosen, least) >= least:
                best, value = chosen, self._covered(chosen)
        self.gave_up = True
        best = self._climb(spare, least, best)
        return best, self._covered(best), most

    def _climb(self, spare: NDArray[np.int64], least: float, start: NDArray[np.int64]) -> NDArray[np.int64]:
        """Change one rod, or two at once, for the better until no change helps: a good start for the search."""
        best, value = start.copy(), self._value(start)
        rods = range(len(best))
        better = True
        while better:
            better = False
            for changed in [*((rod,) for rod in rods), *((q, r) for q in rods for r in range(q))]:
                for trial, gain in self._moves(best, changed, least):
                    if gain <= value + 1e-4:
                        break
                    if self._affordable(spare, trial) and self._smallest(trial, least) >= least:
                        best, value, better = trial, gain, True
                        break
        return best

    def _moves(
        self, chosen: NDArray[np.int64], changed: tuple[int, ...], least: float
    ) -> Iterator[tuple[NDArray[np.int64], float]]:
        """Spreads with other rigs on the changed rods whose bounds keep the gap, and their values, best first."""
        kept = self.board.lines[np.delete(chosen, changed)]
        rest = np.triu(self.scores[np.ix_(kept, kept)], 1).sum() + self.bonus[np.delete(chosen, changed)].sum()
        own, gains = [], []
        for rod in changed:
            every = np.arange(self.board.starts[rod], self.board.starts[rod + 1])
            lines = self.board.lines[every]
            fits = (self.gaps.upper[np.ix_(lines, kept)] >= least).all(axis=1)
            own.append(every[fits])
            gains.append((self.scores[np.ix_(lines, kept)].sum(axis=1) + self.bonus[every])[fits])
        if len(changed) == 1:
            values = gains[0] + rest
        else:
            a, b = (self.board.lines[each] for each in own)
            both = gains[0][:, None] + gains[1][None, :] + self.scores[np.ix_(a, b)] + rest
            values = np.where(self.gaps.upper[np.ix_(a, b)] >= least, both, -np.inf).ravel()
        for i in np.argsort(-values, kind="stable")[:MOST_TRIALS]:
            trial = chosen.copy()
            trial[changed[0]] = own[0][i if len(changed) == 1 else i // len(own[1])]
            if len(changed) == 2:
                trial[changed[1]] = own[1][i % len(own[1])]
            yield trial, float(values[i])

    def _affordable(self, spare: NDArray[np.int64], chosen: NDArray[np.int64]) -> bool:
        used = np.bincount(self.board.uses[chosen].ravel(), minlength=len(self.board.limits))
        over = np.maximum(used - self.board.limits, 0)
        short = np.bincount(self.board.group, weights=over, minlength=len(GROUPS))
        return bool((short <= spare).all())

    def _covered(self, chosen: NDArray[np.int64]) -> float:
        """Coverage of a spread, a point a pair at most."""
        lines = self.board.lines[chosen]
        return float(np.triu(self.scores[np.ix_(lines, lines)], 1).sum())

    def _value(self, chosen: NDArray[np.int64]) -> float:
        lines = self.board.lines[chosen]
        pairs = self.scores[np.ix_(lines, lines)]
        return float(np.triu(pairs, 1).sum() + self.bonus[chosen].sum())

    def _smallest(self, chosen: NDArray[np.int64], floor: float = -1.0) -> float:
        """The spread's smallest gap in full [m], or an upper bound under `floor`."""
        lines = self.board.lines[chosen]
        smallest = self.enough
        for i in range(len(lines)):
            for j in range(i):
                smallest = min(smallest, self.gaps.gap(int(lines[i]), int(lines[j]), floor))
        return smallest

    def _tell(self, what: str, value: float) -> bool:
        """Report progress; False when the captain asked to stop."""
        return self.progress is None or self.progress(what, int(1000 * value), 0)

    def _decision(self, chosen: NDArray[np.int64], bound: float, coverage: float, coverage_bound: float) -> Decision:
        rigs = [self.board.rigs[c] for c in chosen]
        most = max(len(rigs) * (len(rigs) - 1) / 2.0, 1.0)
        used = np.zeros(len(self.board.limits), dtype=np.int64)
        bought: list[str] = []
        for c in chosen:
            for piece in self.board.uses[c]:
                used[piece] += 1
                if used[piece] > self.board.limits[piece]:
                    bought.append(self.board.names[piece])
        return Decision(
            tuple(rigs), pick_lures(self.trip, [self.candidates.rigs[r] for r in rigs]), self._smallest(chosen), bound,
            not self.gave_up, coverage / most, coverage_bound / most, self.nodes, tuple(bought),
        )  # fmt: skip


def pick_lures(trip: Trip, rigs: Sequence[Candidate]) -> tuple[int, ...]:
    """A lure for every rig from those of its kind: as many on the shelf as can be, the preferred colours first."""
    from scipy.optimize import linear_sum_assignment

    slots = [lure for lure, piece in enumerate(trip.shelf.lures) for _ in range(max(piece.count, 1))]
    slots += [lure for lure, _ in enumerate(trip.shelf.lures)] * len(rigs)  # beyond the shelf: bought
    owned = sum(max(piece.count, 1) for piece in trip.shelf.lures)
    liked = trip.wishes.preferred_colours
    cost = np.full((len(rigs), len(slots)), 1e6)
    for i, rig in enumerate(rigs):
        for j, lure in enumerate(slots):
            if lure in rig.lures:
                cost[i, j] = (1e3 if j >= owned else 0.0) - _liking(trip, lure, liked)
    _, columns = linear_sum_assignment(cost)
    return tuple(slots[j] for j in columns)
