"""The deck sheet in a real browser with the network cut: a whole day on deck, at a phone's and a laptop's width."""

from __future__ import annotations

import itertools
import json
from datetime import UTC, datetime, timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import expect
from tests.browser.deck.hands import NEXT_TAP, Deck, sound, stands, stored, told
from tests.browser.looking import picture, serious_faults, small_targets, sticks_out

from spreadwright.quantity import read
from spreadwright.sheets.deck import sheet_id

ORDER = ["yellow 80", "green 80", "white 80"]
WET = 44.0  # [px] WCAG 2.2, success criterion 2.5.5 (AAA): 44 by 44 CSS pixels


def test_a_whole_day(deck, size, small_plan):
    """Set out, strike, take back, land, clear, export; the laptop has the same log as the phone shows."""
    started = datetime.now(UTC) - timedelta(seconds=5)
    for rod in ORDER:
        deck.line(rod)
    assert deck.page.locator("li.is-out").count() == 3
    panel = deck.strike("green 80")
    picture(deck.page, f"deck-strike-{size}")
    deck.say(panel, took="weight", outcome="cut off", turn="starboard")
    panel.locator("[data-do=strike-done]").click()
    expect(panel).to_have_count(0)
    panel = deck.strike("white 80")
    deck.say(panel, outcome="landed")
    panel.locator("summary").click()
    panel.locator("[name=species]").fill("long-nosed striker")
    panel.locator("[name=length]").fill("52,5")
    panel.locator("[name=mass]").fill("31")
    panel.locator("form button").click()
    expect(deck.page.locator("[data-show=said]")).to_contain_text("52.5 in, 31 lb")
    picture(deck.page, f"deck-landed-{size}")
    panel.locator("[data-do=strike-done]").click()
    deck.page.locator("label:has([value=in])").first.click()
    assert [row.get_attribute("data-rod") for row in deck.page.locator("li[data-rod]").all()] == ORDER[::-1]
    for rod in ORDER[::-1]:
        deck.line(rod)
    assert deck.page.locator("li.is-out").count() == 0
    log = deck.export()
    left = stands(log)
    assert told(left) == [
        *(("line_out", rod, "unknown", "unknown") for rod in ORDER),
        ("strike", "green 80", "weight", "cut off"),
        ("strike", "white 80", "unknown", "landed"),
        *(("line_in", rod, "unknown", "unknown") for rod in ORDER[::-1]),
    ]
    assert (log.sheet.id, log.sheet.trip, log.sheet.boat) == (sheet_id(small_plan), small_plan.title, small_plan.boat)
    assert all(started <= entry.at <= datetime.now(UTC) for entry in left)
    cut, landed = left[3], left[4]
    assert cut.turn == "starboard"
    assert landed.length == pytest.approx(read("52.5 in", "length"))
    assert landed.mass == pytest.approx(read("31 lb", "mass"))
    rod = small_plan.rod("green 80")
    assert cut.rig is not None
    assert cut.rig.mark == pytest.approx(rod.mark, abs=1e-4)
    assert (cut.rig.station, cut.rig.weight, cut.rig.lure) == (rod.station, rod.weight, rod.lure)
    picture(deck.page, f"deck-log-{size}")


@pytest.mark.parametrize("part", ["lines", "rods", "spread", "log"])
def test_every_part_can_be_read_by_everyone_and_fits(deck, size, part):
    deck.strike("green 80")
    deck.page.locator(".strike summary").click()
    if part != "lines":
        deck.part(part)
    assert deck.page.locator("main > section:visible").count() == 1
    assert serious_faults(deck.page) == []
    assert sticks_out(deck.page) == []
    assert small_targets(deck.page) == []
    hidden = (
        "() => [...document.querySelectorAll('[data-scrolls]')].filter(box => box.scrollWidth > box.clientWidth).length"
    )
    assert deck.page.evaluate(hidden) == 0  # even a table that may scroll need not
    picture(deck.page, f"deck-{part}-{size}")


