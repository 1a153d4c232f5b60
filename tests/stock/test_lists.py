"""The lists: what is short of plan and spares, what the bench takes, what to buy instead, re-mark, pack and check."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.stock.fill import from_trip
from spreadwright.stock.gear import Coil
from spreadwright.stock.lists.bench import leaders_from
from spreadwright.stock.lists.ends import cut_length, end_of, tape
from spreadwright.stock.lists.equivalents import also_do, would_do
from spreadwright.stock.lists.make import make_lists
from spreadwright.stock.lists.needed import spread_over
from spreadwright.stock.lists.text import list_text
from spreadwright.stock.lists.value import TripLists
from spreadwright.stock.piece import Piece, piece_of
from spreadwright.stock.replay import OpenFault, State
from spreadwright.stock.room import Room
from spreadwright.tackle import ShockLeader, SnapSwivel, Trip, TrollingWeight, read_trip
from spreadwright.tackle.fields import Tackle

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "trip.toml"
WHEN = datetime(2031, 3, 1, tzinfo=UTC)


@dataclass(frozen=True)
class Near:
    usual: float
    low: float
    high: float


@dataclass(frozen=True)
class Rod:
    """A rod of a plan, with all that the lists ask of one."""

    rod: str = "red 130"
    weight: str = "32 oz torpedo"
    shock_leader: str = "30 ft of 300 lb"
    bite_leader: str = "3 ft of 270 lb wire"
    lure: str = "black-red jet 9 in"
    swivel: str = "300 lb ball bearing"
    mark: float = 30.48
    runs_at: Near = field(default=Near(32.0, 31.5, 32.5))
    slack_to_measure: Near = field(default=Near(29.0, 28.6, 29.4))
    strike_drag: float = 100.0


@pytest.fixture(scope="module")
def trip() -> Trip:
    """The demo, with no spares wished for."""
    asked = read_trip(DEMO)
    return asked.model_copy(update={"spares": type(asked.spares)()})


def room_with(trip: Trip, *more: tuple[Piece, int], without: tuple[str, ...] = (), work: str = "") -> Room:
    """The demo's shelf as a room; more pieces, and some counted down to none."""
    found = [(each.piece, each.count) for each in from_trip(trip)] + list(more)
    states = {p.id: State(fit=0 if p.name in without else count, since=WHEN) for p, count in found}
    for piece, _ in found:
        if piece.name == work:
            states[piece.id] = State(fit=0, work=(OpenFault("f" * 32, piece.id, "dull hook", 1, WHEN),), since=WHEN)
    return Room(tuple(piece for piece, _ in found), states)


def coil(metres: float, full: float = 100.0, price: str = "") -> tuple[Piece, int]:
    what = Coil.model_validate({"name": "300 lb coil", "material": "nylon", "strength": "300 lb", "diameter": "1.8 mm",
                                "length": f"{full} m"})  # fmt: skip
    piece = piece_of("coil", what)
    if price:
        piece = Piece(piece.id, "coil", piece.name, what, price=Decimal(price))
    return piece, round(1000.0 * metres)


def lists(trip: Trip, rods: list[Rod], room: Room, **more: object) -> TripLists:
    """With no hours trolled no spares are computed: the lists hold what is fished and wished."""
    return make_lists(trip, rods, room, hours=0.0, today=date(2031, 3, 2), **more)  # type: ignore[arg-type]


def bought(made: TripLists) -> dict[str, int]:
    return {item.name: item.amount for item in made.list("buy").items}


def test_a_shelf_that_has_all_leaves_nothing_to_buy_or_make(trip) -> None:
    made = lists(trip, [Rod()], room_with(trip))
    assert (made.list("buy").items, made.list("bench").items) == ((), ())


def test_what_is_fished_beyond_the_shelf_is_bought(trip) -> None:
    made = lists(trip, [Rod(), Rod(rod="blue 130"), Rod(rod="green 80")], room_with(trip))
    assert bought(made) == {"32 oz torpedo": 1, "black-red jet 9 in": 2}
    (weight, _) = made.list("buy").items
    assert (weight.group, weight.said) == ("weights", "1 x 32 oz torpedo")
    assert weight.details[0] == "3 fished and 0 spare, 2 fit in the room"


