"""Bringing a store back to a copy: exactly as it was, with what was there kept; a damaged copy changes nothing."""

from __future__ import annotations

import datetime
import json
import sqlite3
from pathlib import Path

import pytest
from tests.store.rooms import full_room
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.faults import Faults
from spreadwright.stock.event import happened
from spreadwright.stock.piece import Piece
from spreadwright.store.archive import take_out
from spreadwright.store.archive_json import to_json
from spreadwright.store.backup import back_up_before, back_up_today, backup_folder
from spreadwright.store.open import open_store
from spreadwright.store.place import place_of
from spreadwright.store.restore import copies, restore
from spreadwright.store.room import read_room, record
from spreadwright.store.steps import Step, every_step

DAY = datetime.date(2031, 3, 8)
COPY = "day-2031-03-08"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "garage.sqlite"


@pytest.fixture
def hook(file: Path) -> Piece:
    """A store with a copy of a day on which it held a room; since then two hooks were used up."""
    with open_store(file) as store:
        hook = full_room(store)["hook"]
        back_up_today(file, DAY)
        record(store, happened(hook.id, "use", 2))
    return hook


def everything(file: Path) -> str:
    with open_store(file) as store:
        return to_json(take_out(store))


def hooks(file: Path, hook: Piece) -> int:
    with open_store(file) as store:
        return read_room(store).state(hook).fit


def run(file: Path, *words: str) -> Result:
    return CliRunner().invoke(app, ["room", "restore", *words, "--store", str(file)])


def tear(file: Path) -> None:
    content = bytearray(file.read_bytes())
    content[3 * 4096 : 7 * 4096] = b"\xff" * (4 * 4096)
    file.write_bytes(content)


def test_the_store_stands_as_in_the_copy_and_what_was_there_is_kept(file: Path, hook: Piece) -> None:
    now = everything(file)
    with open_store(backup_folder(file) / f"{COPY}.sqlite") as copy:
        then = to_json(take_out(copy))
    done = restore(place_of(file), COPY)
    assert everything(file) == then
    assert hooks(file, hook) == 6
    assert restore(place_of(file), done.before).copy.name == done.before
    assert everything(file) == now
    assert hooks(file, hook) == 4


def test_who_has_the_store_open_meanwhile_works_on_with_what_was_brought_back(file: Path, hook: Piece) -> None:
    with open_store(file) as open_all_along:
        assert read_room(open_all_along).state(hook).fit == 4
        with open_all_along.reading() as connection:
            before = connection.exec_driver_sql("SELECT count(*) FROM events").scalar_one()
            restore(place_of(file), COPY)
            assert connection.exec_driver_sql("SELECT count(*) FROM events").scalar_one() == before  # one moment
        assert read_room(open_all_along).state(hook).fit == 6
        record(open_all_along, happened(hook.id, "use", 1))
    assert hooks(file, hook) == 5
    looking = sqlite3.connect(file)
    assert looking.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert looking.execute("PRAGMA foreign_key_check").fetchall() == []
    assert looking.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    looking.close()


def test_a_damaged_copy_is_refused_and_nothing_changes(file: Path, hook: Piece) -> None:
    with open_store(file) as store:
        back_up_today(file, DAY + datetime.timedelta(days=1))
        for at in range(200):
            record(store, happened(hook.id, "buy", 1, note=f"box {at}" * 20))
        back_up_today(file, DAY + datetime.timedelta(days=2))
    before, torn = everything(file), "day-2031-03-10"
    tear(backup_folder(file) / f"{torn}.sqlite")
    there = [copy.name for copy in copies(place_of(file))]
    with pytest.raises(Faults, match="only a sound copy is brought back") as refused:
        restore(place_of(file), torn)
    assert "take a sound one, such as day-" in str(refused.value)
    assert everything(file) == before
    assert [copy.name for copy in copies(place_of(file))] == there
    told = run(file)
    assert told.exit_code == 0
    (line,) = [line for line in told.stdout.splitlines() if "cannot be brought back" in line]
    assert "damaged" in line