def test_what_is_pressed_with_wet_hands_is_large_and_apart(deck, size):
    deck.strike("green 80")
    boxes = [
        each.bounding_box() for each in deck.page.locator("#lines button:visible, #lines .choice label:visible").all()
    ]
    assert len(boxes) > 15
    for box in boxes:
        assert min(box["width"], box["height"]) >= WET
    for one, other in itertools.combinations(boxes, 2):
        beside = max(one["x"] - other["x"] - other["width"], other["x"] - one["x"] - one["width"])
        below = max(one["y"] - other["y"] - other["height"], other["y"] - one["y"] - one["height"])
        assert max(beside, below) >= 7.0


def test_one_tap_is_a_whole_strike(deck):
    """If nothing more is ever tapped, rod, time and rig are there all the same."""
    deck.strike("yellow 80")
    entry = stands(deck.export())[0]
    assert (entry.kind, entry.rod, entry.outcome) == ("strike", "yellow 80", "unknown")
    assert entry.rig is not None


def test_a_bouncing_finger_counts_once(deck):
    for doing, said in (("strike", "strike on green 80"), ("line", "green 80: line out")):
        button = deck.row("green 80").locator(f"[data-do={doing}]")
        button.evaluate("button => { button.click(); button.click(); }")
        deck.kept()
        assert deck.listed().count(said) == 1
        assert len(deck.listed()) == (1 if doing == "strike" else 2)
    deck.page.wait_for_timeout(NEXT_TAP)
    deck.strike("green 80")
    assert deck.listed().count("strike on green 80") == 2


def test_undo_goes_back_step_by_step_and_what_was_taken_back_can_be_put_back(deck):
    deck.line("green 80")
    panel = deck.strike("green 80")
    deck.say(panel, took="lure", outcome="lost")
    assert deck.listed() == ["strike on green 80: took the lure, lost", "green 80: line out"]
    deck.undo()
    assert deck.listed()[0] == "strike on green 80: took the lure"
    deck.undo()
    assert deck.listed()[0] == "strike on green 80"
    deck.undo()
    assert deck.listed() == ["green 80: line out"]
    assert deck.listed("back") == ["strike on green 80: took the lure, lost"]  # as it was last said
    assert deck.page.locator(".strike").count() == 0
    deck.undo()
    assert deck.listed() == []
    expect(deck.page.locator("[data-do=undo]")).to_be_disabled()
    deck.part("log")
    deck.page.locator("[data-show=back-box] summary").click()
    deck.page.locator("[data-show=back] li", has_text="strike").locator("button").click()
    deck.kept()
    assert deck.listed() == ["strike on green 80: took the lure, lost"]
    assert told(stands(deck.export())) == [("strike", "green 80", "lure", "lost")]


def test_a_change_that_is_taken_back_and_put_back_from_the_list(deck):
    panel = deck.strike("green 80")
    deck.say(panel, outcome="lost")
    deck.part("log")
    deck.page.locator("[data-show=entries] [data-do=back]").click()
    deck.kept()
    assert deck.listed() == ["strike on green 80"]
    deck.page.locator("[data-show=entries] [data-do=back]").click()
    expect(deck.page.locator("[data-show=entries] li")).to_have_count(0)
    deck.page.locator("[data-show=entries] [data-do=back]").wait_for(state="detached")
    assert stands(deck.export()) == []


def test_a_strike_is_changed_from_the_log(deck):
    panel = deck.strike("white 80")
    deck.say(panel, outcome="missed")
    panel.locator("[data-do=strike-done]").click()
    deck.part("log")
    deck.page.locator("[data-do=change]").click()
    panel = deck.page.locator(".strike")
    expect(panel.locator("h3")).to_be_focused()
    expect(panel.locator("[data-key=outcome][value=missed]")).to_be_checked()
    deck.say(panel, outcome="lost")
    assert told(stands(deck.export())) == [("strike", "white 80", "unknown", "lost")]


def test_a_number_that_is_none_is_refused_with_what_to_write(deck):
    panel = deck.strike("green 80")
    panel.locator("summary").click()
    panel.locator("[name=mass]").fill("big")
    panel.locator("form button").click()
    expect(panel.locator("[data-show=fault]")).to_have_text(
        "“big” is no mass: write a number over 0 and up to 4409 lb."
    )
    assert panel.locator("[name=mass]").get_attribute("aria-invalid") == "true"
    assert len(deck.listed()) == 1
    panel.locator("[name=mass]").fill("4409")
    panel.locator("form button").click()
    expect(panel.locator("[data-show=fault]")).to_be_empty()


