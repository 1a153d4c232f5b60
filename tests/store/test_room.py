"""The room over a store, on both databases: kept or not at all, found again as it was, each boat with its own."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from tests.store.rooms import COIL, EVERYTHING, HOOK, JET, SLEEVE, full_room, put

from spreadwright.faults import Faults
from spreadwright.stock.event import happened, now
from spreadwright.stock.fill import from_trip
from spreadwright.stock.lists.value import Taken
from spreadwright.stock.piece import piece_of
from spreadwright.stock.replay import end_of
from spreadwright.store.open import Store, open_store
from spreadwright.store.room import add_pieces, all_events, change_piece, history_of, read_room, record
from spreadwright.store.room_boats import add_boat, every_boat, find_boat, sign_on
from spreadwright.store.room_photos import LARGEST, add_photo, photo_content, photos_of
from spreadwright.store.room_walk import begin_walk, count_in_walk, drop_walk, finish_walk, open_walk
from spreadwright.store.room_work import lose_rig, make_up, put_in

PNG = b"\x89PNG\r\n\x1a\n" + b"\0" * 100


def test_pieces_come_back_as_they_were(where: str) -> None:
    with open_store(where) as store:
        pieces = full_room(store)
        change_piece(store, replace(pieces["lure"], price=Decimal("12.50"), bag="blue bag", note="'=ok\n2"))
    with open_store(where) as store:
        room = read_room(store)
    assert [piece.kind for piece in room.pieces] == [kind for kind, _, _ in EVERYTHING]
    for kind, what, count in EVERYTHING:
        piece = next(piece for piece in room.pieces if piece.kind == kind)
        assert piece.what == what
        assert room.state(piece).fit == count
    lure = room.find("JET")
    assert (lure.price, lure.bag, lure.note) == (Decimal("12.50"), "blue bag", "'=ok\n2")


def test_several_events_are_kept_together_or_not_at_all(store: Store) -> None:
    pieces = full_room(store)
    before = read_room(store)
    with pytest.raises(Faults, match="no count ever goes below zero"):
        record(store, happened(pieces["hook"].id, "use", 2), happened(pieces["lure"].id, "use", 3))
    assert read_room(store) == before
    record(store, happened(pieces["hook"].id, "use", 2), happened(pieces["lure"].id, "use", 2))
    assert [read_room(store).state(pieces[kind]).fit for kind in ("hook", "lure")] == [4, 0]


def test_an_event_sent_twice_is_written_once_and_never_changed(store: Store) -> None:
    hook = put(store, "hook", HOOK, 5)
    used = happened(hook.id, "use", 2)
    record(store, used)
    record(store, used)
    assert read_room(store).state(hook).fit == 3
    with pytest.raises(Faults, match="never changed"):
        record(store, replace(used, quantity=1))


def test_an_earlier_use_that_later_events_cannot_bear_is_refused(store: Store) -> None:
    hook = put(store, "hook", HOOK, 2)
    record(store, happened(hook.id, "use", 2))
    with pytest.raises(Faults, match="below zero"):
        record(store, happened(hook.id, "use", 1, at=now() - timedelta(days=3)))


def test_an_event_of_no_piece_and_a_double_piece_are_refused(store: Store) -> None:
    put(store, "hook", HOOK, 2)
    with pytest.raises(Faults, match="belongs to a piece"):
        record(store, happened("f" * 32, "buy", 1))
    with pytest.raises(Faults, match="of that name already"):
        add_pieces(store, [piece_of("hook", HOOK)])
    with pytest.raises(Faults, match="not in the room"):
        change_piece(store, piece_of("lure", JET))


def test_yesterday_is_rebuilt(store: Store) -> None:
    piece = piece_of("hook", HOOK)
    day = datetime(2031, 3, 8, 10, tzinfo=UTC)
    add_pieces(store, [piece], [happened(piece.id, "count", 5, at=day)])
    record(store, happened(piece.id, "use", 2, at=day + timedelta(days=1)))
    assert read_room(store, end_of(day.date())).state(piece).fit == 5
    assert read_room(store).state(piece).fit == 3
    assert [(line.before, line.after) for line in history_of(store, piece.id)] == [(0, 5), (5, 3)]


def test_a_walk_stops_and_goes_on_and_only_its_end_changes_counts(where: str) -> None:
    with open_store(where) as store:
        pieces = full_room(store)
        walk = begin_walk(store, who="Bram")
        assert walk.next is not None
        assert walk.next.piece == pieces["trolling weight"]
        count_in_walk(store, walk.id, pieces["trolling weight"].id, 1)
        count_in_walk(store, walk.id, pieces["hook"].id, 9)
        count_in_walk(store, walk.id, pieces["hook"].id, 7)
    with open_store(where) as store:  # another day
        walk = begin_walk(store)
        assert (walk.done, walk.next.piece.kind if walk.next else "") == (2, "shock leader")
        assert [(stop.expected, stop.counted) for stop in walk.differences] == [(3, 1), (6, 7)]
        assert read_room(store).state(pieces["hook"]).fit == 6
        before = len(all_events(store))
        finish_walk(store, walk.id)
        room = read_room(store)
        assert (room.state(pieces["hook"]).fit, room.state(pieces["trolling weight"]).fit) == (7, 1)
        assert room.state(pieces["shock leader"]).fit == 2
        assert len(all_events(store)) == before + 2
        assert history_of(store, pieces["hook"].id)[-1].event.who == "Bram"
        assert open_walk(store) is None
        with pytest.raises(Faults, match="a walk that was finished"):
            finish_walk(store, walk.id)


def test_what_is_used_between_count_and_end_is_taken_off(store: Store) -> None:
    hook = put(store, "hook", HOOK, 6)
    walk = begin_walk(store)
    count_in_walk(store, walk.id, hook.id, 5)
    record(store, happened(hook.id, "use", 2))
    finish_walk(store, walk.id)
    assert read_room(store).state(hook).fit == 3


def test_a_count_that_later_use_makes_impossible_is_named_and_the_walk_stays_open(store: Store) -> None:
    hook = put(store, "hook", HOOK, 6)
    walk = begin_walk(store)
    count_in_walk(store, walk.id, hook.id, 1)
    record(store, happened(hook.id, "use", 4))
    with pytest.raises(Faults, match="9/0"):
        finish_walk(store, walk.id)
    assert open_walk(store) is not None
    assert read_room(store).state(hook).fit == 2


def test_a_dropped_walk_leaves_no_trace(store: Store) -> None:
    hook = put(store, "hook", HOOK, 6)
    walk = begin_walk(store)
    count_in_walk(store, walk.id, hook.id, 1)
    drop_walk(store, walk.id)
    assert read_room(store).state(hook).fit == 6
    assert begin_walk(store).done == 0


@pytest.mark.parametrize("number", [-1, 10_000_001, True])
def test_a_count_that_cannot_be_is_refused(store: Store, number: int) -> None:
    hook = put(store, "hook", HOOK, 6)
    with pytest.raises(Faults, match="a whole number from 0"):
        count_in_walk(store, begin_walk(store).id, hook.id, number)


def test_making_up_moves_parts_and_pieces_together(store: Store) -> None:
    pieces = full_room(store)
    takes = [Taken(kind="coil", name=COIL.name, amount=2 * 9_360), Taken(kind="crimp", name=SLEEVE.name, amount=4)]
    make_up(store, "shock leader", "30 ft of 300 lb", 2, takes)
    room = read_room(store)
    assert [room.state(pieces[kind]).fit for kind in ("shock leader", "coil", "crimp")] == [4, 81_280, 16]
    before = room
    too_much = [*takes, Taken(kind="crimp", name=SLEEVE.name, amount=99)]
    with pytest.raises(Faults, match="below zero"):
        make_up(store, "shock leader", "30 ft of 300 lb", 2, too_much)
    with pytest.raises(Faults, match="none of that name"):
        make_up(store, "shock leader", "30 ft of 300 lb", 2, [Taken(kind="crimp", name="gold sleeve", amount=1)])
    assert read_room(store) == before


def test_a_lost_rig_goes_whole_or_not_at_all(store: Store) -> None:
    pieces = full_room(store)
    rig = [("trolling weight", "32 oz"), ("shock leader", "30 ft of 300 lb"), ("lure", "jet")]
    lose_rig(store, rig, "bitten off")
    lose_rig(store, rig, "broken off")
    with pytest.raises(Faults, match="below zero"):
        lose_rig(store, rig, "bitten off")
    room = read_room(store)
    assert [room.state(pieces[kind]).fit for kind, _ in rig] == [1, 0, 0]


def test_each_boat_has_its_own_and_what_is_shared(store: Store) -> None:
    kettle, skiff = add_boat(store, "Second Kettle"), add_boat(store, "Grey Skiff")
    sign_on(store, kettle, "Odile", "captain")
    put(store, "hook", HOOK, 3, boat=kettle.id)
    put(store, "hook", HOOK, 5, boat=skiff.id)
    put(store, "lure", JET, 2)
    assert read_room(store).of(kettle.id).fit("hook", "9/0") == 3
    assert read_room(store).of(skiff.id).fit("hook", "9/0") == 5
    assert read_room(store).fit("hook", "9/0") == 8
    assert read_room(store).of(skiff.id).fit("lure", "jet") == 2
    assert [(boat.name, [member.name for member in boat.crew]) for boat in every_boat(store)] == [
        ("Grey Skiff", []), ("Second Kettle", ["Odile"]),
    ]  # fmt: skip
    with pytest.raises(Faults, match="already"):
        add_boat(store, "second kettle")
    with pytest.raises(Faults, match="stands once on the crew"):
        sign_on(store, kettle, "Odile")
    with pytest.raises(Faults, match="Grey Skiff, Second Kettle"):
        find_boat(store, "Third Kettle")


def test_two_walks_of_two_boats_do_not_meet(store: Store) -> None:
    kettle, skiff = add_boat(store, "Second Kettle"), add_boat(store, "Grey Skiff")
    mine = put(store, "hook", HOOK, 3, boat=kettle.id)
    put(store, "hook", HOOK, 5, boat=skiff.id)
    one, other = begin_walk(store, kettle.id), begin_walk(store, skiff.id)
    assert one.id != other.id
    assert [stop.piece.id for stop in one.stops] == [mine.id]


def test_photos_are_pictures_of_a_sensible_size(store: Store) -> None:
    lure = put(store, "lure", JET, 1)
    kept = add_photo(store, lure.id, PNG, note="chewed")
    assert photo_content(store, kept.id) == ("image/png", PNG)
    assert [(photo.type, photo.note) for photo in photos_of(store, lure.id)] == [("image/png", "chewed")]
    for content in (b"<svg onload='x'>" + b" " * 100, b"", PNG[:20], b"GIF89a" + b"\0" * 100):
        with pytest.raises(Faults, match="JPEG, PNG or WebP"):
            add_photo(store, lure.id, content)
    with pytest.raises(Faults, match="at most 8 MB"):
        add_photo(store, lure.id, PNG + b"\0" * LARGEST)
    with pytest.raises(Faults, match="belongs to a piece"):
        add_photo(store, "f" * 32, PNG)
    assert len(photos_of(store, lure.id)) == 1


def test_a_trip_fills_an_empty_room_once(store: Store) -> None:
    from pathlib import Path

    from spreadwright.tackle import read_trip

    trip = read_trip(Path(__file__).parents[2] / "examples" / "demo" / "trip.toml")
    assert len(put_in(store, from_trip(trip))) == 22 + len(trip.outfits)
    lure = read_room(store).find("black-red jet 9 in")
    record(store, happened(lure.id, "use", 1))
    assert put_in(store, from_trip(trip)) == ()
    assert read_room(store).state(lure).fit == 0


def test_a_name_is_found_whatever_its_case_and_near_ones_are_offered(store: Store) -> None:
    full_room(store)
    room = read_room(store)
    assert room.find("30 FT OF 300 LB").kind == "shock leader"
    with pytest.raises(Faults, match="did you mean '32 oz'"):
        room.find("32 ozz")
