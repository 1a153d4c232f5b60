"""The rest of the demo's answer: what to buy, recounted; cautions where they belong; why this spread."""

from __future__ import annotations

import math
import re
import tomllib
from collections import Counter
from itertools import combinations

import pytest
from tests.plan.demo import TRIP_FILE, Demo

from spreadwright.plan.value import Plan
from spreadwright.tackle import Trip

# kind on the list: table in the file, key in [spares]
KINDS = {
    "trolling weight": ("weights", "weights"),
    "shock leader": ("shock_leaders", "shock_leaders"),
    "bite leader": ("bite_leaders", "bite_leaders"),
    "lure": ("lures", "lures"),
    "snap swivel": ("snap_swivels", "snap_swivels"),
    "crimp": ("crimps", "crimps"),
    "hook": ("hooks", "hooks"),
}


def crimps_for(trip: Trip, bores: dict[str, float], rods: Plan) -> Counter[str]:
    """Crimps that the spread takes: two a shock leader, two a cable, none a wire, one a wind-on's lower end."""
    counted: Counter[str] = Counter()
    shelf = trip.shelf
    for rod in rods.rods:
        shock = next(leader for leader in shelf.shock_leaders if leader.name == rod.shock_leader)
        bite = next(leader for leader in shelf.bite_leaders if leader.name == rod.bite_leader)
        wind_on = trip.outfit(rod.rod).wind_on
        ends = [shock.diameter] * 2 + ([bite.diameter] * 2 if bite.material == "cable" else [])
        ends += [wind_on.diameter] if wind_on else []
        for diameter in ends:
            fitting = {name: bore for name, bore in bores.items() if bore >= diameter}
            counted[min(fitting, key=fitting.__getitem__)] += 1
    return counted


def used_pieces(demo: Demo) -> dict[str, Counter[str]]:
    """How often each piece is used, by kind and name."""
    rods = demo.plan.rods
    bores = {crimp.name: crimp.bore for crimp in demo.trip.shelf.crimps}
    return {
        "trolling weight": Counter(rod.weight for rod in rods),
        "shock leader": Counter(rod.shock_leader for rod in rods),
        "bite leader": Counter(rod.bite_leader for rod in rods),
        "lure": Counter(rod.lure for rod in rods),
        "snap swivel": Counter(rod.swivel for rod in rods),
        "crimp": crimps_for(demo.trip, bores, demo.plan),
        "hook": Counter(),
    }


def test_the_shopping_list_recounted_from_the_file(demo: Demo) -> None:
    """By name what the spread takes beyond the shelf, then spares of the kind; counts straight from the TOML."""
    told = tomllib.loads(TRIP_FILE.read_text("utf-8"))
    listed: dict[str, Counter[str]] = {kind: Counter() for kind in KINDS}
    for item in demo.plan.shopping:
        listed[item.kind][item.name] += item.quantity
    for kind, (table, spare) in KINDS.items():
        counts = {piece["name"]: piece["count"] for piece in told["shelf"][table]}
        used = used_pieces(demo)[kind]
        short = {name: n - counts.get(name, 0) for name, n in used.items() if n > counts.get(name, 0)}
        left = sum(max(0, count - used[name]) for name, count in counts.items())
        spares = max(0, told["spares"][spare] - left)
        assert listed[kind].total() == sum(short.values()) + spares, kind
        assert all(listed[kind][name] >= n for name, n in short.items()), kind


def test_the_demo_has_something_to_buy_and_every_item_says_why(demo: Demo) -> None:
    """Five shock leaders for six rods, two spares wished: three to buy; and crimps."""
    assert sum(item.quantity for item in demo.plan.shopping if item.kind == "shock leader") == 3
    assert any(item.kind == "crimp" for item in demo.plan.shopping)
    for item in demo.plan.shopping:
        assert item.quantity > 0
        assert "on the shelf" in item.reason or "spare wanted" in item.reason
    assert len({(item.kind, item.name) for item in demo.plan.shopping}) == len(demo.plan.shopping)


def test_counts_are_kept_but_for_what_is_bought(demo: Demo) -> None:
    bought = {(item.kind, item.name): item.quantity for item in demo.plan.shopping}
    told = tomllib.loads(TRIP_FILE.read_text("utf-8"))
    for kind, (table, _) in KINDS.items():
        counts = {piece["name"]: piece["count"] for piece in told["shelf"][table]}
        for name, n in used_pieces(demo)[kind].items():
            assert n <= counts[name] + bought.get((kind, name), 0)