def test_a_note_in_any_script_comes_ashore_as_it_was(deck):
    deck.part("log")
    said = 'birds ✓ "north" <b>4</b> °F, ñandú'
    deck.page.locator("#note").fill(said)
    deck.page.keyboard.press("Enter")
    deck.kept()
    assert [entry.note for entry in stands(deck.export())] == [said]
    deck.page.locator("[data-do=text] summary").click()
    expect(deck.page.locator("[data-show=text]")).not_to_have_value("")
    text = deck.page.locator("[data-show=text]").input_value()
    assert sound(text).entries[0].note == said


def test_by_keyboard_alone(deck):
    page = deck.page
    page.keyboard.press("Tab")
    expect(page.locator('nav a[href="#lines"]')).to_be_focused()
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.dataset.do") == "strike":
            break
    page.keyboard.press("Enter")
    deck.kept()
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowLeft")  # from "not known" to what stands before it
    expect(page.locator("[data-key=took][value=both]")).to_be_checked()
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    expect(page.locator("[data-key=outcome][value=missed]")).to_be_checked()
    expect(page.locator("[data-show=said]")).to_contain_text("took lure and weight, missed")
    outline = page.evaluate("() => getComputedStyle(document.activeElement.closest('label')).outlineWidth")
    assert float(outline.removesuffix("px")) >= 3.0
    page.locator('nav a[href="#log"]').focus()
    page.keyboard.press("Enter")
    expect(page.locator("#log-head")).to_be_focused()


def test_units_switch_for_good(deck, sheet_file):
    deck.part("rods")
    card = deck.page.locator("#rods article").first
    assert "350\u00a0ft" in card.inner_text()
    deck.part("log")
    deck.page.locator("label:has([value=metric])").click()
    deck.part("rods")
    assert "107\u00a0m" in card.inner_text()
    assert "\u00a0ft" not in card.locator("dl").inner_text()
    deck.page.reload()
    deck.page.locator("html[data-ready=yes]").wait_for()
    assert deck.page.locator("html").get_attribute("data-units") == "metric"


def test_nothing_moves_and_nothing_is_told_by_colour_alone(deck):
    deck.page.emulate_media(reduced_motion="reduce")
    moving = deck.page.evaluate(
        """() => [...document.querySelectorAll("*")].filter(each => {
             const how = getComputedStyle(each);
             return parseFloat(how.transitionDuration) > 0 || how.animationName !== "none";
           }).length"""
    )
    assert moving == 0
    deck.line("green 80")
    assert "out since" in deck.row("green 80").inner_text()
    assert "aboard" in deck.row("white 80").inner_text()


def test_words_can_be_read_in_the_sun(deck):
    """WCAG 2.2, success criterion 1.4.6 (AAA): seven to one; axe measures it as color-contrast-enhanced."""
    deck.line("green 80")
    deck.strike("green 80")
    for part in ("lines", "rods", "spread", "log"):
        deck.part(part)
        options = {"runOnly": {"type": "rule", "values": ["color-contrast-enhanced"]}}
        found = Axe().run(deck.page, options=options).response
        assert len(found["passes"][0]["nodes"]) > 10
        assert found["violations"] == []


def test_the_timer_runs_through_a_reload_and_says_when_it_is_over(page, sheet_file):
    page.clock.install()
    deck = Deck.opened(page, sheet_file)
    page.locator("[data-minutes='10']").click()
    expect(page.locator("[data-show=timer]")).to_have_text("0:10:00")
    page.clock.run_for(61_000)
    assert page.locator("[data-show=timer]").inner_text() in {"0:09:00", "0:08:59", "0:08:58"}
    page.reload()
    page.locator("html[data-ready=yes]").wait_for()
    assert page.locator("[data-show=timer]").inner_text() in {"0:09:00", "0:08:59", "0:08:58", "0:08:57"}
    page.clock.run_for(9 * 60_000)
    expect(page.locator("[data-show=timer]")).to_contain_text("Time is up")
    expect(page.locator("[data-show=timer-said]")).to_have_text("Time is up.")
    assert deck.said == "Time is up."
    page.locator("[data-minutes='0']").click()
    expect(page.locator("[data-show=timer]")).to_have_text("not set")


