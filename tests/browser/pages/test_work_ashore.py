"""Long work of the pages in a browser: a study, readings, tracks and rates, followed as they go, on both screens."""

from __future__ import annotations

from playwright.sync_api import Page, expect
from tests.browser.looking import picture, serious_faults, small_targets, sticks_out
from tests.logbook.logs import exported, season
from tests.logbook.tracks import gpx_text, weaving

LONG = 90_000


def fine(page: Page, name: str) -> None:
    picture(page, name)
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []


def test_a_study_is_followed_and_shown(page, planned_trip, size):
    page.goto(f"{planned_trip}/study")
    page.get_by_label("Speeds").fill("12 kn, 15 kn")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator("[data-follow]")).to_have_count(0, timeout=LONG)
    expect(page.get_by_role("heading", name="What was found")).to_be_visible(timeout=LONG)
    expect(page.locator("tbody tr")).to_have_count(2)
    fine(page, f"pages-study-{size}")


def test_a_study_is_stopped_without_a_script(browser, browser_context_args, planned_trip):
    context = browser.new_context(**browser_context_args, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{planned_trip}/study")
    page.get_by_label("Speeds").fill(", ".join(f"{8 + each / 4} kn" for each in range(60)))
    page.get_by_role("button", name="Begin", exact=True).click()
    page.get_by_role("button", name="Stop").click()
    for _ in range(60):
        if page.get_by_text("Stopped. Nothing was kept of it.").count():
            break
        page.wait_for_timeout(500)
        page.goto(f"{planned_trip}/study")
    expect(page.get_by_text("Stopped. Nothing was kept of it.")).to_be_visible()
    context.close()


def test_a_reading_is_added_and_worked_out(page, planned_trip, size):
    page.goto(f"{planned_trip}/measure")
    for name in ("station", "weight", "leader", "bite_leader", "lure"):
        page.locator(f"select[name={name}]").select_option(index=1)
    page.get_by_label("Mark, such as 100 ft").fill("100 ft")
    page.get_by_label("Speed through the water").fill("12 kn")
    page.get_by_label("Pull at the rod tip").fill("20 lb")
    page.get_by_role("button", name="Add it").click()
    page.get_by_role("button", name="Work").click()
    expect(page.locator("[data-follow]")).to_have_count(0, timeout=LONG)
    expect(page.get_by_role("heading", name="What the readings say")).to_be_visible(timeout=LONG)
    fine(page, f"pages-readings-{size}")


def test_the_log_is_taken_in_with_a_track_and_asked_what_to_change(page, planned_trip, size):
    home = planned_trip.split("/trips/")[0]
    rigs = {"red": {"mark": 30.0, "lure": "jet", "weight": "64 oz"},
            "blue": {"mark": 90.0, "lure": "bullet", "weight": "16 oz"}}  # fmt: skip
    log = exported(season({"red": 0.4, "blue": 0.2}, days=3, rigs=rigs)).encode()
    page.goto(f"{home}/log")
    page.set_input_files("input[type=file]", {"name": "log.json", "mimeType": "application/json", "buffer": log})
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_role("status")).to_contain_text("entries")
    fine(page, f"pages-log-{size}")
    page.goto(f"{home}/log/tracks")
    track = gpx_text(*weaving(120)).encode()
    page.set_input_files("input[type=file]", {"name": "t.gpx", "mimeType": "application/gpx+xml", "buffer": track})
    page.get_by_role("button", name="Take it in").click()
    expect(page.get_by_role("heading", name="What was read")).to_be_visible()
    page.get_by_role("button", name="Tow them").click()
    expect(page.locator("main")).to_contain_text("strikes lie on the track", timeout=LONG)
    fine(page, f"pages-tracks-{size}")
    for path in ("rates", "suggest", "uses"):
        page.goto(f"{home}/log/{path}")
        fine(page, f"pages-{path}-{size}")
    page.goto(f"{home}/tow")
    fine(page, f"pages-tow-{size}")
