"""What the captain fixed, banned and counted is kept, and what cannot be done is said in words."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.plan.trips import (
    BLUE,
    BULLET,
    CENTRE,
    FOOT,
    GOLD,
    HIGH,
    JET,
    PORT,
    POUND,
    RED,
    SHOCK,
    STARBOARD,
    WIRE,
    Table,
    Value,
    small_plan,
    small_trip,
    trip_text,
)

from spreadwright.faults import Faults
from spreadwright.plan.build import Stopped, make_plan
from spreadwright.plan.value import Plan

STOUT: Table = {**SHOCK, "name": "20 ft of 400 lb", "strength": "400 lb", "diameter": "2.1 mm", "length": "20 ft"}
CABLE: Table = {**WIRE, "name": "2 ft of cable", "material": "cable", "strength": "480 lb", "diameter": "1.6 mm"}
CHOICES: dict[str, object] = {
    "shocks": (SHOCK, STOUT), "bites": (WIRE, CABLE), "lures": (JET, BULLET),
    "stations": (PORT, STARBOARD, CENTRE, HIGH), "crimps": ({"name": "2.2 mm sleeve", "bore": "2.2 mm", "count": 40},),
}  # fmt: skip


def fished(plan: Plan, rod: str) -> dict[str, Value]:
    """What a rod fishes, in the words of [[fixed]]."""
    found = plan.rod(rod)
    return {
        "mark": f"{found.mark / FOOT:.0f} ft", "weight": found.weight, "leader": found.shock_leader,
        "bite_leader": found.bite_leader, "lure": found.lure, "station": found.station,
    }  # fmt: skip


# Each trip fixes several rods at once: a plan takes a second or two.
FIXED: list[dict[str, dict[str, Value]]] = [
    {"red": {"mark": "200 ft"}, "blue": {"weight": "96 oz"}, "gold": {"leader": "20 ft of 400 lb"}},
    {"red": {"mark": "100 ft"}, "blue": {"leader": "30 ft of 300 lb"}, "gold": {"bite_leader": "2 ft of cable"}},
    {"red": {"lure": "bullet"}, "blue": {"bite_leader": "3 ft of wire"}, "gold": {"weight": "16 oz", "lure": "jet"}},
    {"red": {"station": "starboard corner"}, "blue": {"station": "port high"}},
    {"red": {"mark": "100 ft", "weight": "64 oz", "lure": "bullet", "station": "centre high"}, "blue": {"lure": "jet"}},
    {"red": {"mark": "200 ft"}, "blue": {"mark": "200 ft"}},
]


@pytest.mark.parametrize("wanted", FIXED, ids=str)
def test_what_is_fixed_is_fished(wanted: dict[str, dict[str, Value]]) -> None:
    plan = small_plan(**CHOICES, fixed=[{"rod": rod, **parts} for rod, parts in wanted.items()])
    for rod, parts in wanted.items():
        assert fished(plan, rod).items() >= parts.items()


@pytest.mark.parametrize("keys", [("mark", "weight", "leader"), ("bite_leader", "lure", "station")])
def test_what_is_banned_is_not_fished_and_the_reason_is_shown(keys: tuple[str, ...]) -> None:
    """Whatever the plan would choose freely is banned, another part on each rod: others are found."""
    before = small_plan(**CHOICES)
    bans = [(rod, key, fished(before, rod)[key]) for rod, key in zip(("red", "blue", "gold"), keys, strict=True)]
    plan = small_plan(**CHOICES, banned=[{"rod": rod, key: part, "reason": f"{key} sings"} for rod, key, part in bans])
    for rod, key, part in bans:
        assert fished(plan, rod)[key] != part
        skipped = [each for each in plan.why.skipped if each.reason == f"banned: {key} sings"]
        assert [each.what for each in skipped] == [f"rod {rod}"]
        assert skipped[0].count > 0


def test_a_ban_without_a_rod_holds_for_every_rod() -> None:
    weight = small_plan().rods[0].weight
    plan = small_plan(banned=[{"weight": weight}])
    assert weight not in {rod.weight for rod in plan.rods}


def test_a_ban_of_two_parts_bans_them_together_only() -> None:
    """The weight that was fished on a mark stays allowed on the other marks."""
    rod = small_plan().rods[0]
    ban: Table = {"weight": rod.weight, "mark": f"{rod.mark / FOOT:.0f} ft"}
    plan = small_plan(banned=[ban], fixed=[{"rod": "red", "weight": rod.weight}])
    assert plan.rod("red").weight == rod.weight
    assert (rod.weight, rod.mark) not in [(each.weight, each.mark) for each in plan.rods]


def test_one_line_a_mark() -> None:
    """The trip that shares marks freely, where nothing else is wished (a gap that is out of reach)."""
    shared = small_plan(wishes={"enough_gap": "20 m"})
    assert len({rod.mark for rod in shared.rods}) < 3
    plan = small_plan(wishes={"one_line_a_mark": True, "enough_gap": "20 m"})
    assert len({rod.mark for rod in plan.rods}) == 3


def test_every_station_once_and_a_rods_own_station_kept() -> None:
    owned = {**RED, "station": "centre high"}
    plan = small_plan(rods=(owned, BLUE, GOLD))
    assert plan.rod("red").station == "centre high"
    assert len({rod.station for rod in plan.rods}) == 3


def used(plan: Plan) -> Counter[str]:
    """How often each piece is fished."""
    return Counter(
        name for rod in plan.rods for name in (rod.weight, rod.shock_leader, rod.bite_leader, rod.lure)
    )  # fmt: skip


def bought(plan: Plan) -> dict[str, int]:
    """What is on the shopping list."""
    return {each.name: each.quantity for each in plan.shopping}


@pytest.mark.parametrize("weights", [{16: 1, 64: 1, 96: 1}, {32: 2, 64: 1}])
def test_no_more_pieces_than_there_are(weights: dict[int, int]) -> None:
    plan = small_plan(weights=weights, lures=({**JET, "count": 1}, {**BULLET, "count": 2}))
    counts = {**{f"{ounces} oz": count for ounces, count in weights.items()}, "jet": 1, "bullet": 2}
    assert all(used(plan)[name] <= count for name, count in counts.items())
    assert plan.shopping == ()


def test_a_piece_of_which_none_is_left_is_not_fished() -> None:
    plan = small_plan(lures=({**JET, "count": 0}, {**BULLET, "count": 3}))
    assert {rod.lure for rod in plan.rods} == {"bullet"}


def test_what_is_short_is_bought_and_nothing_else() -> None:
    """Two leaders and two weights for three rods: one of each must be bought, whichever."""
    plan = small_plan(shocks=({**SHOCK, "count": 2},), weights={32: 1, 64: 1})
    over = {name: n - {"32 oz": 1, "64 oz": 1, "30 ft of 300 lb": 2}.get(name, 99) for name, n in used(plan).items()}
    assert {name: n for name, n in over.items() if n > 0} == bought(plan)
    assert sum(n for name, n in bought(plan).items() if name.endswith("oz")) == 1
    assert bought(plan)["30 ft of 300 lb"] == 1


def test_two_rods_fixed_to_one_weight_need_one_more_of_it_and_nothing_else() -> None:
    """The shelf carries all the rest: a lock that needs a second weight is no leave to buy leaders and lures."""
    lock = [{"rod": rod, "weight": "64 oz"} for rod in ("red", "blue")]
    plan = small_plan(
        fixed=lock, shocks=({**SHOCK, "count": 2}, {**STOUT, "count": 1}), lures=({**JET, "count": 1}, BULLET),
        crimps=CHOICES["crimps"], wishes={"enough_gap": "20 m"},
    )  # fmt: skip
    assert plan.rod("red").weight == plan.rod("blue").weight == "64 oz"
    assert bought(plan) == {"64 oz": 1}


def test_what_must_be_bought_is_said_among_the_reasons() -> None:
    plan = small_plan(shocks=({**SHOCK, "count": 2},))
    assert any("to be bought" in sentence and "30 ft of 300 lb" in sentence for sentence in plan.why.sentences)


def test_a_rig_that_would_slip_its_drag_is_left_out_and_counted() -> None:
    """With the drag at 20 lb every jet on 200 ft slips; bullets on 100 ft hold."""
    gentle = [{**rod, "strike_drag": "20 lb"} for rod in (RED, BLUE)]
    plan = small_plan(rods=gentle, lures=(JET, BULLET))
    assert all(rod.pull_swing.greatest <= 20.0 * POUND for rod in plan.rods)
    slipped = [each for each in plan.why.skipped if "strike drag" in each.reason]
    assert {each.what for each in slipped} == {"rod red", "rod blue"}
    assert sum(each.count for each in slipped) + plan.why.candidates == 2 * 3 * 2 * 4 * 2


def impossible(**parts: object) -> str:
    """What is said of a trip for which no spread is possible."""
    with pytest.raises(Faults) as told:
        make_plan(small_trip(**parts))
    assert all(fault.place and fault.given and fault.rule and fault.next_step for fault in told.value)
    return str(told.value)


def test_everything_banned_is_said_with_its_reason() -> None:
    weights = [{"weight": f"{ounces} oz", "reason": "left at the dock"} for ounces in (16, 32, 64, 96)]
    said = impossible(banned=weights)
    assert "banned: left at the dock" in said
    assert "rod red" in said


def test_everything_banned_on_one_rod_names_that_rod() -> None:
    said = impossible(banned=[{"rod": "blue", "mark": mark, "reason": "floss worn"} for mark in ("100 ft", "200 ft")])
    assert "no rig is left for rod blue" in said
    assert "banned: floss worn" in said


def test_drags_below_the_waters_pull_are_said() -> None:
    said = impossible(rods=[{**rod, "strike_drag": "5 lb"} for rod in (RED, BLUE, GOLD)])
    assert "pulls harder while trolling than its strike drag is set to" in said


def test_three_lines_on_two_marks_cannot_each_have_a_mark_of_their_own() -> None:
    marks = {"marks": ["100 ft", "200 ft"]}
    said = impossible(rods=[{**rod, **marks} for rod in (RED, BLUE, GOLD)], wishes={"one_line_a_mark": True})
    assert "every rod needs a mark of its own" in said


def test_a_shelf_with_no_weight_left_is_said() -> None:
    said = impossible(weights={32: 0})
    assert "weight" in said


def test_planning_stops_when_asked_to() -> None:
    told: list[str] = []

    def stop_at(words: str) -> bool:
        told.append(words)
        return words != "how sure it is"

    with pytest.raises(Stopped):
        make_plan(small_trip(), lambda words, done, total: stop_at(words))
    assert told[-1] == "how sure it is"
    with pytest.raises(Stopped):
        make_plan(small_trip(), lambda words, done, total: False)


def test_one_rod_alone_has_no_pair_and_a_plan_all_the_same() -> None:
    plan = small_plan(rods=(RED,), stations=(PORT,))
    assert plan.pairs == ()
    assert plan.worst_pair is None
    assert plan.rod("red").set_out == plan.rod("red").clear == 1
    assert Plan.from_json(plan.to_json()) == plan


def test_trip_text_makes_sound_trips() -> None:
    assert "port corner" in trip_text()
    assert len(small_trip(**CHOICES).boat.stations) == 4
