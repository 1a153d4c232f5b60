"""The spread's page in a real browser: drawn, played, dragged, changed by keyboard, kept and compared."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect
from tests.browser.looking import picture, serious_faults, small_targets, sticks_out

READY = "html[data-ready=yes]"
SAMPLED = "html[data-sure=yes]"
SURE = re.compile(r"± |\(\d[\d.]* to \d")


def opened(page: Page, base: str, path: str = "/spread") -> None:
    page.goto(base + path)
    page.wait_for_selector(READY, timeout=60_000)


def test_the_spread_is_drawn_and_told(page, planned_trip, size):
    opened(page, planned_trip)
    expect(page.locator("#closest")).to_contain_text("come closest")
    expect(page.locator("#closest")).to_contain_text(SURE)
    assert page.locator("#picture path.line").count() == 6  # three lines, seen twice
    assert page.locator("#picture path.band").count() == 3
    assert page.locator(".rod").count() == 3
    picture(page, f"pages-spread-{size}")
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []


def test_the_turn_is_played_scrubbed_and_left(page, planned_trip, size):
    opened(page, planned_trip)
    page.click("#play")
    expect(page.locator("#clock")).to_contain_text(re.compile(r"^[3-9] s|^\d\d s"))
    page.click("#play")
    moment = page.input_value("#moment")
    assert float(moment) > 2.4
    bent = page.locator("#picture path.line").first.get_attribute("d")
    page.locator("#moment").focus()
    page.keyboard.press("PageUp")
    assert page.locator("#picture path.line").first.get_attribute("d") != bent
    page.click("#to-closest")
    expect(page.locator("#picture .ring")).to_have_count(1)
    expect(page.locator("#clock")).to_contain_text(re.compile(r"\d+ s"))
    picture(page, f"pages-turn-{size}")
    page.click("#straight")
    expect(page.locator("#clock")).to_have_text("straight ahead")
    expect(page.locator("#picture .ring")).to_have_count(0)


def band(page: Page, rod: str, place: int = 0) -> str:
    """How a rod's strip of doubt is drawn in the view from the side."""
    return page.locator(f'[data-band="{rod}"]').nth(place).get_attribute("d") or ""


def heights(d: str) -> list[float]:
    """How high the strip stands at its two ends [px]."""
    (_, a), (_, b), (_, c), (_, d_) = [map(float, each.split(",")) for each in d.strip("MZ").split("L")]
    return [abs(d_ - a), abs(c - b)]


def test_depth_bands_show_doubt_while_turning_too(page, planned_trip):
    opened(page, planned_trip)
    page.wait_for_selector(SAMPLED)
    expect(page.locator("#sure")).to_contain_text("Ranges are the plan's: what 9 in 10 of 16 samples stay in")
    straight = band(page, "gold")
    page.click("#to-closest")
    assert page.locator("#picture path.band").count() == 3
    assert band(page, "gold") != straight
    # Straight after the start the strip is the one straight ahead, but for the scale of the picture.
    page.locator("#moment").focus()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    assert page.locator("#picture path.band").count() == 3
    assert min(heights(band(page, "gold"))) > 1.0
    one = band(page, "gold")
    page.keyboard.press("PageUp")
    assert band(page, "gold") != one


def test_a_changed_spread_gets_bands_from_samples_of_its_own(page, planned_trip):
    opened(page, planned_trip)
    page.wait_for_selector(SAMPLED)
    page.click("#to-closest")
    moment = page.input_value("#moment")
    page.evaluate("document.documentElement.dataset.sure = ''")
    chooser = page.locator(".rod").nth(2).locator("select").nth(1)
    chooser.select_option("3" if chooser.input_value() != "3" else "0")
    expect(page.locator("#sure")).to_contain_text("each doubt by itself")
    page.wait_for_selector(SAMPLED, timeout=30_000)
    expect(page.locator("#sure")).to_contain_text("Ranges: what 9 in 10 of 64 samples")
    assert page.locator("#picture path.band").count() == 3
    assert page.input_value("#moment") == moment  # the moment looked at was kept
    assert page.locator("#picture svg.waiting").count() == 0