def test_what_needs_work_is_not_fit_and_is_offered_for_mending(trip) -> None:
    made = lists(trip, [Rod()], room_with(trip, work="black-red jet 9 in"))
    (lure,) = made.list("buy").items
    assert lure.amount == 1
    assert "1 on the work list: dull hook" in lure.details
    assert any(item.group == "work list" for item in made.list("night before").items)


def test_spares_are_met_by_what_is_left_over_and_the_rest_follows_what_is_fished(trip) -> None:
    wishing = trip.model_copy(update={"spares": trip.spares.model_copy(update={"lures": 9})})
    # 8 lures on the shelf, one of them fished: 7 are left over, 2 are to be bought of the one that is fished.
    made = lists(wishing, [Rod()], room_with(wishing))
    assert bought(made) == {"black-red jet 9 in": 2}
    assert sum(item.amount for item in made.list("pack").items if item.kind == "lure") == 10


def test_more_hours_carry_more_spares_and_say_with_what_chance(trip) -> None:
    made = make_lists(trip, [Rod()], room_with(trip), hours=600.0, chance=0.9, today=date(2031, 3, 2))
    assert any(
        re.search(r"\d spare for all \w[\w ]+ last with (?:over )?\d+ % chance", line)
        for item in made.list("buy").items
        for line in item.details
    )
    assert "600 line-hours that last with 90 % chance" in made.notes[0]


# ---- the bench ----------------------------------------------------------------------------------
def test_the_bench_by_hand(trip) -> None:
    """Two leaders of 30 ft in 1.8 mm nylon with crimps: 9.144 m and twice 80 mm + 15 x 1.8 mm = 107 mm make 9.358 m,
    cut at 9.36 m. A 100 m coil gives 10 of them; 18.72 m and 4 sleeves are taken."""
    rods = [Rod(), Rod(rod="blue 130", weight="24 oz torpedo", lure="black-orange bullet 7 in")]
    made = lists(trip, rods, room_with(trip, coil(100.0), without=("30 ft of 300 lb",)))
    (job,) = made.list("bench").items
    assert (job.said, job.amount) == ("2 x 30 ft of 300 lb", 2)
    assert [(part.kind, part.name, part.amount) for part in job.takes] == [
        ("coil", "300 lb coil", 18_720), ("crimp", "1.8 mm double sleeve", 4),
    ]  # fmt: skip
    text = "\n".join(job.details)
    assert "what lies there gives 10" in text
    assert "1. cut 30 ft 9 in (finished 30 ft, and crimp at both ends)" in text
    assert "pull-test at 22.5 lb, the strike drag" in text
    assert bought(made) == {}  # four sleeves are there


def test_a_coil_that_is_too_short_is_bought_in_whole_coils(trip) -> None:
    rods = [Rod(rod=name, weight=weight, lure=lure) for name, weight, lure in (
        ("red 130", "32 oz torpedo", "black-red jet 9 in"), ("blue 130", "24 oz torpedo", "black-orange bullet 7 in"),
    )]  # fmt: skip
    made = lists(trip, rods, room_with(trip, coil(10.0, price="40.00"), without=("30 ft of 300 lb",)))
    (item,) = made.list("buy").items
    assert (item.kind, item.name, item.amount, item.price) == ("coil", "300 lb coil", 100_000, "40.00")
    assert "the bench lacks 30 ft 9 in" in item.details
    assert made.list("buy").notes == ("known prices add up to 40.00",)


def test_sleeves_short_at_the_bench_are_bought_with_the_spares_wished(trip) -> None:
    wishing = trip.model_copy(update={"spares": trip.spares.model_copy(update={"crimps": 10})})
    rods = [Rod()]
    made = lists(wishing, rods, room_with(wishing, coil(100.0), without=("30 ft of 300 lb", "1.8 mm double sleeve")))
    # Two for the bench, none of its size there; ten spare wished, six of the other size there.
    assert bought(made) == {"1.8 mm double sleeve": 2 + (10 - 6)}


