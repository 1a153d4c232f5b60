"""From the phone to the laptop's logbook by the command line: any order, any repetition, the same log."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Page
from tests.browser.deck.hands import Deck
from typer.testing import CliRunner

from spreadwright.cli import app


def run(*arguments: object) -> str:
    told = CliRunner().invoke(app, ["log", *map(str, arguments)])
    assert told.exit_code == 0, told.output
    return told.stdout


def saved(deck: Deck, path: Path) -> Path:
    deck.part("log")
    with deck.page.expect_download() as got:
        deck.page.locator("[data-do=save]").click()
    got.value.save_as(path)
    deck.part("lines")
    return path


@pytest.fixture
def exports(page: Page, deck: Deck, tmp_path: Path) -> list[Path]:
    """Three exports of one phone: at noon, in the evening, and after second thoughts."""
    deck.line("green 80")
    deck.strike("green 80")
    noon = saved(deck, tmp_path / "noon.json")
    panel = page.locator(".strike")
    deck.say(panel, took="weight", outcome="cut off")
    deck.line("green 80")
    evening = saved(deck, tmp_path / "evening.json")
    deck.undo()
    return [noon, evening, saved(deck, tmp_path / "later.json")]


def test_the_logbook_is_the_same_in_whatever_order_and_however_often_it_is_fed(exports, tmp_path):
    noon, evening, later = exports
    books = []
    for i, order in enumerate(([noon], [later], [noon, evening, later], [later, noon, later, evening, noon])):
        where = tmp_path / f"book-{i}.db"
        for path in order:
            run("import", path, "--store", where)
        books.append(json.loads(run("list", "--json", "--store", where)))
    assert books[0] != books[1] == books[2] == books[3]
    text = json.dumps(books[1])
    assert "cut off" in text
    assert "line_in" in text  # it is in the log, and so is what takes it back
    assert "undo" in text
