"""What the demo's plan shows does not depend on how finely it was computed."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from tests.plan.demo import Demo
from tests.plan.test_demo_rods import towed

from spreadwright.spread.motions import SHOWN, passages, track_of
from spreadwright.tow.clearance.gaps import TOLERANCE, gear_gap
from spreadwright.tow.line import Failure, Sea


def gaps(demo: Demo, step: float, scale: float) -> dict[tuple[str, str], float]:
    """Every pair's gear-to-line gap [m], at a step [s] and with segments `scale` times as long as the plan's."""
    settings = replace(SHOWN, step=step, grading=SHOWN.grading.scaled(scale))
    rigs = [towed(demo.trip, rod) for rod in demo.plan.rods]
    moved = passages(rigs, track_of(demo.trip.pattern), Sea(density=demo.trip.water.density), settings)
    outlines = [(rod.rod, each.outline) for rod, each in zip(demo.plan.rods, moved, strict=True)
                if not isinstance(each, Failure)]  # fmt: skip
    assert len(outlines) == len(demo.plan.rods)
    return {
        (rod, other): gear_gap(first, second).distance
        for (rod, first), (other, second) in combinations(outlines, 2)
    }  # fmt: skip


def test_halving_mesh_and_step_moves_no_gap_of_the_demo_by_two_per_cent(demo: Demo) -> None:
    """Measured: 0.03 % at the most."""
    shown, finer = gaps(demo, SHOWN.step, 1.0), gaps(demo, 0.5 * SHOWN.step, 0.5)
    assert len(shown) == 15
    assert finer == pytest.approx(shown, rel=0.02)
    assert finer == pytest.approx(shown, rel=0.002, abs=2.0 * TOLERANCE)  # and in truth far closer
    assert finer != shown


def test_the_gaps_shown_are_those_computed_here(demo: Demo) -> None:
    shown = gaps(demo, SHOWN.step, 1.0)
    for pair in demo.plan.pairs:
        here = shown.get((pair.first, pair.second)) or shown[pair.second, pair.first]
        assert pair.gear_gap.usual == pytest.approx(here, abs=2.0 * TOLERANCE)
        assert 0.0 < pair.hidden < 0.01
