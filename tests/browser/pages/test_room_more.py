"""The rest of the tackle room in a browser: a piece with its photo, and what happens to it, on both screens."""

from __future__ import annotations

import base64

import pytest
from playwright.sync_api import Page, expect
from tests.browser.looking import picture, serious_faults, small_targets, sticks_out
from tests.browser.pages.conftest import served
from tests.plan.demo import TRIP_FILE
from tests.sheets.example_plan import example_plan


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """The demo's pages over a store of their own; the address of the house."""
    with served(tmp_path_factory.mktemp("house"), TRIP_FILE, example_plan()) as base:
        yield base.split("/trips/")[0]


def fine(page: Page, name: str) -> None:
    picture(page, name)
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []


# A picture as a phone takes it, too large to be sent as it is: drawn by the browser itself, with a little grain in it.
SHOT = """async () => {
  const [wide, high] = [1800, 1200];
  const canvas = new OffscreenCanvas(wide, high);
  const grain = new ImageData(wide, high);
  for (let at = 0; at < wide * high; at += 1) {
    const light = (at % wide) / 10 + ((at * 7919) % 104729) % 11;
    grain.data.set([light, light, 90, 255], 4 * at);
  }
  canvas.getContext("2d").putImageData(grain, 0, 0);
  const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: "image/png" })).arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}"""


def test_a_piece_gets_a_photo_and_a_history(page, house, size):
    page.goto(f"{house}/room")
    if page.get_by_role("button", name="Fill the room").count():
        page.get_by_role("button", name="Fill the room").click()
    page.get_by_role("link", name="32 oz torpedo").click()
    page.wait_for_url("**/room/piece/*")
    shot = base64.b64decode(page.evaluate(SHOT))
    assert len(shot) > 400_000
    before = page.locator(".photos > li").count()
    page.set_input_files("input[type=file]", {"name": "shot.png", "mimeType": "image/png", "buffer": shot})
    page.get_by_label("What it shows").fill("the shackle, worn")
    with page.expect_navigation():
        page.get_by_role("button", name="Keep this photo").click()
    shown = page.locator(".photos > li img").first
    expect(page.locator(".photos > li")).to_have_count(before + 1)
    kept = page.request.get(house + (shown.get_attribute("src") or "")).body()
    assert kept.startswith(b"\xff\xd8\xff")  # made smaller, as a JPEG
    assert shown.evaluate("each => each.decode().then(() => each.naturalWidth)") == 1600
    gone = page.locator("summary", has_text="Gone")
    gone.focus()
    page.keyboard.press("Enter")
    page.locator("#do-use").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_have_text("Noted.")
    expect(page.locator("table")).to_contain_text("lost")
    for summary in ("Bought", "Made up at the bench"):
        page.locator("summary", has_text=summary).click()
    fine(page, f"pages-piece-{size}")
    page.locator("summary[aria-label='Remove photo 1']").click()
    page.get_by_role("button", name="Remove photo 1 for good").click()
    expect(page.get_by_role("status")).to_have_text("The photo is removed.")


def test_files_spares_and_boats_fit_the_screen(page, house, size):
    page.goto(f"{house}/room/boats")
    page.get_by_label("Its name").fill(f"Marten {size}")
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("heading", name=f"Marten {size}")).to_be_visible()
    fine(page, f"pages-boats-{size}")
    page.goto(f"{house}/room/spares")
    page.get_by_label("Hours trolled").fill("24")
    page.get_by_role("button", name="Count").click()
    expect(page.locator("main")).to_contain_text("144 line-hours")
    fine(page, f"pages-spares-{size}")
    page.goto(f"{house}/room/files")
    with page.expect_download() as taken:
        page.get_by_role("link", name="All of it").click()
    assert taken.value.suggested_filename == "stocktake.csv"
    fine(page, f"pages-files-{size}")