def test_a_weight_swapped_changes_depth_and_gaps_at_once(page, planned_trip):
    opened(page, planned_trip)
    card = page.locator(".rod").nth(2)
    before = card.locator("dd").first.inner_text()
    heaviest = card.locator("select").nth(1)
    chosen = heaviest.input_value()
    heaviest.select_option("3" if chosen != "3" else "0")
    expect(card.locator("dd").first).not_to_have_text(before)
    expect(page.locator("#closest")).to_contain_text(SURE)
    page.click("#back")
    expect(card.locator("dd").first).to_have_text(before)


def test_a_line_is_moved_to_another_mark_by_keyboard(page, planned_trip):
    opened(page, planned_trip)
    grip = page.locator("[role=slider][data-rod=gold]")
    grip.focus()
    said = grip.get_attribute("aria-valuetext")
    now = int(grip.get_attribute("aria-valuenow") or 0)
    page.keyboard.press("ArrowLeft" if now == 0 else "ArrowRight")
    expect(page.locator("[role=slider][data-rod=gold]")).to_have_attribute("aria-valuenow", str(1 - now))
    expect(page.locator("[role=slider][data-rod=gold]")).to_be_focused()
    assert page.locator("[role=slider][data-rod=gold]").get_attribute("aria-valuetext") != said
    expect(page.locator(".rod").nth(2).locator("select").first).to_have_value(str(1 - now))


def test_a_weight_is_dragged_to_another_mark(page, planned_trip):
    opened(page, planned_trip)
    expect(page.locator("#closest")).to_contain_text(SURE)  # nothing is drawn anew from here on
    grip = page.locator("[role=slider][data-rod=gold]")
    grip.scroll_into_view_if_needed()
    now = int(grip.get_attribute("aria-valuenow") or 0)
    box = grip.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + (-300 if now == 0 else 300), y, steps=5)
    expect(page.locator("#picture .mark-place")).to_have_count(2)
    page.mouse.up()
    expect(page.locator("[role=slider][data-rod=gold]")).to_have_attribute("aria-valuenow", str(1 - now))


def test_what_comes_from_the_server_does_not_take_the_weight_out_of_the_hand(page, planned_trip):
    opened(page, planned_trip)
    page.wait_for_selector(SAMPLED)
    grip = page.locator("[role=slider][data-rod=gold]")
    grip.scroll_into_view_if_needed()
    now = int(grip.get_attribute("aria-valuenow") or 0)
    box = grip.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + (-200 if now == 0 else 200), y, steps=3)
    drawn = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
    page.set_viewport_size({"width": 1270, "height": 800})  # the picture would be drawn anew
    page.evaluate(drawn)
    expect(page.locator("#picture .mark-place")).to_have_count(2)
    page.mouse.move(x + (-300 if now == 0 else 300), y, steps=3)
    page.mouse.up()
    expect(page.locator("[role=slider][data-rod=gold]")).to_have_attribute("aria-valuenow", str(1 - now))


def test_spreads_are_kept_and_compared(page, planned_trip, size):
    opened(page, planned_trip)
    page.locator(".rod").first.locator("select").nth(1).select_option("0")
    page.fill("#keep-name", f"light {size}")
    page.click("#keep")
    expect(page.locator("#origin")).to_have_text(f"Kept as light {size}.")
    opened(page, planned_trip, "/compare")
    expect(page.locator("#left-closest")).to_contain_text("come closest")
    expect(page.locator("#right-closest")).to_contain_text("come closest")
    page.select_option("#right-which", label=f"light {size}")
    expect(page.locator("#right-sure")).to_contain_text("64 samples")
    picture(page, f"pages-compare-{size}")
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []


def test_two_spreads_go_through_the_turns_together_by_keyboard_alone(page, planned_trip):
    opened(page, planned_trip)
    page.locator(".rod").nth(1).locator("select").nth(1).select_option("0")
    page.fill("#keep-name", "by keyboard")
    page.click("#keep")
    expect(page.locator("#origin")).to_have_text("Kept as by keyboard.")
    opened(page, planned_trip, "/compare")
    lines = [page.locator(f"#{side}-picture path.line").first for side in ("left", "right")]
    straight = [each.get_attribute("d") for each in lines]
    reached = tabbed_to(page, "moment")
    assert "play" in reached
    page.keyboard.press("PageUp")
    expect(page.locator("#clock")).to_contain_text("to ")
    assert all(each.get_attribute("d") != was for each, was in zip(lines, straight, strict=True))
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#left-picture .ring, #right-picture .ring").first).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#clock")).to_have_text("straight ahead")
    assert "right-which" in tabbed_to(page, "right-which")
    page.keyboard.press("Home")
    expect(page.locator("#right-which")).to_have_value("0")
    expect(page.locator("#right-sure")).to_contain_text("the plan's")
    assert page.locator("#right-closest").inner_text() == page.locator("#left-closest").inner_text()