@pytest.mark.parametrize("spoil", ["rows", "newer", "foreign"])
def test_a_copy_that_is_not_ours_as_a_whole_is_refused(file: Path, hook: Piece, spoil: str) -> None:
    connection = sqlite3.connect(backup_folder(file) / f"{COPY}.sqlite")
    connection.execute(
        {"rows": "DELETE FROM pieces", "newer": "INSERT INTO schema_steps VALUES ('s9999_next', '')",
         "foreign": "PRAGMA application_id = 7"}[spoil]
    )  # fmt: skip
    connection.commit()
    connection.close()
    said = {"rows": "rows refer to nothing", "newer": "newer spreadwright .*s9999_next", "foreign": "not made by"}
    with pytest.raises(Faults, match=said[spoil]):
        restore(place_of(file), COPY)
    assert hooks(file, hook) == 4


def test_a_damaged_store_gives_way_and_is_kept_as_it_is(file: Path, hook: Piece) -> None:
    with open_store(file) as store:
        for at in range(200):
            record(store, happened(hook.id, "buy", 1, note=f"box {at}" * 20))
    tear(file)
    torn = file.read_bytes()
    with pytest.raises(Faults, match="spreadwright room restore"):
        open_store(file)
    done = restore(place_of(file), COPY)
    assert hooks(file, hook) == 6
    assert (backup_folder(file) / f"{done.before}.sqlite").read_bytes() == torn
    with pytest.raises(Faults, match="damaged"):
        restore(place_of(file), done.before)


def test_a_store_that_is_gone_comes_back(file: Path, hook: Piece) -> None:
    for side in ("", "-wal", "-shm"):
        file.with_name(file.name + side).unlink(missing_ok=True)
    assert restore(place_of(file), COPY).before == ""
    assert hooks(file, hook) == 6


def test_a_copy_of_an_older_layout_is_brought_forward_again(file: Path, hook: Piece) -> None:
    newer = (*every_step(), Step("s8000_good", lambda op: op.execute("CREATE TABLE gaffs (id TEXT)")))
    back_up_before(file, "s8000_good")
    open_store(file, steps=newer).close()
    restore(place_of(file), COPY)  # its layout is that of before the step
    connection = sqlite3.connect(file)
    assert connection.execute("SELECT count(*) FROM sqlite_master WHERE name = 'gaffs'").fetchone() == (0,)
    connection.close()
    with open_store(file, steps=newer) as store:
        assert read_room(store).state(hook).fit == 6


def test_a_restore_that_breaks_off_has_changed_nothing(
    file: Path, hook: Piece, monkeypatch: pytest.MonkeyPatch
) -> None:
    from spreadwright.store import restore as module

    before, exchange = everything(file), module._exchange

    def broken(connection: sqlite3.Connection) -> None:
        exchange(connection)
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(module, "_exchange", broken)
    with pytest.raises(Faults, match="disk is full"):
        restore(place_of(file), COPY)
    assert everything(file) == before


def test_the_command_lists_brings_back_and_takes_back(file: Path, hook: Piece) -> None:
    listed = run(file).stdout
    assert f"{COPY}\n" in listed
    assert "sound; 8 pieces or lots, 8 events, 0 entries of the log" in " ".join(listed.split())
    told = run(file, "2031-03-08")  # a part of the name that only one copy has
    assert told.exit_code == 0, told.output
    before = json.loads(run(file, COPY, "--json").stdout)["before"]
    assert run(file, before).exit_code == 0
    for wrong in ("day-1999", "replaced"):  # there are two of these
        refused = run(file, wrong)
        assert refused.exit_code == 2
        assert f"given: {wrong}" in refused.stderr
        assert COPY in refused.stderr or wrong == "replaced"


def test_only_so_many_that_were_replaced_are_kept(file: Path, hook: Piece) -> None:
    for _ in range(12):
        restore(place_of(file), COPY)
    assert len(list(backup_folder(file).glob("replaced-*.sqlite"))) == 10


def test_what_cannot_be_brought_back_here_is_said(file: Path, hook: Piece, tmp_path: Path) -> None:
    with pytest.raises(Faults, match="the server's own tools"):
        copies(place_of("postgresql://me@there/db"))
    other = tmp_path / "list.csv"
    other.write_text("name,count\n")
    backup_folder(other).mkdir()
    (backup_folder(other) / f"{COPY}.sqlite").write_bytes((backup_folder(file) / f"{COPY}.sqlite").read_bytes())
    with pytest.raises(Faults, match="left as it is"):
        restore(place_of(other), COPY)
    assert other.read_text() == "name,count\n"
    assert "no store there yet" in run(tmp_path / "new.sqlite").stderr
    assert not (tmp_path / "new.sqlite").exists()
    open_store(tmp_path / "new.sqlite").close()
    assert "No copies yet" in run(tmp_path / "new.sqlite").stdout
