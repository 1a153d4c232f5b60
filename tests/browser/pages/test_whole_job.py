"""The whole job as a new user does it: a trip, its plan in the making, rigs, lists, and what is wrong told."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Response, expect
from tests.browser.looking import picture, serious_faults, small_targets, sticks_out
from tests.browser.pages.conftest import served
from tests.plan.demo import TRIP_FILE
from tests.sheets.example_plan import example_plan

HEAVIEST = 500_000  # bytes of one page with everything it loads
PAGES = ("", "/spread", "/plan", "/rigs", "/lists", "/day", "/compare", "/study", "/measure")

HOUSE = ("/room", "/room/files", "/room/spares", "/log", "/log/rates", "/log/tracks", "/tow")


def fine(page: Page, name: str) -> None:
    picture(page, name)
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []


def test_from_a_trip_file_to_plan_rigs_and_lists(page, bare_trip, size):
    home = bare_trip.split("/trips/")[0]
    page.goto(home)
    fine(page, f"pages-trips-{size}")
    page.get_by_role("link", name="A small trip").click()
    page.wait_for_selector("html[data-ready=yes]", timeout=60_000)
    expect(page.locator("#origin")).to_contain_text("No plan yet")
    page.get_by_role("link", name="Plan", exact=True).click()
    page.get_by_role("button", name="Make the plan").click()
    answer = page.get_by_role("heading", name="The answer in short")
    expect(page.get_by_role("button", name="Stop").or_(answer)).to_be_visible()  # a quick machine is done by then
    expect(answer).to_be_visible(timeout=90_000)
    fine(page, f"pages-plan-{size}")
    page.get_by_role("link", name="Rigs", exact=True).click()
    page.get_by_role("button", name="Look at the rigs").click()
    expect(page.get_by_role("heading", name="The answer in short")).to_be_visible(timeout=90_000)
    fine(page, f"pages-rigs-{size}")
    page.get_by_role("link", name="Lists", exact=True).click()
    fine(page, f"pages-lists-{size}")
    page.get_by_role("link", name="Trip file", exact=True).click()
    fine(page, f"pages-trip-{size}")


def test_a_plan_in_the_making_is_followed_after_a_reload_and_stopped(page, bare_trip):
    page.goto(f"{bare_trip}/plan")
    page.get_by_role("button", name="Make the plan").click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    page.reload()
    page.get_by_role("button", name="Stop").click()
    expect(page.locator("[data-said]")).to_have_text("Stopped.", timeout=60_000)


def test_every_fault_of_a_trip_file_is_told(page, bare_trip, small_text, size):
    page.goto(bare_trip.split("/trips/")[0])
    wrong = small_text.replace("15 kn", "15").replace("45 m", "45")
    page.set_input_files("input[type=file]", {"name": "t.toml", "mimeType": "text/plain", "buffer": wrong.encode()})
    with page.expect_navigation():
        page.get_by_role("button", name="Read this trip").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("wrong")
    assert page.locator(".faults > li").count() >= 2


@pytest.fixture
def watch(context, request):
    """A page of faults is refused with 400, which the browser's console calls an error: passed over there."""
    from tests.browser.looking import watched

    seen = watched(context)
    yield seen
    passed = ("400 (Bad Request)",) if "fault" in request.node.name else ()
    assert [error for error in seen.errors if not any(each in error for each in passed)] == []
    assert seen.outside == []


@pytest.fixture(scope="module")
def demo_pages(tmp_path_factory):
    with served(tmp_path_factory.mktemp("demo"), TRIP_FILE, example_plan()) as base:
        yield base


def test_every_page_of_the_demo_is_light_and_answers_to_axe(page, demo_pages, size):
    taken: list[Response] = []
    page.on("response", lambda answer: taken.append(answer))
    home = demo_pages.split("/trips/")[0]
    for address in [*(demo_pages + path for path in PAGES), *(home + path for path in HOUSE)]:
        taken.clear()
        page.goto(address)
        if address.endswith(("/spread", "/compare")):
            page.wait_for_selector("html[data-ready=yes]", timeout=60_000)
        page.wait_for_load_state("networkidle", timeout=60_000)  # ranges are sampled meanwhile
        assert sum(len(each.body()) for each in taken if each.status == 200) < HEAVIEST, address
        fine(page, f"pages-demo-{address.rsplit('/', 1)[1]}-{size}")
