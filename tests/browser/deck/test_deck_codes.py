"""Codes on the screen: scanned by zbar they are the log; their modules are those of another encoder, segno."""

from __future__ import annotations

import itertools
import shutil
import subprocess
from pathlib import Path
from random import Random
from typing import Any

import pytest
import segno
from playwright.sync_api import Page, expect
from segno import consts
from segno.encoder import evaluate_mask
from tests.browser.deck.hands import Deck, sound, stands, stored

SCRIPTS = Path(__file__).parents[3] / "src" / "spreadwright" / "sheets" / "deck"
needs_zbarimg = pytest.mark.skipif(shutil.which("zbarimg") is None, reason="zbarimg (zbar-tools) is not here")


@pytest.fixture
def encoder(page: Page) -> Page:
    """A blank page with the encoder alone."""
    page.set_content("<title>codes</title>")
    page.add_script_tag(content=(SCRIPTS / "qr.js").read_text(encoding="utf-8"))
    return page


def modules(encoder: Page, text: str, version: int, mask: int) -> list[list[bool]]:
    rows: list[list[bool]] = encoder.evaluate(
        "([text, version, mask]) => qrCode(text, {version, mask})", [text, version, mask]
    )
    return rows


def full(encoder: Page, version: int) -> str:
    """A text that fills a version to its last byte."""
    luck = Random(version)
    room = encoder.evaluate("version => Math.floor((8 * qrRoom(version) - qrHead(version)) / 8)", version)
    return "".join(luck.choice("abcdefghijklmnopqrstuvwxyz {}:,") for _ in range(room))


def test_tables_are_those_of_the_standard_as_segno_has_them(encoder):
    """ISO/IEC 18004:2015, table 9, level L, all forty versions: blocks, their sizes, and what data they hold."""
    known: Any = consts.ECC
    ours = encoder.evaluate(
        "() => [...Array(40).keys()].map(i => [qrCodewords(i + 1), QR_BLOCKS[i], QR_CORRECTION[i], qrCentres(i + 1)])"
    )
    for version, (codewords, blocks, correction, centres) in enumerate(ours, start=1):
        theirs = known[version][consts.ERROR_LEVEL_L]
        assert sum(each.num_blocks for each in theirs) == blocks
        assert {each.num_total - each.num_data for each in theirs} == {correction}
        assert sum(each.num_blocks * each.num_total for each in theirs) == codewords
        if version > 1:
            assert tuple(centres) == tuple(consts.ALIGNMENT_POS[version - 2])


@pytest.mark.parametrize("version", [1, 2, 6, 7, 9, 10, 14, 21, 23, 27, 32, 36, 40])
def test_every_module_is_segnos(encoder, version):
    """The same text, version and mask give the same modules; one mask a version, all eight among them.

    Texts fill their version: segno puts an empty byte before the padding that ISO/IEC 18004:2015, 7.4.10 does not have.
    """
    text, mask = full(encoder, version), version % 8
    theirs = segno.make(text, version=version, mask=mask, error="l", boost_error=False, mode="byte", micro=False)
    assert modules(encoder, text, version, mask) == [[bool(each) for each in row] for row in theirs.matrix]


def test_what_a_text_leaves_free_is_padded_as_the_standard_says(encoder):
    """ISO/IEC 18004:2015, 7.4.9 and 7.4.10: four bits of end, zeros to a whole byte, then 236 and 17 in turn."""
    data = encoder.evaluate("() => [...qrData(new TextEncoder().encode('abcd'), 1)]")
    bits = "0100" + "00000100" + "".join(f"{ord(sign):08b}" for sign in "abcd") + "0000"
    assert data[:6] == [int(bits[i : i + 8], 2) for i in range(0, 48, 8)]
    assert data[6:] == [236, 17] * 6 + [236]
    assert len(data) == 19  # table 7: data codewords of version 1 at level L


def test_the_smallest_version_is_taken_and_what_is_too_long_is_refused(encoder):
    """ISO/IEC 18004:2015, table 7: bytes at level L are 17 in version 1, 32 in 2, 271 in 10, 2953 in 40."""
    for length, version in ((17, 1), (18, 2), (32, 2), (33, 3), (271, 10), (272, 11), (2953, 40)):
        assert len(encoder.evaluate("n => qrCode('a'.repeat(n))", length)) == 17 + 4 * version
    assert encoder.evaluate("() => qrCode('a'.repeat(2954))") is None


