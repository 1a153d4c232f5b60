"""Everything in and out: JSON, CSV and the spreadsheet come back exactly; a file with mistakes changes nothing."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.store.rooms import HOOK, JET, full_room, put

from spreadwright.faults import Faults
from spreadwright.stock.event import happened
from spreadwright.stock.inspection import Interval
from spreadwright.stock.sheet import sheet_text
from spreadwright.store.archive import Archive, put_into, take_out
from spreadwright.store.archive_csv import read_folder, write_folder
from spreadwright.store.archive_json import from_json, to_json
from spreadwright.store.open import Store, open_store
from spreadwright.store.room import all_events, change_piece, read_room, record
from spreadwright.store.room_boats import add_boat, sign_on
from spreadwright.store.room_lists import set_interval
from spreadwright.store.room_photos import add_photo
from spreadwright.store.room_sheet import take_sheet
from spreadwright.store.room_walk import begin_walk, count_in_walk
from spreadwright.store.steps import every_step

# Texts that have bitten others: formulas, quotes, separators, line ends, apostrophes, other scripts.
NASTY = [
    "=1+1",
    "'",
    "''x",
    "",
    "a,b;c\td",
    'say "wet"',
    "two\nlines",
    "two\r\nlines",
    "\r",
    "åäö 漁 🎣",
    " edge ",
    "-3",
    "@x",
]


def everything(store: Store) -> None:
    """A store with something in every table of the room."""
    kettle = add_boat(store, "Second Kettle", "=note")
    sign_on(store, kettle, "Odile", "captain")
    pieces = full_room(store)
    put(store, "hook", HOOK, 3, boat=kettle.id, place="left drawer")
    change_piece(store, replace(pieces["lure"], price=Decimal("12.50"), note="'=ok\r\nmore", bag=""))
    for text in NASTY:
        record(store, happened(pieces["hook"].id, "inspect", note=text, who=text))
    record(store, happened(pieces["lure"].id, "trolled", hours=0.1 + 0.2))
    record(store, happened(pieces["lure"].id, "fault", 1, why="dull hook"))
    add_photo(store, pieces["lure"].id, b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    walk = begin_walk(store)
    count_in_walk(store, walk.id, pieces["hook"].id, 4)
    set_interval(store, "lure", Interval(None, 5.5))


def same(one: Store, other: Store) -> None:
    assert take_out(one) == take_out(other)
    assert to_json(take_out(one)) == to_json(take_out(other))
    assert read_room(one) == read_room(other)
    assert all_events(one) == all_events(other)


def test_json_and_csv_come_back_exactly_and_from_one_database_to_the_other(store: Store, tmp_path: Path) -> None:
    everything(store)
    with open_store(tmp_path / "json.sqlite") as copy:
        put_into(copy, from_json(to_json(take_out(store))))
        same(store, copy)
    write_folder(take_out(store), tmp_path / "csv")
    with open_store(tmp_path / "csv.sqlite") as copy:
        archive, places = read_folder(tmp_path / "csv")
        put_into(copy, archive, places)
        same(store, copy)


def test_what_came_in_can_be_written_on(store: Store, tmp_path: Path) -> None:
    with open_store(tmp_path / "first.sqlite") as first:
        hook = put(first, "hook", HOOK, 6)
        archive = take_out(first)
    put_into(store, archive)
    record(store, happened(hook.id, "use", 2))
    assert read_room(store).state(hook).fit == 4


PRINTABLE = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=30)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(PRINTABLE, st.integers(0, 9), st.floats(0.01, 900.0)), min_size=1, max_size=6))
def test_any_words_and_numbers_come_back_exactly(noted) -> None:
    with TemporaryDirectory() as folder, open_store(Path(folder) / "a.sqlite") as store:
        hook = put(store, "hook", HOOK, 0)
        for words, number, hours in noted:
            record(
                store,
                happened(hook.id, "count", number, note=words),
                happened(hook.id, "trolled", hours=hours, who=words),
            )
        archive = take_out(store)
        assert from_json(to_json(archive)) == archive
        write_folder(archive, Path(folder) / "csv")
        assert read_folder(Path(folder) / "csv")[0] == archive


def test_the_format_says_what_it_is(store: Store) -> None:
    """Files written today must be readable tomorrow: the name and number change only together with a reader."""
    whole = json.loads(to_json(take_out(store)))
    assert (whole["format"], whole["version"]) == ("spreadwright archive", 1)
    assert whole["steps"][:2] == ["s0001_boats_and_crew", "s0002_tackle_room"]
    assert set(whole["tables"]) >= {"boats", "crew", "pieces", "events", "photos", "walks", "walk_counts", "lists"}


def test_a_store_that_is_not_empty_takes_no_archive(store: Store) -> None:
    put(store, "hook", HOOK, 6)
    before = take_out(store)
    with pytest.raises(Faults, match="into an empty store"):
        put_into(store, before)
    assert take_out(store) == before


def test_an_archive_of_an_older_program_is_brought_forward(tmp_path: Path) -> None:
    older = [step for step in every_step() if step.name < "s0002"]
    with open_store(tmp_path / "old.sqlite", steps=older) as old, old.writing() as connection:
        connection.exec_driver_sql("INSERT INTO boats VALUES ('" + "1" * 32 + "', 'Second Kettle', '')")
    rows = [{"id": "1" * 32, "name": "Second Kettle", "note": ""}]
    archive = Archive(tuple(step.name for step in older), {"boats": rows, "crew": []})
    with open_store(tmp_path / "new.sqlite") as store:
        put_into(store, archive)
        assert take_out(store).tables["boats"] == rows
        assert take_out(store).steps == tuple(step.name for step in every_step())


def spoiled(store: Store, change) -> Archive:
    whole = json.loads(to_json(take_out(store)))
    change(whole["tables"])
    return from_json(json.dumps(whole))


CHANGES = {
    "a word for a number": (lambda t: t["events"][1].update(quantity="three"), "events[2], quantity", "a whole number"),
    "no piece": (lambda t: t["events"][1].update(piece_id="f" * 32), "events[2], piece_id", "a row of pieces"),
    "twice": (lambda t: t["pieces"].append(t["pieces"][0]), "pieces[9], id", "stands once"),
    "an unknown column": (lambda t: t["pieces"][0].update(colour="red"), "pieces[1], colour", "columns are"),
    "a missing column": (lambda t: t["pieces"][0].pop("kind"), "pieces[1], kind", "every row has"),
    "an unknown table": (lambda t: t.update(recipes=[]), "recipes", "tables are"),
    "below zero": (lambda t: t["events"][1].update(kind="use"), "events[2]", "below zero"),
    "an event of no kind": (lambda t: t["events"][1].update(kind="stolen"), "events[2]", "is one of"),
    "not that gear": (lambda t: t["pieces"][0].update(what='{"fins": 3}'), "pieces[1], what", "must describe a"),
    "no time": (lambda t: t["events"][1].update(at="yesterday"), "events[2], at, price", "ISO form"),
    "nothing": (lambda t: t["pieces"][0].update(name=None), "pieces[1], name", "must not be empty"),
}


@pytest.mark.parametrize(("change", "place", "rule"), CHANGES.values(), ids=CHANGES.keys())
def test_a_spoiled_archive_says_where_and_changes_nothing(tmp_path, change, place, rule) -> None:
    with open_store(tmp_path / "a.sqlite") as store:
        full_room(store)
        archive = spoiled(store, change)
    with open_store(tmp_path / "b.sqlite") as empty:
        before = take_out(empty)
        with pytest.raises(Faults) as refused:
            put_into(empty, archive)
        assert place in [fault.place for fault in refused.value]
        assert any(rule in fault.rule for fault in refused.value)
        assert take_out(empty) == before


@pytest.mark.parametrize(
    "text", ["", "[]", "{", '{"format": "other"}', '{"format": "spreadwright archive", "version": 9}']
)
def test_a_text_that_is_no_archive_is_refused(text: str) -> None:
    with pytest.raises(Faults):
        from_json(text)


def test_mistakes_in_csv_are_named_by_file_row_and_column(tmp_path: Path) -> None:
    with open_store(tmp_path / "a.sqlite") as store:
        full_room(store)
        write_folder(take_out(store), tmp_path / "csv")
    file = tmp_path / "csv" / "events.csv"
    lines = file.read_bytes().decode("utf-8-sig").split("\r\n")
    cells = lines[2].split(",")
    lines[2] = ",".join([*cells[:5], "three", *cells[6:]])
    lines[3] += ",more"
    file.write_text("\r\n".join(lines), encoding="utf-8", newline="")
    with pytest.raises(Faults) as refused:
        read_folder(tmp_path / "csv")
    assert [fault.place for fault in refused.value] == ["events.csv row 3, quantity", "events.csv row 4"]


# ---- the spreadsheet ----------------------------------------------------------------------------
def test_the_stocktake_comes_back_as_the_same_gear_counts_and_places(store: Store, tmp_path: Path) -> None:
    pieces = full_room(store)
    record(store, happened(pieces["lure"].id, "moved", why="=left, drawer"))
    change_piece(store, replace(pieces["hook"], price=Decimal("0.85"), note="'sharp"))
    text = sheet_text(read_room(store))
    with open_store(tmp_path / "copy.sqlite") as copy:
        assert take_sheet(copy, text).new == 8
        assert sheet_text(read_room(copy)) == text
        theirs, ours = read_room(copy), read_room(store)
        assert [(p.kind, p.name, p.what, p.price, p.note) for p in theirs.pieces] == [
            (p.kind, p.name, p.what, p.price, p.note) for p in ours.pieces
        ]
        assert [theirs.state(p).fit for p in theirs.pieces] == [ours.state(p).fit for p in ours.pieces]
        before = take_out(copy)
        assert take_sheet(copy, text).counted == 0
        assert take_out(copy) == before  # taken in twice changes nothing


def test_a_sheet_counts_what_is_there_and_adds_what_is_new(store: Store) -> None:
    hook = put(store, "hook", HOOK, 6)
    text = "kind;name;count;place;strength\nhook;9/0;4;red box;250 lb\nHook;10/0;3;;\n"
    done = take_sheet(store, text, who="Bram")
    assert (done.new, done.counted, done.changed) == (1, 1, 1)
    room = read_room(store)
    assert (room.state(hook).fit, room.state(hook).place, room.state(hook).found) == (4, "red box", 4)
    assert room.fit("hook", "10/0") == 3
    assert getattr(room.piece(hook.id).what, "strength", None) == pytest.approx(250 * 4.4482216152605)


MISTAKES = """kind,name,count,mass,cable_strength,bore,strength,material,length,price
trolling wieght,a,1,32 oz,400 lb,,,,,
trolling weight,b,-1,32,400 lb,,,,,
crimp,c,2,,,2.2 mm,300 lb,,,
coil,d,3,,,,300 lb,nylon,100 m,
hook,e,1,,,,,,,cheap
hook,,1,,,,,,,
shock leader,f,1,,,,300 lb,nylonn,30 ft,
hook,g,1,,,,,,,
hook,G,2,,,,,,,
"""


def test_every_mistake_of_a_sheet_is_located_and_nothing_changes(store: Store) -> None:
    put(store, "lure", JET, 2)
    before = take_out(store)
    with pytest.raises(Faults) as refused:
        take_sheet(store, MISTAKES, "garage.csv")
    assert [fault.place for fault in refused.value] == [
        "row 2, kind", "row 3, mass", "row 3, count", "row 4, strength", "row 5, count", "row 6, price", "row 7, name",
        "row 8, material", "row 10, name",
    ]  # fmt: skip
    text = str(refused.value)
    for said in (
        "did you mean 'trolling weight'?",
        "a bare number has no unit",
        "a crimp has no strength",
        "row 9 has",
    ):
        assert said in text
    assert take_out(store) == before


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "there must be a column 'kind'"),
        ("kind,name\n", "no row"),
        ("kind,name,cuont\nhook,a,1\n", "did you mean 'count'?"),
        ("kind,name,name\nhook,a,b\n", "each heading stands once"),
        ('kind,name\nhook,"a\n', "cannot be read"),
    ],
)
def test_a_table_that_is_none_is_refused(store: Store, text: str, told: str) -> None:
    with pytest.raises(Faults) as refused:
        take_sheet(store, text)
    assert told in str(refused.value)


def test_every_number_of_every_kind_comes_back_with_all_its_digits() -> None:
    """The sheet names a unit for every field that has one: a field without would be refused on its way back."""
    from spreadwright.stock.kinds import KINDS, written
    from spreadwright.stock.piece import piece_of
    from spreadwright.stock.replay import State
    from spreadwright.stock.room import Room
    from spreadwright.stock.sheet import read_sheet

    for kind in KINDS:
        given = {
            key: (info.examples or [""])[0]
            for key, info in kind.model.model_fields.items()
            if key not in ("diameter_given", "length_given", "size", "count", "drag_area_doubt")
        }
        for key in ("hooks", "colours"):
            if key in given:
                given[key] = {"hooks": 2, "colours": ["black", "purple"]}[key]
        if "count" in kind.model.model_fields:
            given["count"] = 0
        piece = piece_of(kind.name, kind.model.model_validate(given))
        (row,) = read_sheet(sheet_text(Room((piece,), {piece.id: State(fit=3)})))
        assert row.piece.what == piece.what, kind.name
        assert written(row.piece.what), kind.name
        assert row.count == 3
