"""`spreadwright cards` end to end: one PDF of every sheet, only what is asked for, units, and what is refused."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from tests.sheets.example_plan import example_plan
from tests.sheets.test_cards import needs_pdftotext, needs_zbarimg, pages_of, text_of
from tests.store.rooms import HOOK, put
from tests.tackle.trips import small
from typer.testing import CliRunner, Result

from spreadwright.cli import app
from spreadwright.cli.cards_command import Kind
from spreadwright.plan.value import Plan
from spreadwright.sheets.card_words import rod_as_text
from spreadwright.sheets.cards import CARD_KINDS
from spreadwright.store.open import open_store

TRIP = Path(__file__).parents[2] / "examples" / "demo" / "trip.toml"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, ["cards", *map(str, arguments)])


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    path = tmp_path / "plan.json"
    example_plan().write(path)
    return path


@needs_pdftotext
def test_the_whole_file(plan_file, tmp_path):
    path = tmp_path / "cards.pdf"
    told = run(TRIP, "--plan", plan_file, "-o", path)
    assert told.exit_code == 0, told.output
    assert "full size" in told.output
    pages = pages_of(path.read_bytes())
    assert len(pages) == 14  # bench and packing have a second page: what to make up, what to check the night before
    assert [page.width for page in pages].count(4 * 72) == 7
    text = text_of(path.read_bytes())
    for said in ("two-speed 50 wide", "the last 12 ft doubled", "Crew brief", "To pack", "To buy or make up",
                 "Marking the lines", "At the bench", "To make up",
                 "To check the night before", "leadering gloves"):  # fmt: skip
        assert said in text


@needs_pdftotext
def test_only_what_is_asked_for_and_in_the_units_asked_for(plan_file, tmp_path):
    path = tmp_path / "cards.pdf"
    told = run(TRIP, "--plan", plan_file, "-o", path, "--only", "marks", "--only", "rods", "--units", "metric")
    assert told.exit_code == 0, told.output
    pages = pages_of(path.read_bytes())
    assert len(pages) == 7
    assert all(page.width == pytest.approx(105 / 25.4 * 72, abs=0.1) for page in pages)
    text = text_of(path.read_bytes())
    assert not re.search(r"\b\d+ ft (?!of )", text)  # but for pieces named so
    assert "91.4 m" in text


@needs_pdftotext
def test_the_lists_are_those_of_the_tackle_room_if_one_is_named(plan_file, tmp_path):
    """A room with one hook in it: all that the trip file's shelf has must then be got."""
    path, where = tmp_path / "cards.pdf", tmp_path / "room.db"
    assert run(TRIP, "--plan", plan_file, "-o", path, "--only", "shopping").exit_code == 0
    from_shelf = text_of(path.read_bytes())
    assert "Counted against the trip file’s shelf" in from_shelf
    with open_store(where) as store:
        put(store, "hook", HOOK, 1)
    told = run(TRIP, "--plan", plan_file, "-o", path, "--only", "shopping", "--store", where)
    assert told.exit_code == 0, told.output
    from_room = text_of(path.read_bytes())
    assert "Counted against the tackle room in" in from_room
    swivels = "x 300 lb ball bearing"
    assert swivels not in from_shelf
    assert swivels in from_room


@needs_zbarimg
@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler-utils) is not here")
def test_the_printed_page_of_every_rod_scans_to_its_data(plan_file, tmp_path):
    path = tmp_path / "cards.pdf"
    assert run(TRIP, "--plan", plan_file, "-o", path, "--only", "rods").exit_code == 0
    subprocess.run(["pdftoppm", "-r", "200", "-mono", str(path), str(tmp_path / "page")], check=True)
    plan = Plan.read(plan_file)
    for rod in plan.rods:
        page = tmp_path / f"page-{rod.set_out}.pbm"
        done = subprocess.run(["zbarimg", "-q", "--raw", str(page)], capture_output=True, check=True)
        assert done.stdout.decode("utf-8").strip() == rod_as_text(plan, rod, "us")


def test_the_kinds_of_the_command_are_the_kinds_there_are():
    assert tuple(kind.value for kind in Kind) == CARD_KINDS


def test_a_plan_of_another_trip_is_refused_rod_by_rod(plan_file, tmp_path):
    trip = tmp_path / "trip.toml"
    trip.write_text(small(), encoding="utf-8")
    told = run(trip, "--plan", plan_file, "-o", tmp_path / "cards.pdf")
    assert told.exit_code == 2
    assert told.output.count("the trip file's rods are red, blue") == 6
    assert not (tmp_path / "cards.pdf").exists()


def test_a_folder_that_is_not_there_is_said_with_the_next_step(plan_file, tmp_path):
    told = run(TRIP, "--plan", plan_file, "-o", tmp_path / "none" / "cards.pdf", "--only", "marks")
    assert told.exit_code == 2
    assert all(part in told.output for part in ("--output", "given:", "rule:", "make the folder"))


def test_a_plan_that_is_none_and_a_sheet_that_there_is_not(tmp_path):
    none = tmp_path / "plan.json"
    none.write_text("{}", encoding="utf-8")
    told = run(TRIP, "--plan", none, "-o", tmp_path / "cards.pdf")
    assert (told.exit_code, "spreadwright plan TRIP.toml --write PLAN.json" in told.output) == (2, True)
    told = run(TRIP, "-o", tmp_path / "cards.pdf", "--only", "rod")
    assert (told.exit_code, "'rods'" in told.output) == (2, True)