def test_cautions_stand_with_the_work_they_belong_to(demo: Demo) -> None:
    words = {caution.work: " ".join(c.text for c in demo.plan.cautions if c.work == caution.work)
             for caution in demo.plan.cautions}  # fmt: skip
    assert {"rigging", "setting out", "turning", "strike", "leadering"} <= {work.lower() for work in words}
    by_work = {work.lower(): text.lower() for work, text in words.items()}
    assert "never wrap" in by_work["leadering"]
    assert "kill-switch" in by_work["turning"]
    assert "overboard" in by_work["turning"]
    assert "lanyard" in by_work["setting out"]
    assert "recoil" in by_work["strike"]


def test_what_costs_a_hand_or_a_life_is_marked_so(demo: Demo) -> None:
    grave = [caution.text for caution in demo.plan.cautions if caution.grave]
    assert any(text.startswith("Never wrap leader or wire") for text in grave)
    assert 0 < len(grave) < len(demo.plan.cautions)
    assert len({caution.text for caution in demo.plan.cautions}) == len(demo.plan.cautions)


def test_the_notice_defers_to_local_rules_and_promises_nothing(demo: Demo) -> None:
    assert "Local rules" in demo.plan.notice
    assert "not a guarantee" in demo.plan.notice


def test_why_stands_against_the_trades_rule_and_its_reverse(demo: Demo) -> None:
    why = demo.plan.why
    assert why.rule_gap is not None
    assert why.reverse_gap is not None
    assert why.gap > max(why.rule_gap, why.reverse_gap)
    sentences = " ".join(why.sentences)
    assert "trade's rule" in sentences
    assert "reverse" in sentences
    assert why.limited_by in why.sentences
    assert why.proof in why.sentences
    assert why.enough == pytest.approx(1.8288)


def test_there_are_candidates_enough_to_choose_from(demo: Demo) -> None:
    """Six rods and over two hundred candidate rigs."""
    why = demo.plan.why
    assert why.candidates >= 200
    assert why.classes >= 200
    assert 15 <= why.pairs_computed <= why.classes**2


def test_rigs_that_run_alike_are_no_more_classes_than_rigs(demo: Demo) -> None:
    assert demo.plan.why.classes <= demo.plan.why.candidates


def test_lures_in_different_water_are_counted_pair_by_pair(demo: Demo) -> None:
    """The demo's six lures make 15 pairs; 10 m and 0.5 m apart is what the plan calls different water."""
    said = next(each for each in demo.plan.why.sentences if each.startswith("Different water"))
    pairs, astern, depth = (int(word) for word in re.findall(r"(?<![\d.])(\d+) (?:pairs|run)", said))
    lures = [(rod.astern, rod.lure_depth.usual) for rod in demo.plan.rods]
    assert pairs == 15
    assert astern == pytest.approx(sum(abs(a[0] - b[0]) >= 10.0 for a, b in combinations(lures, 2)), abs=1)
    assert depth == pytest.approx(sum(abs(a[1] - b[1]) >= 0.5 for a, b in combinations(lures, 2)), abs=1)


def test_what_was_left_out_is_told_with_its_reason(demo: Demo) -> None:
    reasons = {each.reason for each in demo.plan.why.skipped}
    assert "banned: a heavy weight swings too far at the high tip" in reasons
    assert "the captain fixed something else for this rod" in reasons
    assert all(each.count > 0 and each.what for each in demo.plan.why.skipped)


def test_every_estimate_of_the_plan_is_a_number_in_its_range(demo: Demo) -> None:
    def walk(told: object, where: str) -> int:
        if isinstance(told, dict):
            if set(told) == {"usual", "low", "high"}:
                assert told["low"] <= told["usual"] <= told["high"], where
                assert all(math.isfinite(each) for each in told.values()), where
                return 1
            return sum(walk(each, f"{where}.{key}") for key, each in told.items())
        if isinstance(told, list | tuple):
            return sum(walk(each, f"{where}[{i}]") for i, each in enumerate(told))
        return 0

    assert walk(demo.plan.model_dump(), "plan") > 150
