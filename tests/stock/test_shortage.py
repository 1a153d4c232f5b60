"""What is short against the shelf: by name first, then spares of the kind; recounted by hand and by chance."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.plan.trips import BULLET, CRIMP, JET, SHOCK, SWIVEL, WIRE, Table, small_trip

from spreadwright.stock.shortage import KINDS, Missing, Used, shortage
from spreadwright.tackle import Trip

HOOK: Table = {"name": "9/0", "count": 2}


def used(rod: str = "red", **changes: object) -> Used:
    """A rig of the small trip's gear."""
    usual = {
        "weight": "32 oz", "shock_leader": "30 ft of 300 lb", "bite_leader": "3 ft of wire", "lure": "jet",
        "swivel": "300 lb swivel", "crimps": ("1.8 mm sleeve", "1.8 mm sleeve"),
    }  # fmt: skip
    return Used(rod, **{**usual, **changes})  # type: ignore[arg-type]


def trip(count: int = 3, spares: Table | None = None, **counts: int) -> Trip:
    """The small trip with `count` of everything, and other counts by kind."""

    def many(kind: str, table: Table) -> Table:
        return {**table, "count": counts.get(kind, count)}

    return small_trip(
        weights={32: counts.get("weight", count), 64: counts.get("other_weight", count)},
        shocks=(many("shock", SHOCK),), bites=(many("bite", WIRE),), lures=(many("lure", JET), many("other", BULLET)),
        swivels=(many("swivel", SWIVEL),), crimps=(many("crimp", CRIMP),), hooks=(many("hook", HOOK),),
        spares=spares,
    )  # fmt: skip


def only(missing: tuple[Missing, ...]) -> Missing:
    """The one missing piece."""
    assert len(missing) == 1, missing
    return missing[0]


def test_nothing_is_short_when_the_shelf_carries_all() -> None:
    assert shortage(trip(crimp=6), [used("red"), used("blue"), used("gold")]) == ()


@pytest.mark.parametrize(
    ("kind", "name", "part"),
    [
        ("trolling weight", "32 oz", "weight"),
        ("shock leader", "30 ft of 300 lb", "shock"),
        ("bite leader", "3 ft of wire", "bite"),
        ("lure", "jet", "lure"),
        ("snap swivel", "300 lb swivel", "swivel"),
    ],
)
def test_one_piece_short_of_each_kind(kind: str, name: str, part: str) -> None:
    missing = only(shortage(trip(9, None, **{part: 1}), [used("red"), used("blue"), used("gold")]))
    assert missing == Missing(kind, name, 2, "the spread uses 3, 1 on the shelf")


def test_crimps_are_counted_as_often_as_they_are_pressed() -> None:
    missing = only(shortage(trip(9, crimp=5), [used("red"), used("blue"), used("gold")]))
    assert missing == Missing("crimp", "1.8 mm sleeve", 1, "the spread uses 6, 5 on the shelf")


def test_a_piece_that_is_not_on_the_shelf_at_all_is_bought() -> None:
    missing = only(shortage(trip(9), [used(crimps=("crimp for 2.1 mm leader",))]))
    assert missing == Missing("crimp", "crimp for 2.1 mm leader", 1, "the spread uses 1, 0 on the shelf")


def test_spares_come_on_top_and_any_piece_of_the_kind_will_do() -> None:
    """One jet fished, one jet and two bullets left: three spares are there, a fourth is bought, of the kind fished."""
    shelf = trip(9, lure=2, other=2, spares={"lures": 3})
    assert shortage(shelf, [used()]) == ()
    missing = only(shortage(trip(9, lure=2, other=2, spares={"lures": 4}), [used()]))
    assert missing == Missing("lure", "jet", 1, "4 spare wanted, 3 left over")


def test_a_piece_short_for_the_spread_and_for_spares_is_one_entry() -> None:
    missing = only(shortage(trip(9, shock=1, spares={"shock_leaders": 2}), [used("red"), used("blue")]))
    assert missing.quantity == 1 + 2
    assert missing.reason == "the spread uses 2, 1 on the shelf; 2 spare wanted, 0 left over"


def test_spare_hooks_are_counted_though_none_is_fished_apart_from_its_lure() -> None:
    missing = only(shortage(trip(9, hook=1, spares={"hooks": 4}), [used()]))
    assert missing == Missing("hook", "9/0", 3, "4 spare wanted, 1 left over")


def test_spares_of_a_kind_the_shelf_does_not_list_are_bought_under_the_kinds_name() -> None:
    shelf = small_trip(hooks=(), swivels=(), spares={"hooks": 2, "snap_swivels": 1})
    missing = {each.kind: (each.name, each.quantity) for each in shortage(shelf, [used(swivel="")])}
    assert missing["hook"] == ("hook", 2)
    assert missing["snap swivel"] == ("snap swivel", 1)


@given(
    counts=st.tuples(*[st.integers(0, 5)] * 4),
    spares=st.tuples(st.integers(0, 4), st.integers(0, 4)),
    fished=st.lists(st.tuples(st.sampled_from(["32 oz", "64 oz"]), st.sampled_from(["jet", "bullet"])), max_size=6),
)
def test_after_buying_everything_is_there(
    counts: tuple[int, int, int, int], spares: tuple[int, int], fished: list[tuple[str, str]]
) -> None:
    """Buy the list, take the spread out of the shelf: nothing is below zero, the spares are left, no more bought."""
    weight, other_weight, lure, other = counts
    shelf = trip(
        99, weight=weight, other_weight=other_weight, lure=lure, other=other,
        spares={"weights": spares[0], "lures": spares[1]},
    )  # fmt: skip
    bought = {(each.kind, each.name): each.quantity for each in
              shortage(shelf, [used(weight=w, lure=name) for w, name in fished])}  # fmt: skip
    there = {"trolling weight": {"32 oz": weight, "64 oz": other_weight}, "lure": {"jet": lure, "bullet": other}}
    for k, (kind, spare) in enumerate(zip(("trolling weight", "lure"), spares, strict=True)):
        taken = Counter(each[k] for each in fished)
        left = {name: n + bought.get((kind, name), 0) - taken[name] for name, n in there[kind].items()}
        assert min(left.values()) >= 0
        assert sum(left.values()) >= spare
        needed = sum(max(0, taken[name] - n) for name, n in there[kind].items())
        spared = sum(max(0, n - taken[name]) for name, n in there[kind].items())
        assert sum(n for (bought_kind, _), n in bought.items() if bought_kind == kind) == needed + max(
            0, spare - spared
        )
    assert {kind for kind, _ in bought} <= set(KINDS)
    assert all(quantity > 0 for quantity in bought.values())
