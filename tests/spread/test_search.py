"""The tree of the search on made-up boards: against brute force on small ones, against HiGHS on large ones."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from spreadwright.spread.branch import FOUND, GAVE_UP, NONE, Problem, Tree

STEP = 1e-6  # what is better by this is told apart


def board(seed: int, rods: int, each: int, pieces: int = 4, spare: int = 0, coarse: bool = True) -> Problem:
    """A random problem: gaps of 0 to 4 m, scores of 0, 0.5 or 1 a pair, pieces of which there are one or two."""
    random, count = np.random.default_rng(seed), rods * each
    gaps = random.uniform(0.0, 4.0, (count, count)).astype(np.float32)
    score = random.integers(0, 3, (count, count)) * 0.5 if coarse else random.uniform(0.0, 1.0, (count, count))
    upper = np.triu(np.ones((count, count), dtype=bool))
    gaps, score = np.where(upper, gaps, gaps.T), np.where(upper, score, score.T).astype(np.float32)
    return Problem(
        np.arange(0, count + 1, each), np.arange(count), gaps, score, random.integers(0, pieces, (count, 1)),
        random.integers(1, 3, pieces), random.uniform(0.0, 1.0, pieces), np.zeros(pieces, dtype=np.int64),
        np.array([spare]),
    )  # fmt: skip


def affordable(problem: Problem, chosen: tuple[int, ...]) -> bool:
    used = np.bincount(problem.uses[list(chosen)].ravel(), minlength=len(problem.limits))
    return bool(np.maximum(used - problem.limits, 0).sum() <= problem.spare[0])


def worth(problem: Problem, chosen: tuple[int, ...]) -> float:
    return sum(float(problem.score[a, b]) for a, b in combinations(chosen, 2))


def liked(problem: Problem, chosen: tuple[int, ...]) -> float:
    return float(problem.liked[problem.uses[list(chosen)]].sum())


def every_spread(problem: Problem, least: float) -> dict[tuple[int, ...], tuple[float, float]]:
    """All spreads that keep the gap and the counts, with their worth and how well their pieces are liked."""
    own = [range(a, b) for a, b in zip(problem.starts[:-1], problem.starts[1:], strict=True)]
    return {
        chosen: (worth(problem, chosen), liked(problem, chosen))
        for chosen in product(*own)
        if all(problem.gaps[a, b] >= least for a, b in combinations(chosen, 2)) and affordable(problem, chosen)
    }


def best_of(every: dict[tuple[int, ...], tuple[float, float]]) -> tuple[float, float]:
    """The most worth, and the most liking among those that have it; -inf where there is none."""
    most = max((value for value, _ in every.values()), default=-np.inf)
    return most, max((fond for value, fond in every.values() if value >= most - 1e-5), default=-np.inf)


def best(problem: Problem, least: float) -> tuple[float, float, tuple[int, ...]]:
    """The best spread as the tree finds it: its worth, then its liking; -inf where it says there is none."""
    held: tuple[int, ...] = ()
    tree = Tree(problem, least)
    while (found := tree.next(worth(problem, held) + STEP if held else -1e20, -1e20, 10**7))[0] == FOUND:
        assert not held or worth(problem, tuple(found[1])) > worth(problem, held)
        held = tuple(found[1].tolist())
    assert found[0] == NONE
    if not held:
        return -np.inf, -np.inf, held
    most, tree = worth(problem, held), Tree(problem, least)
    while (found := tree.next(most - STEP, liked(problem, held) + STEP, 10**7))[0] == FOUND:
        held = tuple(found[1].tolist())
    assert found[0] == NONE
    return most, liked(problem, held), held


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 4), st.integers(1, 5), st.floats(0.0, 3.5), st.integers(0, 2))
def test_nothing_beats_what_the_tree_ends_with(seed: int, rods: int, each: int, least: float, spare: int) -> None:
    problem = board(seed, rods, each, spare=spare)
    every = every_spread(problem, least)
    value, fond, chosen = best(problem, least)
    assert (value, fond) == pytest.approx(best_of(every), abs=1e-4)
    if every:
        assert every[chosen] == pytest.approx((value, fond), abs=1e-4)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.0, 2.5))
def test_nor_where_scores_are_many_and_have_to_be_rounded_up(seed: int, least: float) -> None:
    problem = board(seed, 4, 5, spare=1, coarse=False)
    value, fond, _ = best(problem, least)
    assert (value, fond) == pytest.approx(best_of(every_spread(problem, least)), abs=1e-4)


def test_boards_that_need_more_than_one_word_of_bits_and_more_purchases() -> None:
    """70 candidates a rod: against all pairs."""
    problem = board(8, 2, 70, pieces=5, spare=1)
    value, fond, _ = best(problem, 2.0)
    assert (value, fond) == pytest.approx(best_of(every_spread(problem, 2.0)), abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.5, 2.5))
def test_a_gap_that_turns_out_smaller_is_dropped_and_the_search_goes_on(seed: int, least: float) -> None:
    """The bounds shrink while the tree rests, as the exact gaps become known: the end is that of the exact gaps."""
    problem = board(seed, 4, 5)
    exact = problem.gaps * np.random.default_rng(seed + 1).uniform(0.6, 1.0, problem.gaps.shape).astype(np.float32)
    exact = np.minimum(exact, exact.T)
    loose = replace(problem, gaps=problem.gaps.copy())
    tree, value = Tree(loose, least), -1e20
    while True:
        state, chosen = tree.next(value + STEP, -1e20, 10_000_000)
        if state != FOUND:
            break
        found = worth(problem, tuple(chosen))
        pairs = list(combinations(chosen.tolist(), 2))
        if all(exact[a, b] >= least for a, b in pairs):
            value = found
        for a, b in pairs:
            loose.gaps[a, b] = loose.gaps[b, a] = exact[a, b]
    true = max(best_of(every_spread(replace(problem, gaps=exact), least))[0], -1e20)
    assert value == pytest.approx(true, abs=1e-5)


def test_a_search_that_is_cut_short_says_so_and_goes_on_where_it_was() -> None:
    problem = board(5, 6, 12, pieces=8, spare=2, coarse=False)
    whole, _, _ = best(problem, 0.8)
    tree, value, cuts = Tree(problem, 0.8), -1e20, 0
    while True:
        state, chosen = tree.next(value + STEP, -1e20, 3)
        if state == NONE:
            break
        cuts += state == GAVE_UP
        value = worth(problem, tuple(chosen)) if state == FOUND else value
    assert cuts > 3
    assert value == pytest.approx(whole, abs=1e-6)
    assert tree.bound() >= whole


def by_highs(problem: Problem, least: float) -> tuple[float, float]:
    """The best worth, then the best liking with it, by mixed-integer programming (HiGHS in SciPy), solved twice."""
    most = solve_by_highs(problem, least, None) if problem.score.any() else 0.0
    return most, (solve_by_highs(problem, least, most) if np.isfinite(most) else -np.inf)


def solve_by_highs(problem: Problem, least: float, most: float | None) -> float:
    """Most worth, or with `most` given the most liking at that worth: a variable a candidate, one a fitting pair.

    The pairs of a candidate with each other rod add up to the candidate: so a pair is taken where both its ends are.
    """
    count, rods = len(problem.lines), len(problem.starts) - 1
    rod = np.repeat(np.arange(rods), np.diff(problem.starts))
    pairs = [
        (a, b) for a, b in combinations(range(count), 2) if rod[a] != rod[b] and problem.gaps[a, b] >= least
    ]  # fmt: skip
    scores = [0.0] * count + [float(problem.score[a, b]) for a, b in pairs]
    likings = [float(problem.liked[piece]) for piece in problem.uses[:, 0]] + [0.0] * len(pairs)
    cost = [-each for each in (scores if most is None else likings)]
    rules: dict[tuple[int, int], list[tuple[int, float]]] = {
        (c, r): [(c, -1.0)] for c in range(count) for r in range(rods) if r != rod[c]
    }
    for k, (a, b) in enumerate(pairs):
        rules[a, int(rod[b])].append((count + k, 1.0))
        rules[b, int(rod[a])].append((count + k, 1.0))
    rows = [(parts, 0.0, 0.0) for parts in rules.values()]
    rows += [([(c, 1.0) for c in range(count) if rod[c] == r], 1.0, 1.0) for r in range(rods)]
    for piece, limit in enumerate(problem.limits):
        rows.append(([(c, 1.0) for c in range(count) if problem.uses[c, 0] == piece], 0.0, float(limit)))
    if most:
        rows.append(([(k, each) for k, each in enumerate(scores) if each], most - 1e-5, np.inf))
    entries = [(at, column, factor) for at, (parts, _, _) in enumerate(rows) for column, factor in parts]
    places, columns, factors = (np.array(each) for each in zip(*entries, strict=True))
    matrix = coo_array((factors, (places, columns)), shape=(len(rows), len(cost))).tocsr()
    found = milp(
        cost, constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
        bounds=Bounds(0, 1), integrality=(np.arange(len(cost)) < count).astype(int),
        options={"mip_rel_gap": 0.0, "time_limit": 100.0},
    )  # fmt: skip
    assert found.status in (0, 2), found.message  # solved, or there is no spread
    return -float(found.fun) if found.status == 0 else -np.inf


@pytest.mark.parametrize(
    ("seed", "rods", "each", "least", "scored"),
    [(1, 6, 40, 2.0, False), (2, 6, 24, 2.3, False), (3, 4, 12, 1.5, True), (4, 5, 8, 1.2, True)],
)
def test_highs_finds_the_same_best_on_larger_boards(
    seed: int, rods: int, each: int, least: float, scored: bool
) -> None:
    """Up to 240 candidates where each is worth something alone; smaller boards where pairs count as well."""
    problem = board(seed, rods, each, pieces=8)
    if not scored:
        problem = replace(problem, score=np.zeros_like(problem.score))
    value, fond, _ = best(problem, least)
    assert (value, fond) == pytest.approx(by_highs(problem, least), abs=1e-4)
