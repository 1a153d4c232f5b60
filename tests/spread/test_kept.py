"""What is kept from one plan to the next: the same answer, and nothing towed anew where only counts change."""

from __future__ import annotations

import pytest
from tests.plan.trips import BLUE, RED, small_trip

from spreadwright.plan.build import make_plan
from spreadwright.spread.kept import Kept

PAIR: dict[str, object] = {"rods": (RED, BLUE), "wishes": {"enough_gap": "20 m"}}


def test_a_change_of_counts_tows_nothing_and_answers_as_a_plan_from_scratch() -> None:
    kept = Kept()
    first = make_plan(small_trip(**PAIR, weights={16: 1, 32: 2, 64: 1}), samples=16, kept=kept)
    towed = kept.towed
    assert towed > 0
    changed = small_trip(**PAIR, weights={16: 2, 32: 1, 64: 1})
    again = make_plan(changed, samples=16, kept=kept)
    assert kept.towed == towed
    anew = make_plan(changed, samples=16)
    assert again.why.gap == pytest.approx(anew.why.gap, abs=0.002)
    assert {rod.weight for rod in again.rods} == {rod.weight for rod in anew.rods}
    assert first.why.gap > 0.0


def test_another_pattern_and_another_weight_are_towed() -> None:
    kept = Kept()
    make_plan(small_trip(**PAIR, weights={16: 1, 64: 1}), samples=16, kept=kept)
    one = kept.towed
    make_plan(small_trip(**PAIR, weights={16: 1, 64: 1, 96: 1}), samples=16, kept=kept)
    two = kept.towed
    assert one < two < 2 * one  # the new weight's lines only
    make_plan(small_trip(**PAIR, weights={16: 1, 64: 1}, pattern={"turn_radius": "60 m"}), samples=16, kept=kept)
    assert kept.towed == two + one


def test_a_count_of_nought_is_not_taken_for_some() -> None:
    kept = Kept()
    make_plan(small_trip(**PAIR, weights={16: 1, 64: 1}), samples=16, kept=kept)
    without = make_plan(small_trip(**PAIR, weights={16: 0, 64: 2}), samples=16, kept=kept)
    assert {rod.weight for rod in without.rods} == {"64 oz"}