def test_spares_over_all_sizes_are_told_once_and_what_is_left_counts(trip) -> None:
    """Twelve spare are wished over both sizes. Two go into the leader, of six there: four of them are left, and with
    the four of the other size that makes eight."""
    wishing = trip.model_copy(update={"spares": trip.spares.model_copy(update={"crimps": 12})})
    room = room_with(wishing, coil(100.0), without=("30 ft of 300 lb",))
    there = {piece.name: room.fit("crimp", piece.name) for piece in room.pieces if piece.kind == "crimp"}
    made = lists(wishing, [Rod()], room)
    (name,) = bought(made)
    assert bought(made)[name] == 12 - (sum(there.values()) - 2)
    (item,) = (item for item in made.list("buy").items if item.kind == "crimp")
    lacking = bought(made)[name]
    assert item.details[0] == (
        f"2 for the bench, {there[name]} in the room; {lacking} of them so that 12 spare are left over all sizes"
    )


def test_the_whole_length_is_the_sum_of_the_pieces_as_they_are_cut(trip) -> None:
    """9.36 m is 30 ft 8.5 in: three pieces of 30 ft 9 in are 92 ft 3 in, not 92 ft 2 in."""
    rods = [Rod(rod=name) for name in ("red 130", "blue 130", "green 80")]
    made = lists(trip, rods, room_with(trip, coil(100.0), without=("30 ft of 300 lb",)))
    assert "92 ft 3 in of 300 lb coil (30 ft 9 in each;" in "\n".join(made.list("bench").items[0].details)
    made = lists(trip, rods, room_with(trip, without=("30 ft of 300 lb",)))
    assert any(item.said.startswith("92 ft 3 in of 300 lb") for item in made.list("buy").items)


def test_single_strand_takes_no_sleeves_and_a_known_joint_is_followed(trip) -> None:
    wire = next(leader for leader in trip.shelf.bite_leaders if leader.material == "single strand")
    end = end_of(wire, "us")
    assert (end.joint, end.crimps) == ("haywire twist", 0)
    knotted = ShockLeader.model_validate({"name": "k", "strength": "300 lb", "length": "30 ft", "count": 0,
                                          "joint": "uni knot"})  # fmt: skip
    assert (end_of(knotted, "us").joint, end_of(knotted, "us").crimps) == ("uni knot", 0)


@given(st.floats(0.1, 30.0), st.floats(40.0, 600.0))
def test_a_cut_is_never_shorter_than_the_leader_and_its_ends(length, pounds) -> None:
    leader = ShockLeader.model_validate({"name": "x", "strength": f"{pounds} lb", "length": length, "count": 0})
    whole = leader.length + 2.0 * end_of(leader, "metric").allowance
    assert whole - 1e-9 <= cut_length(leader) <= whole + 0.0101


@given(st.integers(0, 500_000), st.integers(1, 200_000), st.integers(1, 60_000))
def test_a_coil_never_gives_more_than_it_has_and_no_coil_is_joined(there, full, cut) -> None:
    number = leaders_from(there, full, cut)
    assert number * cut <= there
    left, by_hand = there, 0
    while left > 0:  # one coil after the other, cut until it is too short
        one = min(full, left)
        by_hand += one // cut
        left -= one
    assert number == by_hand


@given(st.floats(0.001, 300.0))
def test_a_tape_never_measures_short_by_more_than_nothing(length) -> None:
    from spreadwright.quantity import read

    assert length - 1e-6 <= read(tape(length, "us"), "length") <= length + 0.0254 + 1e-6
    assert length - 1e-6 <= read(tape(length, "metric"), "length") <= length + 0.01 + 1e-6


@given(st.integers(0, 60), st.dictionaries(st.sampled_from("abcdef"), st.integers(1, 9), min_size=1))
def test_spreading_keeps_the_sum_and_is_fair(total, pattern) -> None:
    spread = spread_over(total, Counter(pattern))
    assert sum(spread.values()) == total
    for name, count in pattern.items():
        assert abs(spread[name] - total * count / sum(pattern.values())) < 1.0


# ---- in place of --------------------------------------------------------------------------------
def swivel(pounds: int) -> Tackle:
    return SnapSwivel.model_validate({"name": f"{pounds}", "strength": f"{pounds} lb", "count": 0})


def weight(ounces: int, shape: str = "torpedo") -> Tackle:
    return TrollingWeight.model_validate(
        {"name": f"{ounces} {shape}", "mass": f"{ounces} oz", "shape": shape, "cable_strength": "480 lb", "count": 0}
    )


