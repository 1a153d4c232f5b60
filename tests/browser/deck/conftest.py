"""The deck sheet opened as a telephone opens it: from a file, with the network cut."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page
from tests.browser.deck.hands import Deck

from spreadwright.plan.value import Plan
from spreadwright.sheets.deck import deck_sheet


@pytest.fixture(scope="session")
def sheet_file(small_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("deck") / "deck.html"
    path.write_text(deck_sheet(small_plan), encoding="utf-8")
    return path


@pytest.fixture
def deck(page: Page, sheet_file: Path) -> Deck:
    """The sheet in a fresh profile."""
    page.context.set_offline(True)
    return Deck.opened(page, sheet_file)
