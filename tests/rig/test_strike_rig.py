"""The strike on a rig: pulls laid on the right links, ranges as stated, and the ways a change of gear must go."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.rig import rigs

from spreadwright.rig.assemble import assemble
from spreadwright.rig.chain import Chain
from spreadwright.rig.loads import STRIKE_PEAK
from spreadwright.rig.strike import (
    FishedRig,
    RigStrike,
    link_pulls,
    longest_over,
    sections_of,
    strike_cases,
    strike_rig,
    usual_peaks,
)
from spreadwright.rig.strike_compare import counterpart_of, span_of_shares, worst_of
from spreadwright.rig.strike_ranges import (
    CASES,
    DISPUTED_SPEED,
    STRIKE_SPEED,
    StrikeCase,
    brake_of,
    fish_drag_area,
    fish_of,
    spool_mass,
)
from spreadwright.rig.strike_words import strike_in_words, worst_link
from spreadwright.tackle.boat import Station
from spreadwright.tackle.outfit import Reel
from spreadwright.tow.line import Failure

SPEED, DENSITY = 7.7, 1025.0
STATION = Station.model_validate(
    {"name": "port", "tip_from_transom": "3 ft aft", "tip_from_centreline": "5 ft to port", "tip_above_water": "4 ft"}
)


def rig(mark: float = 30.0, heavy: str = "48 oz", **outfit: object) -> tuple[FishedRig, Chain]:
    weight = rigs.weight(mass=heavy)
    gear = rigs.gear(weight=weight)
    fished = FishedRig(
        rigs.outfit(**outfit), STATION, mark, weight, rigs.shock_leader(), rigs.bite_leader(), rigs.lure()
    )
    return fished, assemble(fished.outfit, gear)


@pytest.fixture(scope="module")
def struck() -> tuple[FishedRig, Chain, RigStrike]:
    fished, chain = rig()
    result = strike_rig(fished, chain, SPEED, DENSITY)
    assert isinstance(result, RigStrike), result
    return fished, chain, result


def test_every_bearing_link_gets_its_pull(struck):
    _, chain, result = struck
    assert [each.link for each in result.links] == [link.name for link in chain.bearing]
    for each in result.links:
        assert 0.0 < each.peak.low <= each.peak.usual <= each.peak.high
        assert 0.0 < each.lasts <= result.seconds
    case = result.load_case(chain)
    assert case.name == STRIKE_PEAK
    assert set(case.loads) == {link.name for link in chain.bearing}


def test_pulls_are_read_where_the_link_is():
    _, chain = rig()
    names = ("main line", "double line", "shock leader", "bite leader")
    most = np.array([10.0, 20.0, 30.0, 40.0])
    ends = np.array([[11.0, 12.0], [21.0, 22.0], [31.0, 32.0], [41.0, 42.0]])
    pulls = link_pulls(chain, names, most, ends, 15.0)
    assert pulls["main line"] == 15.0  # the tip's is the greater
    assert pulls["double line"] == 20.0
    assert pulls["snap swivel"] == 22.0
    assert pulls["weight's cable"] == 31.0
    assert pulls["shock leader's upper crimp"] == 31.0
    assert pulls["shock leader's lower crimp"] == 32.0
    assert pulls["bite leader"] == 40.0
    assert pulls["hooks"] == 42.0


def test_a_double_line_still_on_the_reel_bears_the_pull_at_the_tip():
    _, chain = rig()
    pulls = link_pulls(chain, ("main line", "shock leader", "bite leader"), np.ones(3), np.ones((3, 2)), 7.0)
    assert pulls["double line"] == 7.0


@pytest.mark.parametrize(
    ("outfit", "names"),
    [
        ({}, ("main line", "double line")),
        ({"double_line": None}, ("main line",)),
        ({"double_line": None, "wind_on": rigs.wind_on()}, ("main line", "wind-on")),
        ({"wind_on": rigs.wind_on()}, ("main line", "double line", "wind-on")),
        ({"bite_guard": rigs.bite_guard()}, ("main line", "double line", "bite guard")),
        ({"bite_guard": rigs.bite_guard(), "double_line": None}, ("main line", "bite guard")),
        (
            {
                "bite_guard": rigs.bite_guard(),
                "wind_on": rigs.wind_on(length="60 m"),
            },  # its double line stays on the reel
            ("main line", "wind-on", "bite guard"),
        ),
    ],
)
def test_sections_are_named_as_they_are_towed(outfit, names):
    fished, _ = rig(**outfit)
    towed = fished.towed()
    assert sections_of(fished, towed) == (*names, "shock leader", "bite leader")
    assert len(towed.line.sections) == len(names) + 2


def test_a_bite_guard_is_towed_below_the_mark_and_reads_its_own_pull():
    fished, chain = rig(bite_guard=rigs.bite_guard())
    bare, _ = rig()
    guarded = fished.towed()
    assert sum(each.length for each in guarded.line.sections[: guarded.top]) == pytest.approx(30.0 + 0.3048)
    assert sum(each.length for each in bare.towed().line.sections[:2]) == pytest.approx(30.0)
    assert guarded.line.bodies[guarded.weight_joint] == bare.towed().line.bodies[1]
    assert guarded.line.bodies[guarded.weight_joint - 1] is None
    chain = assemble(fished.outfit, rigs.gear(bite_guard=rigs.bite_guard()))
    names = ("main line", "double line", "bite guard", "shock leader", "bite leader")
    ends = np.array([[11.0, 12.0], [21.0, 22.0], [51.0, 52.0], [31.0, 32.0], [41.0, 42.0]])
    pulls = link_pulls(chain, names, np.array([10.0, 20.0, 50.0, 30.0, 40.0]), ends, 15.0)
    assert pulls["snap swivel"] == 22.0
    assert (pulls["bite guard's upper crimp"], pulls["bite guard's lower crimp"]) == (51.0, 52.0)
    assert pulls["bite guard"] == 50.0
    assert pulls["weight's cable"] == 52.0


def test_longest_time_over_a_level():
    assert longest_over(np.array([0.0, 2.0, 2.0, 0.0, 2.0]), 1.0, 0.5) == 1.0
    assert longest_over(np.zeros(4), 1.0, 0.5) == 0.0


def test_the_disputed_speed_and_the_stuck_reel_are_no_part_of_the_range(struck):
    _, _, result = struck
    outside = [case for case in CASES if not case.in_range]
    assert {case.speed for case in outside} == {DISPUTED_SPEED, STRIKE_SPEED.usual}
    assert [case.stuck for case in CASES].count(True) == 1
    line = result.links[0]
    assert result.stuck["main line"] > line.peak.high
    assert result.disputed["bite leader"] > result.links[-2].peak.usual


def test_a_fish_swims_on_with_the_thrust_that_holds_its_speed():
    """Thrust is the drag at its speed, 8 m/s at most: rho/2 A v^2 with A = 66.9 cm2 for 15 kg: 219 N."""
    (usual,) = fish_of(StrikeCase("usual"), 1, DENSITY)
    assert usual.velocity == pytest.approx((-8.0, 0.0, 0.0))
    assert math.hypot(*usual.thrust) == pytest.approx(0.5 * DENSITY * fish_drag_area(15.0) * 64.0)
    assert math.hypot(*usual.thrust) == pytest.approx(219.4, abs=0.5)
    (fast,) = fish_of(StrikeCase("fast", speed=21.0), 1, DENSITY)
    assert fast.thrust == usual.thrust
    (across,) = fish_of(StrikeCase("across", heading=0.5 * math.pi), 1, DENSITY)
    assert across.velocity == pytest.approx((0.0, 8.0, 0.0), abs=1e-12)
    both = fish_of(StrikeCase("both", takes="both"), 1, DENSITY)
    assert [each.joint for each in both] == [1, -1]


def test_the_spool_weighs_half_its_line_and_more():
    """A ring of line from 0.45 to 1 of the radius: half its mass times 1.2025; 650 yd of 0.95 mm nylon weigh 480 g."""
    outfit = rigs.outfit()
    line = 650.0 * 0.9144 * 1140.0 * math.pi / 4.0 * 0.95e-3**2
    assert spool_mass(outfit) == pytest.approx(0.5 * line * 1.2025 + 0.15)
    narrow = Reel.model_validate(
        {"name": "n", "holds": "650 yd", "max_drag": "45 lb", "spool_width": "50 mm", "spool_full_diameter": "90 mm",
         "spool_core_diameter": "81 mm"}
    )  # fmt: skip
    assert spool_mass(rigs.outfit(reel=narrow)) == pytest.approx(0.5 * line * 1.81 + 0.15)


def test_the_rod_bends_the_same_whatever_the_drag_is_set_to():
    outfit = rigs.outfit()
    usual, light = brake_of(outfit), brake_of(outfit, 50.0)
    assert light.rod_give == usual.rod_give
    assert light.running == 50.0
    assert light.static == pytest.approx(57.5)
    assert brake_of(outfit, stuck=True).running == math.inf


def test_rod_and_reel_have_a_range_too():
    """Common practice, no source: a drag within a tenth, starting 5 to 30 % harder than it runs, a tip 0.3 to 1 m."""
    outfit = rigs.outfit()
    soft, usual, hard = (brake_of(outfit, hardness=end) for end in (-1.0, 0.0, 1.0))
    assert soft.running == pytest.approx(0.9 * outfit.strike_drag)
    assert hard.running == pytest.approx(1.1 * outfit.strike_drag)
    starts = [each.static / each.running for each in (soft, usual, hard)]
    assert starts == pytest.approx([1.05, 1.15, 1.30])
    assert [each.rod_give * outfit.strike_drag for each in (soft, usual, hard)] == pytest.approx([1.0, 0.6, 0.3])
    by_name = {case.name: case.hardness for case in CASES}
    assert (by_name["small slow fish, all soft"], by_name["big fast fish, all stiff"]) == (-1.0, 1.0)
    fished, _ = rig()
    (big,) = strike_cases(fished, [case for case in CASES if case.hardness > 0.0], DENSITY)
    assert big.brake == brake_of(fished.outfit, hardness=1.0)


def peaks(*changed: tuple[FishedRig, Chain], drags=None, stuck=None) -> list[dict[str, float]]:
    found = usual_peaks([each for each, _ in changed], [chain for _, chain in changed], SPEED, DENSITY, drags=drags,
                        stuck=stuck)  # fmt: skip
    assert not any(isinstance(each, Failure) for each in found)
    return found  # type: ignore[return-value]


def test_a_heavier_weight_jerks_the_leader_harder():
    light, heavy = peaks(rig(heavy="16 oz"), rig(heavy="64 oz"))
    assert heavy["shock leader"] > 1.3 * light["shock leader"]


def test_more_drag_more_pull_on_the_main_line_and_a_stuck_reel_the_most():
    one = rig()
    slack, tight, stuck = peaks(one, one, one, drags=(60.0, 120.0, None), stuck=(False, False, True))
    assert slack["main line"] < tight["main line"] < 0.6 * stuck["main line"]


def test_with_the_reel_stuck_braid_is_harder_than_nylon():
    nylon, chain = rig()
    other = counterpart_of(nylon.outfit)
    assert other.line.material == "braid"
    assert other.line.strength == nylon.outfit.line.strength
    assert counterpart_of(other).line.material == "nylon"
    braid = replace(nylon, outfit=other)
    soft, hard = peaks((nylon, chain), (braid, assemble(other, rigs.gear())), stuck=(True, True))
    assert hard["main line"] > 1.15 * soft["main line"]


def test_the_words_name_the_worst_link_with_its_range(struck):
    _, chain, result = struck
    worst = worst_link(chain, result)
    assert worst is not None
    assert worst.share is not None
    said = strike_in_words(chain, result)
    assert worst.weak_spot in said
    assert f"{100 * worst.share.usual:.0f} % ({100 * worst.share.low:.0f} to {100 * worst.share.high:.0f} %)" in said
    assert "disputed 42 kn" in said
    assert "reel stuck" in said


def test_the_worst_link_is_the_one_with_the_largest_share():
    _, chain = rig()
    pulls = {link.name: 100.0 for link in chain.bearing}
    worst = worst_of(chain, pulls)
    assert worst is not None
    assert worst.link == "main line"
    assert worst_of(chain, {"hooks": 100.0}) is not None  # rigs.hook() has a strength


def test_fewer_than_two_variants_are_no_span():
    assert span_of_shares([]) is None


def test_a_rig_that_cannot_be_towed_is_a_failure_with_its_reason():
    fished, chain = rig()
    found = strike_rig(fished, chain, math.nan, DENSITY)
    assert isinstance(found, Failure)
    assert "no steady shape" in found.reason
    assert fished.outfit.name == found.line


def test_cases_take_the_stiffness_they_ask_for():
    fished, _ = rig()
    soft, hard = strike_cases(fished, (StrikeCase("s", stiffness=-1.0), StrikeCase("h", stiffness=1.0)), DENSITY)
    assert hard.line.sections[0].stiffness == pytest.approx(3.0 * soft.line.sections[0].stiffness)
