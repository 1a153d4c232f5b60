"""Every pair of lines of the demo's plan: gaps computed again by plain arithmetic, and the worst pair named truly."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
from tests.plan.demo import Demo
from tests.plan.polylines import gear_to_line, line_to_line
from tests.plan.test_demo_rods import towed

from spreadwright.plan.value import PairPlan
from spreadwright.spread.motions import SHOWN, Passage, passages, track_of
from spreadwright.tow.line import Sea

EVERY = 6  # stored times passed over between two looks: 0.6 s


@pytest.fixture(scope="module")
def runs(demo: Demo) -> dict[str, Passage]:
    """The chosen rigs through the S-turn, as fine as the plan shows them."""
    trip = demo.trip
    rigs = [towed(trip, rod) for rod in demo.plan.rods]
    found = passages(rigs, track_of(trip.pattern), Sea(density=trip.water.density), SHOWN)
    assert all(isinstance(each, Passage) for each in found)
    return {rod.rod: each for rod, each in zip(demo.plan.rods, found, strict=True) if isinstance(each, Passage)}


def between(a: Passage, b: Passage, time: float, whole: bool) -> float:
    """Gap of two lines at one time, vertices taken straight between stored times [m]."""
    times = a.outline.times
    i = min(int(np.searchsorted(times, time, side="right")) - 1, len(times) - 2)
    share = (time - times[i]) / (times[i + 1] - times[i])
    one, other = (
        (1.0 - share) * o.vertices[i].astype(float) + share * o.vertices[i + 1] for o in (a.outline, b.outline)
    )
    return line_to_line(one, other) if whole else gear_to_line(one, a.outline.gear, other, b.outline.gear)


def test_every_pair_once(demo: Demo) -> None:
    rods = [rod.rod for rod in demo.plan.rods]
    named = [frozenset((pair.first, pair.second)) for pair in demo.plan.pairs]
    assert len(named) == len(set(named)) == 15
    assert set(named) == {frozenset(pair) for pair in combinations(rods, 2)}


def test_the_worst_pair_is_the_one_with_the_smallest_gap(demo: Demo) -> None:
    worst = min(demo.plan.pairs, key=lambda pair: pair.gear_gap.usual)
    assert demo.plan.worst_pair == (worst.first, worst.second)
    assert demo.plan.why.gap == worst.gear_gap.usual
    assert {worst.first, worst.second} <= set(demo.plan.why.limited_by.replace(",", "").split(" and ")) or (
        worst.first in demo.plan.why.limited_by and worst.second in demo.plan.why.limited_by
    )


def test_at_its_moment_every_gap_is_what_the_plan_says(demo: Demo, runs: dict[str, Passage]) -> None:
    for pair in demo.plan.pairs:
        a, b = runs[pair.first], runs[pair.second]
        assert between(a, b, pair.gear_time, False) == pytest.approx(pair.gear_gap.usual, abs=0.01)
        assert between(a, b, pair.line_time, True) == pytest.approx(pair.line_gap, abs=0.01)


def test_at_no_other_moment_are_lines_nearer(demo: Demo, runs: dict[str, Passage]) -> None:
    for pair in demo.plan.pairs:
        a, b = runs[pair.first], runs[pair.second]
        slack = pair.hidden + 0.005
        for i in range(0, len(a.outline.times), EVERY):
            one, other = a.outline.vertices[i].astype(float), b.outline.vertices[i].astype(float)
            assert gear_to_line(one, a.outline.gear, other, b.outline.gear, 0.2) >= pair.gear_gap.usual - slack


def test_a_line_comes_at_least_as_near_as_gear(demo: Demo) -> None:
    for pair in demo.plan.pairs:
        assert 0.0 <= pair.line_gap <= pair.gear_gap.usual + 0.005


def test_what_may_hide_between_moments_is_small_and_said(demo: Demo) -> None:
    assert all(0.0 < pair.hidden < 0.02 for pair in demo.plan.pairs)


def test_winding_is_what_the_tail_sweeps_round_the_other_line(demo: Demo, runs: dict[str, Passage]) -> None:
    """Each tail's angle round the other line from the side it is on, followed by eye of a plain loop."""
    for pair in demo.plan.pairs:
        a, b = runs[pair.first], runs[pair.second]
        turns = max((swept(a, b), swept(b, a)), key=abs)
        assert pair.winding == pytest.approx(turns, abs=0.02)


def swept(tail: Passage, line: Passage) -> float:
    """Turns that the tail's last vertex sweeps round the other line, seen along it; none while it is beyond its end."""
    angles: list[float | None] = []
    for end, chain in zip(tail.outline.vertices[:, -1].astype(float), line.outline.vertices.astype(float), strict=True):
        along = np.diff(chain, axis=0)
        lengths = np.linalg.norm(along, axis=1)
        unit = along / lengths[:, None]
        reach = ((end - chain[:-1]) * unit).sum(axis=1)
        feet = chain[:-1] + np.clip(reach, 0.0, lengths)[:, None] * unit
        near = int(np.argmin(np.linalg.norm(end - feet, axis=1)))
        if near == len(unit) - 1 and reach[near] > lengths[near]:
            angles.append(None)
            continue
        left = np.cross([0.0, 0.0, 1.0], unit[near])
        left /= np.linalg.norm(left)
        away = end - chain[near]
        angles.append(float(np.arctan2(away @ np.cross(unit[near], left), away @ left)))
    total = 0.0
    for before, now in pairwise(angles):
        if before is not None and now is not None:
            total += (now - before + np.pi) % (2.0 * np.pi) - np.pi
    return total / (2.0 * np.pi)


def is_tangle(pair: PairPlan, reach: float) -> bool:
    """Gear within reach of a hook, or half a turn left at the end."""
    return pair.gear_gap.usual < reach or abs(pair.winding) >= 0.5


def test_a_tangle_is_gear_within_reach_or_a_wrap(demo: Demo) -> None:
    assert [pair.tangle for pair in demo.plan.pairs] == [
        is_tangle(pair, demo.plan.tangle_reach) for pair in demo.plan.pairs
    ]


def test_the_demo_has_no_tangle(demo: Demo) -> None:
    assert not any(pair.tangle for pair in demo.plan.pairs)
    assert demo.plan.why.gap > 3.0 * demo.plan.tangle_reach
