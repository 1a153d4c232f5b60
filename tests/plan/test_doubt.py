"""How sure the plan is: ranges hold the usual value, follow from the ends of the inputs, and shrink when measured."""

from __future__ import annotations

import numpy as np
import pytest
from tests.plan.test_demo_rods import towed
from tests.plan.trips import JET, KNOT, PORT, RED, small_plan, small_trip

from spreadwright.plan.build import make_plan
from spreadwright.plan.value import Estimate
from spreadwright.rig.hydrodynamics import lure_drag
from spreadwright.rig.tow_model import Doubts, towed_rig
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.steady import steady_straight

ALONE: dict[str, object] = {
    "rods": ({**RED, "marks": ["200 ft"], "strike_drag": "30 lb"},),
    "stations": (PORT,),
    "weights": {48: 1},
}


def width(estimate: Estimate) -> float:
    """From the low to the high end."""
    return estimate.high - estimate.low


def pull_and_depth(doubts: Doubts, speed: float) -> tuple[float, float]:
    """Pull at the rod [N] and depth of the weight [m] of the lone rig, with its inputs off their usual values."""
    trip = small_trip(**ALONE)
    shelf = trip.shelf
    rig = towed_rig(
        trip.outfits[0], trip.boat.stations[0], trip.outfits[0].marks[0], shelf.weights[0], shelf.shock_leaders[0],
        shelf.bite_leaders[0], shelf.lures[0], doubts,
    )  # fmt: skip
    shape = steady_straight([rig.line], speed, Sea(density=trip.water.density))[0]
    assert not isinstance(shape, Failure)
    return float(shape.tension[0]), -float(shape.joint_places[rig.weight_joint, 2])


def drawn_at_random(count: int) -> np.ndarray:
    """Pull [N] and depth of the weight [m] of the lone rig (count, 2): all inputs drawn evenly, speed in four steps."""
    random, trip = np.random.default_rng(4), small_trip(**ALONE)
    shelf, found = trip.shelf, []
    for step in (-0.75, -0.25, 0.25, 0.75):
        rigs = [
            towed_rig(
                trip.outfits[0], trip.boat.stations[0], trip.outfits[0].marks[0], shelf.weights[0],
                shelf.shock_leaders[0], shelf.bite_leaders[0], shelf.lures[0], Doubts(*random.uniform(-1.0, 1.0, 6)),
            )
            for _ in range(count // 4)
        ]  # fmt: skip
        speed = 15.0 * KNOT + 0.5 * KNOT * step
        for rig, shape in zip(
            rigs, steady_straight([r.line for r in rigs], speed, Sea(density=trip.water.density)), strict=True
        ):
            assert not isinstance(shape, Failure)
            found.append((float(shape.tension[0]), -float(shape.joint_places[rig.weight_joint, 2])))
    return np.array(found)


def test_ranges_are_where_nine_in_ten_of_random_draws_lie() -> None:
    """Worked out apart, by plain random numbers on the steady shape: the plan's ends are those within sampling."""
    usual = pull_and_depth(Doubts(), 15.0 * KNOT)
    rod = make_plan(small_trip(**ALONE), samples=256).rods[0]
    low, high = np.quantile(drawn_at_random(400), [0.05, 0.95], axis=0)
    for k, estimate in enumerate((rod.pull, rod.weight_depth)):
        assert estimate.usual == pytest.approx(usual[k], rel=0.01)
        assert estimate.low == pytest.approx(low[k], abs=0.12 * (high[k] - low[k]))
        assert estimate.high == pytest.approx(high[k], abs=0.12 * (high[k] - low[k]))


def test_every_input_matters_to_something() -> None:
    usual = pull_and_depth(Doubts(), 15.0 * KNOT)
    for name in ("line_across", "line_along", "weight", "lure", "stiffness", "mark"):
        ends = [pull_and_depth(Doubts(**{name: end}), 15.0 * KNOT) for end in (-1.0, 1.0)]
        assert max(abs(end[k] - usual[k]) / usual[k] for end in ends for k in (0, 1)) > 0.002, name


def test_a_measured_lure_makes_the_plan_surer() -> None:
    """The same drag area, once worked out from the lure's size, once measured to 10 %: narrower, about the same."""
    guessed = small_plan(**ALONE).rods[0]
    area = lure_drag(small_trip(**ALONE).shelf.lures[0]).axial.usual
    measured_lure = {**JET, "drag_area": f"{area * 1e4:.4f} cm2", "drag_area_doubt": "10 %"}
    measured = small_plan(**ALONE, lures=(measured_lure,)).rods[0]
    for name in ("pull", "pull_swing", "angle", "lure_depth"):
        before, after = getattr(guessed, name), getattr(measured, name)
        assert after.high - after.low < before.high - before.low, name
    assert width(measured.pull) < 0.9 * width(guessed.pull)
    assert measured.pull.usual == pytest.approx(guessed.pull.usual, rel=1e-3)


def test_gaps_have_a_range_too_and_never_below_nothing() -> None:
    for pair in small_plan().pairs:
        assert 0.0 <= pair.gear_gap.low < pair.gear_gap.usual < pair.gear_gap.high


def test_what_is_in_doubt_is_said_in_words() -> None:
    said = " ".join(small_plan().doubts)
    for thing in ("lures", "weights", "lines", "nylon", "marks", "speed", "radius", "waves", "wash", "current"):
        assert thing in said


def test_the_ranges_hold_what_a_rig_with_other_drag_does() -> None:
    """All inputs a third of the way to their ends, the unkind way round: still inside the plan's range."""
    rod = small_plan(**ALONE).rods[0]
    third = Doubts(line_across=0.33, line_along=0.33, weight=0.33, lure=0.33, stiffness=0.33, mark=0.33)
    pull, depth = pull_and_depth(third, 15.0 * KNOT)
    assert rod.pull.low < pull < rod.pull.high
    assert rod.weight_depth.low < depth < rod.weight_depth.high
    assert towed(small_trip(**ALONE), rod).line.length > 60.0
