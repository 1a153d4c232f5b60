"""What is noted stays: reload, closing, a browser killed at once, one store lost, and a phone that keeps nothing."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Error, Playwright, expect
from tests.browser.deck.hands import Deck, stands, stored, told

PROCESSES = Path("/proc")
CLEAR_DATABASE = """() => new Promise((done, fail) => {
  const asked = indexedDB.open("spreadwright deck log", 1);
  asked.onsuccess = () => {
    const work = asked.result.transaction("kept", "readwrite");
    work.objectStore("kept").clear();
    work.oncomplete = () => { asked.result.close(); done(); };
  };
  asked.onerror = fail;
})"""
NO_DATABASE = "Object.defineProperty(window, 'indexedDB', {get() { throw new DOMException('no', 'SecurityError'); }});"
NO_MIRROR = "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }});"
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"


def again(deck: Deck) -> Deck:
    deck.page.reload()
    deck.page.locator("html[data-ready=yes]").wait_for()
    return deck


def a_strike(deck: Deck) -> None:
    deck.line("green 80")
    deck.say(deck.strike("green 80"), took="lure")


WANTED = ["strike on green 80: took the lure", "green 80: line out"]


def test_a_reload_loses_nothing_and_an_open_strike_stays_open(deck):
    a_strike(deck)
    again(deck)
    assert deck.listed() == WANTED
    expect(deck.page.locator(".strike [data-key=took][value=lure]")).to_be_checked()
    assert "out since" in deck.row("green 80").inner_text()
    deck.undo()  # also what was noted before the reload
    assert deck.listed()[0] == "strike on green 80"


def test_an_open_strike_put_away_stays_away(deck):
    deck.strike("green 80").locator("[data-do=strike-done]").click()
    expect(deck.page.locator(".strike")).to_have_count(0)
    again(deck)
    assert deck.page.locator(".strike").count() == 0
    assert deck.listed() == ["strike on green 80"]


def test_if_the_database_is_lost_the_mirror_gives_it_all_back(deck):
    a_strike(deck)
    deck.page.evaluate(CLEAR_DATABASE)
    assert again(deck).listed() == WANTED
    deck.page.evaluate("() => localStorage.clear()")  # by now the database has been made whole
    assert again(deck).listed() == WANTED


def test_if_the_mirror_is_lost_or_spoilt_the_database_gives_it_all_back(deck):
    a_strike(deck)
    deck.page.evaluate(
        '() => { for (const key of Object.keys(localStorage)) localStorage.setItem(key, \'{"entry": {"id"\'); }'
    )
    assert again(deck).listed() == WANTED
    deck.page.evaluate("() => localStorage.clear()")
    assert again(deck).listed() == WANTED
    assert len(stored(deck.page)) == 4  # two entries, what the second was said anew, and the undo between


def test_with_the_mirror_alone_it_says_so_and_goes_on(page, sheet_file):
    page.add_init_script(NO_DATABASE)
    deck = Deck.opened(page, sheet_file)
    a_strike(deck)
    assert again(deck).listed() == WANTED
    deck.part("log")
    assert "simpler store" in page.locator("[data-show=kept]").inner_text()


def test_a_full_mirror_does_not_matter_while_there_is_a_database(page, sheet_file):
    page.add_init_script(FULL)
    deck = Deck.opened(page, sheet_file)
    a_strike(deck)
    assert page.locator("[data-show=alarm]").is_hidden()
    assert again(deck).listed() == WANTED


def test_a_database_that_the_phone_closed_is_opened_anew(page, sheet_file):
    page.add_init_script(
        """window.opened = [];
           const open = IDBFactory.prototype.open;
           IDBFactory.prototype.open = function (...given) {
             const asked = open.apply(this, given);
             asked.addEventListener("success", () => window.opened.push(asked.result));
             return asked;
           };"""
    )
    deck = Deck.opened(page, sheet_file)
    page.evaluate("() => window.opened.forEach(database => database.close())")
    a_strike(deck)
    page.evaluate("() => localStorage.clear()")
    assert again(deck).listed() == WANTED


def test_a_phone_that_keeps_nothing_is_told_of_at_once_and_loudly(page, sheet_file):
    page.add_init_script(NO_DATABASE + NO_MIRROR)
    deck = Deck.opened(page, sheet_file)
    alarm = page.locator("[data-show=alarm]")
    expect(alarm).to_contain_text("does not keep entries")
    expect(alarm).to_have_attribute("role", "alert")
    deck.row("green 80").locator("[data-do=strike]").click()
    expect(page.locator("[data-show=said]")).to_contain_text("NOT KEPT")
    assert told(stands(deck.export())) == [("strike", "green 80", "unknown", "unknown")]  # it can still go ashore


def test_two_windows_of_one_sheet_do_not_harm_each_other(context, deck, sheet_file):
    deck.strike("green 80")
    other = Deck.opened(context.new_page(), sheet_file)
    other.strike("white 80")
    deck.strike("yellow 80")
    assert len(again(deck).listed()) == len(again(other).listed()) == 3


def test_sheets_of_two_plans_keep_their_logs_apart(page, deck, small_plan, tmp_path):
    from spreadwright.sheets.deck import deck_sheet

    deck.strike("green 80")
    path = tmp_path / "another.html"
    path.write_text(deck_sheet(small_plan.model_copy(update={"title": "another day"})), encoding="utf-8")
    assert Deck.opened(page, path).listed() == []


# ---- the browser is gone, as when a battery is ----
Profile = Callable[[], BrowserContext]


@pytest.fixture
def profile(playwright: Playwright, browser_type_launch_args: dict[str, Any], tmp_path: Path) -> Iterator[Profile]:
    """Opens the same profile again and again, with the network cut."""
    opened: list[BrowserContext] = []

    def opening() -> BrowserContext:
        found = playwright.chromium.launch_persistent_context(
            tmp_path / "profile", offline=True, accept_downloads=True, **browser_type_launch_args
        )
        opened.append(found)
        return found

    yield opening
    for context in opened:
        try:
            context.close()
        except Error:  # killed
            continue


def kill(folder: Path) -> int:
    """End every process of the browser that uses this profile, without a word of warning; how many there were."""
    mine = []
    for process in PROCESSES.glob("[0-9]*"):
        try:
            command = (process / "cmdline").read_bytes()
        except OSError:
            continue
        if f"--user-data-dir={folder}".encode() in command:
            mine.append(int(process.name))
    for number in mine:
        os.kill(number, signal.SIGKILL)
    return len(mine)


@pytest.mark.skipif(not PROCESSES.joinpath("self", "cmdline").exists(), reason="no /proc to find the browser in")
def test_killed_right_after_it_says_kept_and_opened_again(profile, sheet_file, tmp_path):
    """SIGKILL the moment the sheet says "Noted"; the entry was written through, so it is there."""
    deck = Deck.opened(profile().new_page(), sheet_file)
    a_strike(deck)
    assert kill(tmp_path / "profile") >= 1
    time.sleep(0.3)
    for lock in ("SingletonLock", "SingletonSocket", "SingletonCookie"):  # left by what was killed
        (tmp_path / "profile" / lock).unlink(missing_ok=True)
    reopened = Deck.opened(profile().new_page(), sheet_file)
    assert reopened.listed() == WANTED
    assert told(stands(reopened.export())) == [
        ("line_out", "green 80", "unknown", "unknown"),
        ("strike", "green 80", "lure", "unknown"),
    ]


def test_closed_and_opened_again(profile, sheet_file):
    context = profile()
    a_strike(Deck.opened(context.new_page(), sheet_file))
    context.close()
    assert Deck.opened(profile().new_page(), sheet_file).listed() == WANTED
