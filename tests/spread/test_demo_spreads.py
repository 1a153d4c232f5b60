"""The demo's spread against spreads drawn at random and against itself with one rod changed."""

from __future__ import annotations

import numpy as np
import pytest
from tests.plan.demo import Demo
from tests.spread.every_spread import Spread, Water, chosen_spread, is_legal, random_spreads, rigs_of

RANDOM = 60
CHANGES = 8  # a rod
SHORT = 1  # shock leaders: the shelf has five for six rods, so one is bought whatever the spread


@pytest.fixture(scope="module")
def water(demo: Demo) -> Water:
    """One sea for all, so that the lines that run beside one another are the same for all."""
    return Water(demo.trip)


@pytest.fixture(scope="module")
def drawn(demo: Demo, water: Water) -> list[Spread]:
    return random_spreads(water, RANDOM, SHORT, seed=20310308)


def one_rod_changed(chosen: Spread, water: Water) -> list[Spread]:
    """Legal spreads that differ from the chosen one in one rod, a few a rod."""
    random, found = np.random.default_rng(9), []
    for i, rig in enumerate(chosen):
        own = [other for other in rigs_of(water.trip, rig.rod) if other != rig]
        changed = [(*chosen[:i], own[k], *chosen[i + 1 :]) for k in random.permutation(len(own))]
        found += [spread for spread in changed if is_legal(water.trip, spread, SHORT)][:CHANGES]
    water.tow([rig for spread in found for rig in spread])
    return [spread for spread in found if not any(water.slips(rig) for rig in spread)]


def test_the_chosen_spread_is_legal(demo: Demo, water: Water) -> None:
    chosen = chosen_spread(demo.plan)
    assert is_legal(demo.trip, chosen, SHORT)
    assert all(rig in rigs_of(demo.trip, rig.rod) for rig in chosen)
    assert not any(water.slips(rig) for rig in chosen)


def test_no_random_spread_has_a_wider_smallest_gap(demo: Demo, water: Water, drawn: list[Spread]) -> None:
    chosen = min(water.smallest(chosen_spread(demo.plan)), demo.trip.wishes.enough_gap)
    others = [water.smallest(spread) for spread in drawn]
    assert len(others) >= 10
    assert max(others) < chosen
    assert np.median(others) < 0.6 * chosen  # the choice is far from what chance gives


def test_no_change_of_one_rod_makes_the_smallest_gap_wider(demo: Demo, water: Water) -> None:
    """Up to what a mesh can tell; a spread that keeps enough everywhere may be changed without loss."""
    spread = chosen_spread(demo.plan)
    chosen = min(water.smallest(spread), demo.trip.wishes.enough_gap)
    changed = one_rod_changed(spread, water)
    assert len(changed) >= 10
    for other in changed:
        assert min(water.smallest(other, chosen), demo.trip.wishes.enough_gap) <= chosen * 1.03