def test_what_would_also_do_is_near_in_what_matters() -> None:
    assert would_do(swivel(300), swivel(480))
    assert not would_do(swivel(300), swivel(250))
    assert would_do(weight(32), weight(34))
    assert not would_do(weight(32), weight(48))
    assert not would_do(weight(32), weight(32, "egg"))
    assert not would_do(weight(32), swivel(300))
    assert also_do(swivel(300), "us") == "any snap swivel rated 300 lb to 510 lb"


def test_a_spare_piece_in_the_room_that_would_do_is_named(trip) -> None:
    other = piece_of("trolling weight", weight(34))
    made = lists(trip, [Rod()], room_with(trip, (other, 2), without=("32 oz torpedo",)))
    (item,) = made.list("buy").items
    assert "in the room would do: 2 x 34 torpedo" in item.details


# ---- marks, bags, the night before ----------------------------------------------------------------
def test_marks_are_listed_where_the_gear_runs_elsewhere(trip) -> None:
    stands = Rod(rod="blue 130", slack_to_measure=Near(30.3, 29.9, 30.7))
    made = lists(trip, [Rod(), stands], room_with(trip))
    (item,) = made.list("re-mark").items
    assert item.said == "red 130: mark 100 ft"
    assert item.details[1] == "for 100 ft, tie the mark at 95.1 ft of slack line (give or take 1.3 ft)"


def test_a_frayed_mark_is_listed_whatever_its_length(trip) -> None:
    room = room_with(trip)
    rod = next(piece for piece in room.pieces if piece.name == "blue 130")
    frayed = State(fit=0, work=(OpenFault("f" * 32, rod.id, "frayed or slipped mark", 1, WHEN),))
    worn = Room(room.pieces, {**room.states, rod.id: frayed})
    made = lists(trip, [Rod(rod="blue 130", slack_to_measure=Near(30.48, 30.0, 31.0))], worn)
    assert made.list("re-mark").items[0].details == ("on the work list: frayed or slipped mark",)


def test_everything_that_is_fished_is_packed_in_its_bag_with_its_place(trip) -> None:
    room = room_with(trip)
    lure = next(piece for piece in room.pieces if piece.name == "black-red jet 9 in")
    room = Room(room.pieces, {**room.states, lure.id: State(fit=1, place="left drawer")})
    packed = {item.said: item for item in lists(trip, [Rod()], room).list("pack").items}
    for said, bag in (("rod red 130", "rod rack"), ("1 x 32 oz torpedo", "weight crate"),
                      ("1 x 30 ft of 300 lb", "leader wallet"), ("1 x black-red jet 9 in", "lure roll"),
                      ("1 x 300 lb ball bearing", "terminal box"), ("long dehooker", "tool bag")):  # fmt: skip
        assert packed[said].group == bag
    assert "lies in: left drawer" in packed["1 x black-red jet 9 in"].details


def test_what_is_overdue_and_goes_along_is_looked_at_the_night_before(trip) -> None:
    made = make_lists(trip, [Rod()], room_with(trip), hours=0.0, today=date(2031, 12, 1))
    late = {item.name for item in made.list("night before").items if item.group == "to be inspected"}
    assert {"red 130", "black-red jet 9 in", "32 oz torpedo"} <= late
    assert "blue 130" not in late


def test_lists_are_text_with_ticks_and_json_that_comes_back(trip) -> None:
    made = lists(trip, [Rod(), Rod(rod="blue 130"), Rod(rod="green 80")], room_with(trip))
    assert TripLists.model_validate_json(made.model_dump_json()) == made
    buy = made.list("buy")
    text = list_text(buy, {buy.items[0].id})
    assert text.startswith("TO BUY\n- weights\n  [x] 1 x 32 oz torpedo\n")
    assert "  [ ] 2 x black-red jet 9 in" in text
    again = lists(trip, [Rod(), Rod(rod="blue 130"), Rod(rod="green 80")], room_with(trip))
    assert [item.id for item in again.list("buy").items] == [item.id for item in buy.items]
    every = [item.id for each in made.lists for item in each.items]
    assert len(set(every)) == len(every)
