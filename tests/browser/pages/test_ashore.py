"""The work ashore in a browser: fill and count the room, tick the lists, write the log, on a phone and a laptop."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect
from tests.browser.looking import picture, serious_faults, small_targets, sticks_out, watched
from tests.browser.pages.conftest import served
from tests.plan.demo import TRIP_FILE
from tests.sheets.example_plan import example_plan


@pytest.fixture
def home(tmp_path):
    """The demo's pages over a store of their own; the address of the trip."""
    with served(tmp_path, TRIP_FILE, example_plan()) as base:
        yield base


@pytest.fixture
def watch(context, request):
    """A page of faults is refused with 400, which the browser's console calls an error: passed over there."""
    seen = watched(context)
    yield seen
    passed = "400 (Bad Request)" if "fault" in request.node.name else "none is passed over"
    assert [error for error in seen.errors if passed not in error] == []
    assert seen.outside == []


def fine(page, name):
    picture(page, name)
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []


def test_the_room_is_filled_and_counted_and_the_lists_ticked(page, home, size):
    room = home.split("/trips/")[0] + "/room"
    page.goto(room)
    page.get_by_role("button", name="Fill the room").click()
    page.get_by_role("button", name="Begin a counting walk").click()
    page.wait_for_url("**/room/count")
    more = page.get_by_role("button", name="One more: 32 oz torpedo")
    for _ in range(3):  # quicker than the answers come
        more.click()
    said = page.locator("form.count", has_text="32 oz torpedo")
    expect(said).to_contain_text("Counted 5: 3 more than expected.")
    expect(more).to_be_focused()
    if size == "narrow":
        box = more.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 48
    fine(page, f"pages-count-{size}")
    page.goto(room)  # stopped, and taken up again
    page.get_by_role("link", name="Go on counting").click()
    expect(said).to_contain_text("Counted 5")
    page.get_by_role("button", name="Finish").click()
    expect(page.locator("main")).to_contain_text("Finished: 1 of 28 counted, 1 of them differed.")

    page.goto(f"{home}/lists")
    ticks = page.locator("input[type=checkbox]")
    for place in range(4):
        ticks.nth(place).check()
    ticks.nth(1).uncheck()
    page.wait_for_load_state("networkidle")
    page.reload()
    expect(page.locator("input[type=checkbox]:checked")).to_have_count(3)
    fine(page, f"pages-ticked-{size}")


def test_a_fault_of_an_entry_is_told_above_what_was_filled_in(page, home, size):
    page.goto(home.split("/trips/")[0] + "/log")
    page.locator("select[name=kind]").select_option("Line out")
    page.locator("input[name=rod]").fill("red 130")
    page.locator("input[name=mark]").fill("200")
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("alert")).to_contain_text("a bare number has no unit")
    expect(page.get_by_role("alert")).to_be_focused()
    expect(page.locator("input[name=rod]")).to_have_value("red 130")
    fine(page, f"pages-entry-{size}")
    page.locator("input[name=mark]").fill("200 ft")
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("status")).to_contain_text("line out, red 130, 200 ft")
    expect(page.get_by_role("alert")).to_have_count(0)