def test_masks_score_as_segno_scores_them_and_the_least_is_taken(encoder):
    """ISO/IEC 18004:2015, 7.8.3: of the eight the one whose whole symbol scores least."""
    for version in (1, 2, 5, 7, 12):
        text = full(encoder, version)[: 7 * version]
        codes, scores, chosen = encoder.evaluate(
            """([text, version]) => {
              const codes = [0, 1, 2, 3, 4, 5, 6, 7].map(mask => qrCode(text, {version, mask}));
              return [codes, codes.map(qrPenalty), qrCode(text, {version})];
            }""",
            [text, version],
        )
        theirs = [evaluate_mask([bytearray(row) for row in code], len(code), len(code)) for code in codes]
        assert scores == theirs
        assert chosen == codes[theirs.index(min(theirs))]


@needs_zbarimg
def test_codes_scanned_off_a_phones_screen_are_the_whole_log(browser, sheet_file, tmp_path):
    """A long log takes several codes; each is a log by itself, and in any order they make the whole."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, device_scale_factor=2, offline=True, accept_downloads=True
    )
    deck = Deck.opened(context.new_page(), sheet_file)
    page = deck.page
    for rod in ("green 80", "white 80", "yellow 80"):
        deck.line(rod)
        deck.say(deck.strike(rod), took="both", outcome="broke off")
    deck.undo()
    deck.part("log")
    page.locator("#note").fill('ñandú "✓" — \\ 釣')
    page.keyboard.press("Enter")
    deck.kept()
    page.locator("[data-do=codes]").click()
    count = int(page.locator("[data-show=code-place]").inner_text().split(" of ")[1])
    assert count > 2
    logs = []
    for place in range(1, count + 1):
        expect(page.locator("[data-show=code-place]")).to_have_text(f"{place} of {count}")
        path = tmp_path / f"code-{place}.png"
        page.locator(".code svg").screenshot(path=path)
        done = subprocess.run(["zbarimg", "-q", "--raw", str(path)], capture_output=True, check=True)
        text = done.stdout.decode("utf-8").strip()
        assert text.isascii()  # readers of codes guess at other signs
        assert len(text) <= 1400
        logs.append(sound(text))
        if place < count:
            page.locator("[data-step='1']").click()
    expect(page.locator("[data-step='1']")).to_be_disabled()
    page.locator("[data-do=codes-close]").click()
    wanted = stands(deck.export())
    assert len(wanted) == 7
    for order in itertools.islice(itertools.permutations(logs), 6):
        assert stands(*order, logs[0]) == wanted
    context.close()


def test_there_is_nothing_to_show_before_anything_is_noted(deck):
    deck.part("log")
    for button in ("save", "codes"):
        deck.page.locator(f"[data-do={button}]").click()
        expect(deck.page.locator("[data-show=sent]")).to_contain_text("Nothing is noted yet")
    assert not deck.page.locator("dialog").is_visible()


def test_a_file_carries_everything_and_what_it_carried_is_taken_back_by_the_next(deck):
    deck.strike("green 80")
    deck.undo()
    deck.strike("white 80")
    first = deck.export()
    assert len(first.entries) == 3
    deck.part("lines")
    deck.undo()
    second = deck.export()
    assert [entry.rod for entry in stands(first)] == ["white 80"]
    assert stands(first, second) == []


def test_a_code_after_a_file_takes_back_what_the_file_carried(deck):
    deck.strike("white 80")
    first = deck.export()
    deck.part("lines")
    deck.undo()
    deck.strike("green 80")
    deck.undo()  # never left: no code is needed for it
    deck.part("log")
    deck.page.locator("[data-do=codes]").click()
    expect(deck.page.locator("[data-show=code-place]")).to_have_text("1 of 1")
    codes = [each["entry"] for key, each in stored(deck.page).items() if not key.endswith(" settings")]
    assert len(codes) == 4
    deck.page.locator("[data-do=codes-close]").click()
    assert len(stands(first)) == 1
    assert stands(first, deck.export()) == []