def test_position_is_noted_only_if_wanted_and_allowed(context, page, sheet_file):
    page.add_init_script(
        """window.asked = 0;
           const watch = navigator.geolocation.watchPosition.bind(navigator.geolocation);
           navigator.geolocation.watchPosition = (...given) => { window.asked += 1; return watch(...given); };"""
    )
    context.grant_permissions(["geolocation"])
    context.set_geolocation({"latitude": -12.345678, "longitude": 45.678901})
    deck = Deck.opened(page, sheet_file)
    deck.strike("green 80")
    deck.part("log")
    assert page.evaluate("() => window.asked") == 0
    page.locator("[name=position]").check()
    expect(page.locator("[data-show=position]")).to_contain_text("-12.3457, 45.6789")
    deck.part("lines")
    deck.strike("white 80")
    first, second = stands(deck.export())
    assert first.position is None
    assert second.position == (-12.34568, 45.6789)


def test_without_leave_for_the_position_the_log_goes_on(deck):
    deck.part("log")
    deck.page.locator("[name=position]").check()
    expect(deck.page.locator("[data-show=position]")).to_contain_text("noted without")
    deck.part("lines")
    deck.strike("white 80")
    assert stands(deck.export())[0].position is None


def test_logs_of_two_phones_in_any_order_and_any_number_are_one(browser, sheet_file):
    logs = []
    for rods in (("green 80", "white 80"), ("yellow 80",)):
        context = browser.new_context(offline=True, accept_downloads=True)
        deck = Deck.opened(context.new_page(), sheet_file)
        for rod in rods:
            deck.say(deck.strike(rod), outcome="lost")
        logs.append(deck.export())
        deck.part("lines")
        deck.strike("green 80")
        logs.append(deck.export())
        context.close()
    wanted = stands(*logs)
    assert len(wanted) == 5
    for order in itertools.permutations([*logs, logs[0]]):
        assert stands(*order) == wanted


def test_nothing_can_be_fetched_or_run_from_elsewhere(deck, watch):
    """The policy itself refuses, not only the network that is cut."""
    refused = deck.page.evaluate(
        """async () => {
          const found = [];
          document.addEventListener("securitypolicyviolation", event => found.push(event.effectiveDirective));
          await fetch("https://example.org/x").catch(() => null);
          const script = document.createElement("script");
          script.textContent = "window.ran = true";
          document.head.append(script);
          const image = document.createElement("img");
          image.src = "https://example.org/x.png";
          document.body.append(image);
          await new Promise(done => setTimeout(done, 200));
          return [found.sort(), window.ran ?? false];
        }"""
    )
    assert refused == [["connect-src", "img-src", "script-src-elem"], False]
    watch.errors.clear()  # the browser's own words about the three
    watch.outside.clear()  # and what was refused before it left


def test_share_gives_the_same_log_and_is_hidden_where_there_is_none(page, sheet_file):
    deck = Deck.opened(page, sheet_file)
    deck.part("log")
    assert page.locator("[data-do=share]").is_hidden()
    page.add_init_script(
        """navigator.canShare = ({files}) => files.length === 1;
           navigator.share = async ({files}) => { window.shared = [files[0].name, await files[0].text()]; };"""
    )
    deck = Deck.opened(page, sheet_file)
    deck.part("lines")
    deck.strike("green 80")
    deck.part("log")
    page.locator("[data-do=share]").click()
    expect(page.locator("[data-show=sent]")).to_have_text("Shared.")
    name, text = page.evaluate("() => window.shared")
    assert name.endswith(".txt")  # what browsers let a page share
    assert told(stands(sound(text))) == [("strike", "green 80", "unknown", "unknown")]


def test_what_is_in_the_mirror_is_what_was_exported(deck):
    deck.strike("green 80")
    kept = [value["entry"] for key, value in stored(deck.page).items() if not key.endswith(" settings")]
    log = deck.export()
    assert [json.loads(entry.canonical())["id"] for entry in log.entries] == [entry["id"] for entry in kept]