def tabbed_to(page: Page, wanted: str, most: int = 60) -> list[str]:
    """Press the Tab key until the part of that id has the focus; the ids come by on the way."""
    seen: list[str] = []
    while wanted not in seen and len(seen) < most:
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.id"))
    return seen


def test_on_paper_the_pictures_are_as_wide_as_paper_and_nothing_is_left_to_press(page, planned_trip):
    for path, wide in (("/spread", 680), ("/compare", 340)):
        opened(page, planned_trip, path)
        page.emulate_media(media="print")
        page.evaluate("dispatchEvent(new Event('beforeprint'))")
        drawn = page.locator(".picture svg").first.get_attribute("viewBox") or ""
        assert drawn.split()[2] == str(wide)
        assert page.locator("button:visible, input:visible, summary:visible").count() == 0
        assert page.locator("table td:nth-child(3):visible").first.inner_text().strip().endswith("s")
        page.emulate_media(media="screen")
        page.evaluate("dispatchEvent(new Event('afterprint'))")
        assert (page.locator(".picture svg").first.get_attribute("viewBox") or "").split()[2] != str(wide)


def test_long_names_are_cut_in_the_picture_and_stay_apart(page, planned_trip):
    long = {"red": "red with the long butt and the spare tip", "blue": "the other of two alike, to port",
            "gold": "the other of two alike, to starboard"}  # fmt: skip

    def renamed(route):
        told = route.fetch().text()
        for short, name in long.items():
            told = told.replace(f'"{short}"', f'"{name}"')
        route.fulfill(body=told, content_type="application/json")

    page.set_viewport_size({"width": 390, "height": 844})
    page.route("**/api/**", renamed)
    opened(page, planned_trip)
    names = page.locator("#picture text.name").evaluate_all("all => all.map(each => each.firstChild.data)")
    assert len(set(names)) == 3
    assert all(len(name) <= 14 and "…" in name for name in names)
    inside = page.locator("#picture text.name").evaluate_all("""all => all.every(each => {
      const [own, host] = [each.getBoundingClientRect(), each.ownerSVGElement.getBoundingClientRect()];
      return own.left >= host.left && own.right <= host.right;
    })""")
    assert inside
    assert page.locator("#picture text.name title").first.evaluate("each => each.textContent") in long.values()
    page.unroute_all(behavior="wait")  # an answer still under way would fail in the next test, its page being gone


def test_with_reduced_motion_nothing_plays_by_itself(browser, browser_context_args, planned_trip):
    context = browser.new_context(**browser_context_args, reduced_motion="reduce")
    page = context.new_page()
    opened(page, planned_trip)
    expect(page.locator("#play")).to_have_text("Next moment")
    page.click("#play")
    moment = page.input_value("#moment")
    page.wait_for_timeout(300)
    assert page.input_value("#moment") == moment == "2.5"
    context.close()


def test_a_rod_stays_ashore_and_comes_back(page, planned_trip):
    opened(page, planned_trip)
    card = page.locator(".rod").first
    card.locator("summary").click()
    card.locator("input[type=checkbox]").uncheck()
    expect(card).to_contain_text("stays ashore")
    assert page.locator("#picture path.line").count() == 4
    card.locator("input[type=checkbox]").check()
    expect(card).not_to_contain_text("stays ashore")


@pytest.mark.parametrize("units", ["metric", "us"])
def test_units_are_switched_on_the_picture_too(page, planned_trip, units):
    opened(page, planned_trip)
    page.click(f".units button[value={units}]")
    page.wait_for_selector(READY)
    expect(page.locator("#closest")).to_contain_text(" m" if units == "metric" else " ft")
