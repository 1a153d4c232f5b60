"""A pair of hands on the deck sheet: taps what is to be tapped and reads what the sheet says and exports."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page

from spreadwright.logbook.deck_log import DeckLog, deck_log_from_text
from spreadwright.logbook.entry import Entry, merged, standing

NEXT_TAP = 700  # [ms] the sheet takes a second tap on one button within 600 ms for a wet finger


@dataclass
class Deck:
    page: Page

    @classmethod
    def opened(cls, page: Page, path: Path) -> Deck:
        page.goto(path.as_uri())
        page.locator("html[data-ready=yes]").wait_for()
        return cls(page)

    def part(self, name: str) -> None:
        self.page.locator(f'nav a[href="#{name}"]').click()

    def row(self, rod: str) -> Locator:
        return self.page.locator(f'li[data-rod="{rod}"]')

    def line(self, rod: str) -> None:
        self.row(rod).locator("[data-do=line]").click()
        self.kept()

    def strike(self, rod: str) -> Locator:
        """One tap; the panel of that strike."""
        self.row(rod).locator("[data-do=strike]").click()
        self.kept()
        return self.row(rod).locator(".strike").first

    def say(self, panel: Locator, **chosen: str) -> None:
        """Taps choices of a strike, by their value."""
        for key, value in chosen.items():
            panel.locator(f'label:has([data-key="{key}"][value="{value}"])').click()
            self.kept()

    def undo(self) -> None:
        self.page.locator("[data-do=undo]").click()
        self.kept()
        self.page.wait_for_timeout(NEXT_TAP)

    def kept(self) -> None:
        """Waits until the sheet says that the last entry is kept."""
        self.page.wait_for_function(
            "() => /^(Noted|Taken back|Put back)/.test(document.querySelector('[data-show=said]').textContent)"
        )

    @property
    def said(self) -> str:
        return self.page.locator("[data-show=said]").inner_text()

    def listed(self, which: str = "entries") -> list[str]:
        """What the log shows, without the times, newest first."""
        rows = self.page.locator(f"[data-show={which}] > li > p").all_text_contents()
        return [row.split(" ", 1)[1] for row in rows]

    def export(self) -> DeckLog:
        """The file that is saved, as the laptop reads it: no fault, nothing unknown."""
        self.part("log")
        with self.page.expect_download() as got:
            self.page.locator("[data-do=save]").click()
        return sound(Path(got.value.path()).read_text(encoding="utf-8"))


def sound(text: str) -> DeckLog:
    log = deck_log_from_text(text)
    assert log.faults == ()
    assert log.remarks == ()
    return log


def stands(*logs: DeckLog) -> list[Entry]:
    """What stands after the laptop has taken in these logs."""
    return standing(merged(*(log.entries for log in logs)))


def told(entries: list[Entry]) -> list[tuple[Any, ...]]:
    """The entries in short: kind, rod, took, outcome."""
    return [(each.kind, each.rod, each.took, each.outcome) for each in entries]


def stored(page: Page) -> dict[str, Any]:
    """What localStorage holds of the sheet."""
    found: dict[str, str] = page.evaluate("() => ({...localStorage})")
    return {key: json.loads(value) for key, value in found.items()}
