"""`spreadwright room` and `spreadwright lists` as a captain runs them: in words, as JSON, with located faults."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from tests.sheets.example_plan import example_plan
from typer.testing import CliRunner, Result

from spreadwright.cli import app

DEMO = Path(__file__).parents[2] / "examples" / "demo" / "trip.toml"
LURE = "black-red jet 9 in"


class Captain:
    """Runs commands on one store."""

    def __init__(self, where: Path) -> None:
        self.where = where

    def run(self, *words: object, said: str | None = None) -> Result:
        return CliRunner().invoke(app, [*map(str, words), "--store", str(self.where)], input=said)

    def room(self, *words: object) -> str:
        told = self.run("room", *words)
        assert told.exit_code == 0, told.output
        return told.stdout

    def json(self, *words: object) -> Any:
        return json.loads(self.room(*words, "--json"))


@pytest.fixture
def captain(tmp_path: Path) -> Captain:
    """A captain whose room was filled from the demo."""
    one = Captain(tmp_path / "room.sqlite")
    assert one.json("fill", DEMO) == {"new": 28, "counted": 0, "changed": 0}
    return one


def test_an_empty_room_says_how_to_fill_it_and_which_store_was_read(tmp_path: Path) -> None:
    captain = Captain(tmp_path / "room.sqlite")
    captain.room("boat", "Kettle")
    told = captain.room("show")
    assert "room fill TRIP.toml" in told
    assert str(captain.where) in told


@pytest.mark.parametrize("words", [("room", "show"), ("room", "spares"), ("room", "restore"), ("log", "rates")])
def test_what_only_reads_makes_no_store(tmp_path: Path, words: tuple[str, ...]) -> None:
    told = Captain(tmp_path / "gone.sqlite").run(*words)
    assert told.exit_code == 2
    assert "no store there yet" in told.stderr
    assert "`room fill`" in told.stderr
    assert not any(tmp_path.iterdir())


@pytest.mark.parametrize("words", [("room", "fill", DEMO), ("log", "add", "note", "--note", "calm"), ("room", "show")])
def test_a_mistyped_folder_is_not_made(tmp_path: Path, words: tuple[object, ...]) -> None:
    told = Captain(tmp_path / "tpyo" / "room.sqlite").run(*words)
    assert told.exit_code == 2
    assert "no such folder" in told.stderr
    assert not any(tmp_path.iterdir())


def test_the_pages_do_not_open_on_a_mistyped_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[object] = []
    monkeypatch.setattr("spreadwright.web.serving.run", lambda *what: opened.append(what))
    asked = ["serve", str(DEMO), "--folder", str(tmp_path / "pages"), "--store"]
    told = CliRunner().invoke(app, [*asked, str(tmp_path / "tpyo" / "room.sqlite")])
    assert (told.exit_code, opened) == (2, [])
    assert "no such folder" in told.stderr
    assert CliRunner().invoke(app, [*asked, str(tmp_path / "room.sqlite")]).exit_code == 0
    assert len(opened) == 1


def test_the_usual_place_is_made_where_nothing_was_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SPREADWRIGHT_STORE", raising=False)
    monkeypatch.setattr("spreadwright.store.place.data_folder", lambda: tmp_path / "usual" / "place")
    assert CliRunner().invoke(app, ["room", "boat", "Kettle"]).exit_code == 0
    assert (tmp_path / "usual" / "place" / "spreadwright.sqlite").is_file()


def test_words_and_json_agree(captain: Captain) -> None:
    words = captain.room("show", "lure")
    pieces = captain.json("show", "lure")["pieces"]
    assert words.splitlines()[0] == "LURES"
    assert [f"{piece['fit']:>8}  {piece['name']}" for piece in pieces] == words.splitlines()[1:]
    assert len(pieces) == 5


def test_a_fault_a_repair_and_their_history(captain: Captain) -> None:
    assert "needs work: 1 dull hook" in captain.room("fault", LURE, "dull hook")
    (work,) = captain.json("work")["work"]
    assert (work["name"], work["what"], work["remedy"]) == (LURE, "dull hook", "sharpen")
    assert captain.json("repaired", LURE, "1", "--fault", work["fault"][:6])["fit"] == 1
    kinds = [line["kind"] for line in captain.json("history", LURE)["history"]]
    assert kinds == ["count", "fault", "repaired"]
    assert "Nothing needs work." in captain.room("work")


def test_what_cannot_be_is_said_with_the_next_step_and_exit_code_2(captain: Captain) -> None:
    told = captain.run("room", "use", LURE, "7")
    assert told.exit_code == 2
    assert "7 used on" in told.stderr
    assert "no count ever goes below zero" in told.stderr
    told = captain.run("room", "use", "blak-red jet 9 in", "--json")
    assert told.exit_code == 2
    assert json.loads(told.stdout)["faults"][0]["next_step"] == f"did you mean '{LURE}'?"
    assert captain.run("room", "use", LURE, "two").exit_code == 2
    assert captain.run("room", "buy", LURE, "--price", "cheap").exit_code == 2
    assert captain.run("room", "looks", "gaff").exit_code == 2


def test_a_count_stops_goes_on_and_ends(captain: Captain) -> None:
    assert "1 of 28 counted, 1 differ" in captain.room("count", "--found", f"{LURE}=3")
    assert captain.json("show", "lure")["pieces"][2]["fit"] == 1
    assert "3 counted" in captain.room("count")
    captain.room("count", "--finish")
    assert captain.json("show", "lure")["pieces"][2]["fit"] == 3
    captain.room("count", "--found", f"{LURE}=0", "--drop")
    assert captain.json("show", "lure")["pieces"][2]["fit"] == 3


def test_the_walk_asks_piece_by_piece_and_goes_on_where_it_stopped(
    captain: Captain, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("spreadwright.cli.room_count._somebody_is_there", lambda: True)
    told = captain.run("room", "count", said="\nmany\n5\ns\nq\n")  # as expected; no number, then 5; skip; stop
    assert told.exit_code == 0, told.output
    assert "trolling weight: 16 oz torpedo; expected 1" in told.output
    assert "counted in whole pieces" in told.output
    assert "2 of 28 counted, 1 differ" in told.output
    assert "next: trolling weight: 32 oz torpedo" in told.output
    told = captain.run("room", "count", said="2\nq\n")
    assert "16 oz torpedo" not in told.output.partition("differ")[0]
    assert "3 of 28 counted, 1 differ" in told.output
    assert captain.json("show", "trolling weight")["pieces"][1]["fit"] == 2
    captain.room("count", "--finish", "--json")
    assert captain.json("show", "trolling weight")["pieces"][1]["fit"] == 5


@pytest.mark.parametrize("width", [0, 60, 110])
def test_nothing_is_wider_than_the_terminal(
    captain: Captain, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, width: int
) -> None:
    if width:
        monkeypatch.setenv("COLUMNS", str(width))
    captain.room("fault", LURE, "a hook that is dull, and a skirt that a tooth went through more than once")
    example_plan().write(tmp_path / "plan.json")
    lists = captain.run("lists", DEMO, "--plan", tmp_path / "plan.json").stdout
    told = [lists, *(captain.room(each) for each in ("work", "spares", "due"))]
    for words in told:
        whole = [line for line in words.splitlines() if "room.sqlite" not in line]  # a path is not broken
        assert max(map(len, whole)) <= (width or 80), words
    assert max(map(len, lists.splitlines())) > (width or 80) - 20
    assert not re.search(r"\d$\s+(?:ft|lb|oz|%)(?!\S)", lists, re.MULTILINE)  # no quantity is torn in two


def test_a_day_in_plain_words(captain: Captain) -> None:
    told = captain.run("room", "show", "--day", "yesterday")
    assert told.exit_code == 2
    assert "a date is year-month-day" in told.stderr
    assert "write it as 2031-03-08" in told.stderr
    assert "%" not in told.stderr
    later = captain.run("room", "show", "--day", "9998-12-31")
    assert later.exit_code == 0
    assert "9998-12-31 is still to come" in later.stderr
    assert "still to come" not in captain.run("room", "show", "--day", "2026-01-01").stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("buy", LURE, "-3"), "an amount has no minus sign"),
        (("buy", LURE, "-3"), "room buy NAME 3"),
        (("buy", LURE, "nan"), "write how many in digits"),
        (("buy", LURE, "2.9"), "write it as 3"),
        (("use", LURE, "99"), "99 used on"),
        (("use", LURE, "99"), "if there are more, count them first"),
        (("fault", LURE, "dull hook", "9"), "9 to be mended on"),
    ],
)
def test_amounts_that_cannot_be_are_told_plainly(captain: Captain, words: tuple[str, ...], said: str) -> None:
    told = captain.run("room", *words)
    assert told.exit_code == 2
    assert said in re.sub(r"[\s│]+", " ", told.stderr)
    assert "No such option" not in told.stderr


def test_a_fault_told_twice_points_to_the_work_list(captain: Captain) -> None:
    only = next(p for p in captain.json("show", "lure")["pieces"] if p["fit"] == 1)["name"]
    captain.room("fault", only, "dull hook")
    told = captain.run("room", "fault", only, "dull hook")
    assert told.exit_code == 2
    assert "1 to be mended" in told.stderr
    assert "when 0 were fit" in told.stderr
    assert "on the work list already" in told.stderr


def test_times_of_a_history_have_their_zone(captain: Captain) -> None:
    assert re.search(r"^\d{4}-\d\d-\d\d \d\d:\d\d UTC  count", captain.room("history", LURE), re.MULTILINE)


@pytest.mark.parametrize("content", ["", "{", "[1]"])
def test_files_of_this_program_that_are_none_are_told_in_plain_words(
    captain: Captain, tmp_path: Path, content: str
) -> None:
    file = tmp_path / "file.json"
    file.write_text(content)
    fresh = Captain(tmp_path / "fresh.sqlite")
    for told in (captain.run("lists", DEMO, "--plan", file), fresh.run("room", "import", file)):
        assert told.exit_code == 2
        assert any(words in told.stderr for words in ("an empty file", "no JSON", "JSON of something else"))
        assert not any(
            words in told.stderr for words in ("Invalid", "EOF", "Input should", "line 1 column", "Expecting")
        )


def test_what_a_number_counts_is_said(captain: Captain) -> None:
    before = next(piece for piece in captain.json("show")["pieces"] if piece["name"] == LURE)["fit"]
    assert captain.room("buy", LURE, 2).strip() == f"{LURE}: now {before + 2} fit"
    captain.room("fault", LURE, "dull hook")
    assert captain.room("repaired", LURE).strip() == f"{LURE}: now {before + 2} fit"


def test_making_up_takes_the_parts(captain: Captain, tmp_path: Path) -> None:
    sheet = tmp_path / "coils.csv"
    sheet.write_text("kind,name,count,material,strength,length\ncoil,300 lb coil,60 m,nylon,300 lb,100 m\n")
    captain.room("fill", sheet)
    made = captain.json(
        "make", "30 ft of 300 lb", "2", "--takes", "300 lb coil=18.72 m", "--takes", "1.8 mm double sleeve=4"
    )
    assert made["fit"] == 5
    bare = captain.room("make", "20 ft of 400 lb")
    assert "20 ft of 400 lb: now " in bare
    assert "No parts were taken off the shelf" in bare
    assert "--takes" in bare
    assert captain.json("show", "coil")["pieces"][0]["fit"] == 41_280
    refused = captain.run("room", "make", "30 ft of 300 lb", "1", "--takes", "300 lb coil=50 m")
    assert refused.exit_code == 2
    assert re.search(r"given: [\d.]+ ft used on .* when 0 ft were fit", refused.stderr)  # never in millimetres
    assert captain.json("show", "coil")["pieces"][0]["fit"] == 41_280


def test_export_and_import_give_the_same_room(captain: Captain, tmp_path: Path) -> None:
    captain.room("boat", "Second Kettle", "--crew", "Odile")
    captain.room("export", tmp_path / "all.json")
    captain.room("export", tmp_path / "csv")
    captain.room("export", "--sheet", tmp_path / "stock.csv")
    for source in ("all.json", "csv"):
        other = Captain(tmp_path / f"{source}.sqlite")
        other.room("import", tmp_path / source)
        assert other.json("show") == captain.json("show")
        assert other.json("boat")["boats"][0]["crew"] == [{"name": "Odile", "duty": ""}]
    other = Captain(tmp_path / "sheet.sqlite")
    assert other.json("fill", tmp_path / "stock.csv")["new"] == 28
    told = captain.run("room", "import", tmp_path / "all.json")
    assert told.exit_code == 2
    assert "into an empty store" in told.stderr


def test_a_sheet_with_mistakes_is_refused_whole(captain: Captain, tmp_path: Path) -> None:
    sheet = tmp_path / "wrong.csv"
    sheet.write_text("kind,name,count\nhook,new hook,3\nhook,other,-1\nhok,third,1\n")
    before = captain.json("show")
    told = captain.run("room", "fill", sheet)
    assert told.exit_code == 2
    assert "row 3, count" in told.stderr
    assert "row 4, kind" in told.stderr
    assert captain.json("show") == before


def test_spares_photos_and_due_dates(captain: Captain, tmp_path: Path) -> None:
    needs = {row["kind"]: row for row in captain.json("spares", "--lines", 6, "--hours", 8)["spares"]}
    assert needs["lure"]["lasts"] >= 0.95
    assert captain.json("spares", "--hours", 80)["spares"][0]["spares"] > needs["lure"]["spares"]
    picture = tmp_path / "lure.jpg"
    picture.write_bytes(b"\xff\xd8\xff\xe0" + b"\0" * 200)
    assert captain.json("photo", LURE, picture)["type"] == "image/jpeg"
    picture.write_bytes(b"MZ" + b"\0" * 200)
    assert captain.run("room", "photo", LURE, picture).exit_code == 2
    captain.room("trolled", LURE, 12)
    (late,) = [row for row in captain.json("due")["due"] if row["overdue"]]
    assert late["name"] == LURE
    captain.room("inspect", LURE)
    assert not any(row["overdue"] for row in captain.json("due")["due"])


def test_the_trade_off_is_by_weight_or_by_price(captain: Captain, tmp_path: Path) -> None:
    told = captain.json("spares", "--by", "weight")
    costs, chances = [[point[key] for point in told["curve"]] for key in ("cost", "chance")]
    assert costs == sorted(costs)
    assert chances == sorted(chances)
    # The last kilogram goes to weights: hooks and swivels weigh next to nothing and are filled up before.
    first = next(point["spares"] for point in told["curve"] if point["spares"]["trolling weight"] == 1)
    assert first["hook"] >= 1
    words = captain.room("spares", "--by", "weight")
    assert "All kinds together, by weight" in words
    assert "over 99 %" in words
    assert " 100 %" not in words
    assert "100.0 %" not in words
    refused = captain.run("room", "spares", "--by", "price")
    assert refused.exit_code == 2
    assert "no price known" in refused.stderr
    assert "room export FILE.csv --sheet" in refused.stderr
    assert "room fill FILE.csv" in refused.stderr
    assert captain.run("room", "spares", "--by", "colour").exit_code == 2


def test_lists_are_the_plan_and_spares_less_the_room(captain: Captain, tmp_path: Path) -> None:
    example_plan().write(tmp_path / "plan.json")
    asked = ("lists", DEMO, "--plan", tmp_path / "plan.json")
    told = captain.run(*asked, "--json", "--keep")
    assert told.exit_code == 0, told.output
    made = json.loads(told.stdout)
    assert [each["name"] for each in made["lists"]] == ["buy", "bench", "re-mark", "pack", "night before"]
    buy = {item["name"]: item for item in made["lists"][0]["items"] if item["name"]}
    name, item = next(iter(buy.items()))
    captain.room("buy", name, item["amount"])
    again = json.loads(captain.run(*asked, "--json").stdout)
    assert name not in [each["name"] for each in again["lists"][0]["items"]]
    words = captain.run(*asked, "--only", "buy").stdout
    assert words.startswith("TO BUY\n")
    assert captain.run(*asked, "--only", "wishes").exit_code == 2


def test_kept_lists_are_ticked_and_what_was_bought_comes_in_once(captain: Captain, tmp_path: Path) -> None:
    from spreadwright.faults import Faults
    from spreadwright.store.open import open_store
    from spreadwright.store.room import read_room
    from spreadwright.store.room_lists import bought, kept_lists, tick

    example_plan().write(tmp_path / "plan.json")
    assert captain.run("lists", DEMO, "--plan", tmp_path / "plan.json", "--keep").exit_code == 0
    with open_store(captain.where) as store:
        kept = kept_lists(store)
        line = next(item for item in kept.lists.list("buy").items if item.name)
        before = read_room(store).fit(line.kind, line.name)
        bought(store, kept, line.id)
        with pytest.raises(Faults, match="ticked off already"):
            bought(store, kept, line.id)
        assert read_room(store).fit(line.kind, line.name) == before + line.amount
        other = kept.lists.list("pack").items[0].id
        tick(store, kept, other)
        tick(store, kept, other)
        assert kept_lists(store).ticked == {line.id, other}
        tick(store, kept, other, done=False)
        assert kept_lists(store, kept.id).ticked == {line.id}
        with pytest.raises(Faults, match="no such item"):
            tick(store, kept, "nothing")
