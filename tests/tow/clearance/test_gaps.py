"""Smallest gaps against brute force: no bound passes anything over, and nothing hides between the stored times."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.tow.clearance.chains import Floats, chain_of, gear_or_line

from spreadwright.tow.clearance.gaps import TOLERANCE, Gap, gear_gap, line_gap
from spreadwright.tow.clearance.outline import BLOCK, Outline

SINGLE = 1e-4  # [m] what single precision may lose
LOOKS = 129  # times at which brute force looks at every interval


@st.composite
def chains(draw: st.DrawFn, times: int) -> Outline:
    """A chain over time, made to break bounds: straight, coiled, folded back on itself, bent in one place, or noise."""
    count = draw(st.sampled_from([2, 3, BLOCK, BLOCK + 1, 2 * BLOCK + 3, 31]))
    random = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    along = np.linspace(0.0, 1.0, count)[:, None]
    size = draw(st.sampled_from([0.5, 5.0, 60.0]))
    kind = draw(st.sampled_from(["straight", "coil", "folded", "hook", "noise"]))
    shape = size * along * np.array([-1.0, 0.0, 0.0])
    if kind == "coil":
        turns = 40.0 * along
        shape = shape + 0.1 * size * np.concatenate([0.0 * turns, np.cos(turns), np.sin(turns)], axis=1)
    elif kind == "folded":
        shape = size * np.concatenate([np.abs(along - 0.5), 0.02 * along, 0.0 * along], axis=1)
    elif kind == "hook":
        shape[int(random.integers(count))] += random.normal(0.0, size, 3)
    elif kind == "noise":
        shape = random.normal(0.0, size, (count, 3))
    moving = np.cumsum(random.normal(0.0, draw(st.sampled_from([0.0, 0.3, 6.0])), (times, 1, 3)), axis=0)
    waving = random.normal(0.0, draw(st.sampled_from([0.0, 0.5, 3.0])), (times, count, 3))
    start = random.normal(0.0, draw(st.sampled_from([0.1, 2.0, 20.0])), 3)
    return chain_of(start + shape[None] + moving + waving, draw(st.integers(0, count - 2)))


def gap_of(a: Outline, b: Outline, whole: bool) -> Gap:
    return line_gap(a, b) if whole else gear_gap(a, b)


@settings(deadline=None, max_examples=300)
@given(chains(1), chains(1), st.booleans())
def test_at_one_time_the_gap_is_that_of_brute_force(a: Outline, b: Outline, whole: bool) -> None:
    assert gap_of(a, b, whole).distance == pytest.approx(gear_or_line(a, b, 0, 0.0, whole), abs=SINGLE)


@settings(deadline=None, max_examples=150)
@given(st.integers(2, 5).flatmap(lambda times: st.tuples(chains(times), chains(times))), st.booleans())
def test_nothing_hides_between_the_stored_times(pair: tuple[Outline, Outline], whole: bool) -> None:
    """Vertices go straight between stored times; brute force looks a hundred times as often."""
    a, b = pair
    found = gap_of(a, b, whole)
    least = min(
        gear_or_line(a, b, i, share, whole) for i in range(len(a.times) - 1) for share in np.linspace(0.0, 1.0, LOOKS)
    )
    reach = max(float(np.linalg.norm(np.diff(each.vertices, axis=0), axis=-1).max()) for each in pair)
    assert found.distance <= least + TOLERANCE + SINGLE
    assert found.distance >= least - 2.0 * reach / (LOOKS - 1) - SINGLE  # and it is a distance that there is
    at = int(min(found.time, len(a.times) - 1.001))
    assert gear_or_line(a, b, at, found.time - at, whole) == pytest.approx(found.distance, abs=SINGLE + 1e-4 * reach)


def moving(path: Floats, vertices: Floats, gear: int = 0) -> Outline:
    return chain_of(path[:, None, :] + vertices[None], gear)


def test_a_pass_between_two_stored_times_is_found() -> None:
    """Two lines square to each other, 0.2 m apart in height: one jumps 40 m over the other in one interval."""
    still = moving(np.zeros((2, 3)), np.array([[-5.0, 0.0, 0.0], [0.0, 0.0, 0.0], [5.0, 0.0, 0.0]]))
    jump = moving(
        np.array([[0.3, -13.0, 0.2], [0.3, 27.0, 0.2]]), np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 0.0], [0.0, -1.0, 0.0]])
    )
    found = line_gap(still, jump)
    assert found.distance == pytest.approx(0.2, abs=TOLERANCE)
    assert 0.3 < found.time < 0.35  # 12 to 14 m of 40 m


@pytest.mark.parametrize("where", [0.30, 0.375, 0.45])
def test_a_vertex_that_slides_along_its_turning_block_is_not_lost(where: float) -> None:
    """A block turns by a right angle about its middle while its inner vertex runs from end to end.

    At both stored times the three lie in line; in between, the inner one is up to 1.4 m off the chord.
    """
    before = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 0.0], [4.0, 0.0, 0.0]])
    after = np.array([[2.0, -2.0, 0.0], [2.0, 2.0, 0.0], [2.0, 2.0, 0.0]])
    turning = chain_of(np.array([before, after]), 0)
    near = where * np.array([2.0, 2.0, 0.0]) + np.array([-0.05, 0.05, 0.0])
    pin = moving(np.zeros((2, 3)), near + np.array([[0.0, 0.0, 0.0], [-0.02, 0.02, 0.0]]))
    least = min(gear_or_line(turning, pin, 0, share, True) for share in np.linspace(0.0, 1.0, 2001))
    assert least == pytest.approx(0.05 * math.sqrt(2.0), abs=1e-3)
    assert line_gap(turning, pin).distance == pytest.approx(least, abs=TOLERANCE + SINGLE)


def test_only_gear_counts_for_the_gear_s_gap() -> None:
    """Bare lines 0.1 m apart near the tips, their gear going apart from where both are 10 m astern."""
    a = moving(np.zeros((1, 3)), np.array([[0.0, 0.0, 0.0], [-10.0, 0.0, 0.0], [-20.0, -2.0, 0.0]]), gear=1)
    b = moving(np.zeros((1, 3)), np.array([[0.0, 0.1, 0.0], [-10.0, 0.1, 0.0], [-12.0, 3.0, 0.0]]), gear=1)
    assert line_gap(a, b).distance == pytest.approx(0.1, abs=SINGLE)
    assert gear_gap(a, b).distance == pytest.approx(gear_or_line(a, b, 0, 0.0, False), abs=SINGLE)
    assert gear_gap(a, b).distance == pytest.approx(gear_gap(b, a).distance, abs=SINGLE)


@settings(deadline=None, max_examples=100)
@given(st.integers(1, 4).flatmap(lambda times: st.tuples(chains(times), chains(times))), st.floats(0.0, 5.0))
def test_enough_and_floor_shorten_the_search_and_nothing_else(pair: tuple[Outline, Outline], bound: float) -> None:
    a, b = pair
    full = gear_gap(a, b).distance
    capped = gear_gap(a, b, enough=bound).distance
    assert capped == pytest.approx(min(full, bound), abs=2.0 * TOLERANCE + SINGLE)
    early = gear_gap(a, b, floor=bound).distance
    if full >= bound + 2.0 * TOLERANCE:
        assert early == pytest.approx(full, abs=2.0 * TOLERANCE + SINGLE)
    elif full < bound - 2.0 * TOLERANCE:
        assert early < bound


def test_a_bent_path_is_told_as_doubt() -> None:
    """A point on a circle of 2 m, stored every 0.1 rad: its path bows by r (1 - cos 0.05) = 2.5 mm."""
    angle = 0.1 * np.arange(20)
    path = 2.0 * np.stack([np.cos(angle), np.sin(angle), 0.0 * angle], axis=1)
    round_and_round = moving(path, np.zeros((2, 3)))
    fixed = moving(np.zeros((20, 3)), np.zeros((2, 3)))
    found = gear_gap(round_and_round, fixed)
    assert found.doubt == pytest.approx(2.0 * (1.0 - math.cos(0.05)) + TOLERANCE, rel=0.02)
    assert found.distance == pytest.approx(2.0 * math.cos(0.05), abs=TOLERANCE)  # the chords cut the corner


def test_what_both_do_alike_brings_them_no_nearer() -> None:
    """Two points on circles one above the other keep their distance: only the tolerance is left as doubt."""
    angle = 0.1 * np.arange(20)

    path = 2.0 * np.stack([np.cos(angle), np.sin(angle), 0.0 * angle], axis=1)
    found = gear_gap(moving(path, np.zeros((2, 3))), moving(path, np.zeros((2, 3)) + np.array([0.0, 0.0, 1.0])))
    assert found.distance == pytest.approx(1.0, abs=TOLERANCE)
    assert found.doubt <= TOLERANCE + SINGLE


def test_a_bend_far_from_the_other_line_is_no_doubt() -> None:
    """A path that runs straight off from 1 m away and shakes by a metre once it is 8 m away."""
    across = 1.0 + 0.5 * np.arange(20)
    across[15:] += np.array([1.0, -1.0, 1.0, -1.0, 1.0])
    path, fixed = np.outer(across, [0.0, 1.0, 0.0]), np.zeros((20, 3))
    shaken = gear_gap(moving(path, np.zeros((2, 3))), moving(fixed, np.zeros((2, 3))))
    assert shaken.distance == pytest.approx(1.0, abs=TOLERANCE)
    assert shaken.doubt <= TOLERANCE + SINGLE
