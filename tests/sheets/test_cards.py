"""Printed cards: right paper, a page a rod, nothing clipped or too small, words as given, QR codes that scan."""

import io
import math
import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from PIL import Image
from tests.sheets.example_plan import example_plan
from tests.sheets.plans import make_plan, plans

from spreadwright.plan.value import Plan
from spreadwright.sheets.card_words import card_words, drag_points, rod_as_text
from spreadwright.sheets.cards import CARD_KINDS, CardKind, card_pdf, card_pictures, cards_pdf, fits
from spreadwright.tackle import read_trip

# ISO 216: A4 is 210 x 297 mm, A6 is 105 x 148 mm; ANSI/ASME Y14.1: letter is 8.5 x 11 in. Cards in US units: 4 x 6 in.
PAPER = {
    "us": {True: (4.0, 6.0), False: (8.5, 11.0)},
    "metric": {True: (105 / 25.4, 148 / 25.4), False: (210 / 25.4, 297 / 25.4)},
}
CARDS = ("rods", "marks")
TRIP = read_trip(Path(__file__).parents[2] / "examples" / "demo" / "trip.toml")  # the example plan's own trip
XHTML = "{http://www.w3.org/1999/xhtml}"
MM = 72.0 / 25.4  # [pt]
EDGE = {True: 5.0, False: 14.0}  # [mm] white edge of a card, of a page
needs_pdftotext = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext (poppler-utils) is not here")
needs_zbarimg = pytest.mark.skipif(shutil.which("zbarimg") is None, reason="zbarimg (zbar-tools) is not here")


def pictures(plan: Plan, kind: CardKind, sharpness: float = 72.0) -> list[Image.Image]:
    return [Image.open(io.BytesIO(page)) for page in card_pictures(plan, kind, sharpness=sharpness)]


@dataclass(frozen=True)
class Word:
    """A word of a PDF where it stands [pt], y downward."""

    said: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class PdfPage:
    width: float
    height: float
    words: tuple[Word, ...]

    def lines(self, down_to: float = math.inf) -> list[str]:
        """Its lines from top to bottom, of what ends above `down_to` [pt]; words of nearly one height stand on one."""
        lines: list[list[Word]] = []
        shown = [word for word in self.words if word.bottom <= down_to]
        for word in sorted(shown, key=lambda word: (word.top + word.bottom, word.left)):
            middle = 0.5 * (word.top + word.bottom)
            if lines and middle < lines[-1][0].bottom - 0.2 * (lines[-1][0].bottom - lines[-1][0].top):
                lines[-1].append(word)
            else:
                lines.append([word])
        return [" ".join(word.said for word in sorted(line, key=lambda word: word.left)) for line in lines]


def pages_of(pdf: bytes) -> list[PdfPage]:
    """What poppler reads in a PDF: each page's size and its words with their boxes."""
    done = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True)
    root = ElementTree.fromstring(done.stdout)
    found = []
    for page in root.iter(f"{XHTML}page"):
        words = tuple(
            Word(word.text or "", *(float(word.attrib[key]) for key in ("xMin", "yMin", "xMax", "yMax")))
            for word in page.iter(f"{XHTML}word")
        )
        found.append(PdfPage(float(page.attrib["width"]), float(page.attrib["height"]), words))
    return found


def text_of(pdf: bytes) -> str:
    done = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True)
    return " ".join(done.stdout.decode("utf-8").split())


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("kind", CARD_KINDS)
def test_paper_and_pages(kind, system):
    plan = example_plan().model_copy(update={"units": system})
    pages = pictures(plan, kind)
    assert len(pages) == (len(plan.rods) if kind == "rods" else 1)
    wide, high = PAPER[system][kind in CARDS]
    for page in pages:
        assert page.width == pytest.approx(72 * wide, abs=1.01)
        assert page.height == pytest.approx(72 * high, abs=1.01)


@pytest.mark.parametrize("kind", CARD_KINDS)
def test_nothing_reaches_the_edge_of_the_paper(kind):
    """A home printer leaves 3 to 4 mm unprinted: common practice, no source."""
    for page in pictures(example_plan(), kind, 100.0):
        grey = page.convert("L")
        rim = 15  # pixels: 3.8 mm
        inside = Image.new("L", (grey.width - 2 * rim, grey.height - 2 * rim), 255)
        grey.paste(inside, (rim, rim))
        assert grey.getextrema() == (255, 255)


@pytest.mark.parametrize("kind", ["spread", "rods", "marks", "bench", "crew"])
def test_type_stays_readable(kind):
    sizes = fits(example_plan(), kind)
    assert sizes
    for each in sizes:
        assert each["fits"]
        assert each["size"] >= 0.8, each


@settings(max_examples=6, deadline=None)
@given(plans())
def test_whatever_the_plan_each_rod_gets_one_card_that_fits(plan):
    for kind in ("rods", "spread", "marks"):
        assert all(each["fits"] for each in fits(plan, kind))
    assert len(card_pictures(plan, "rods", sharpness=20.0)) == len(plan.rods)
    assert len(card_pictures(plan, "spread", sharpness=20.0)) == 1


@needs_pdftotext
def test_cards_say_what_the_plan_says():
    plan = example_plan()
    text = text_of(card_pdf(plan, "rods"))
    for rod in plan.rods:
        for said in (rod.rod, rod.station, rod.weight, rod.shock_leader, rod.bite_leader, rod.lure, rod.swivel):
            assert said in text
    assert "328 ft ± 8" in text  # green 80 runs at 99.9 m ± 2.5
    assert "275 ft ± 5" in text
    assert "9.0 ft ± 2.2" in text
    for kind in CARD_KINDS:
        text = text_of(card_pdf(plan, kind))
        named = ["shock leader"] if kind == "shopping" else [rod.rod for rod in plan.rods]
        assert all(name in text for name in named), kind
        if kind not in CARDS:
            assert plan.title in text
            assert plan.notice.replace("'", "’") in text  # print has curved apostrophes


@needs_pdftotext
def test_the_crew_brief_carries_every_caution_and_both_orders():
    plan = example_plan()
    text = text_of(card_pdf(plan, "crew"))
    for caution in plan.cautions:
        assert caution.text.replace("'", "’")[:40] in text
    order = [rod.rod for rod in sorted(plan.rods, key=lambda rod: rod.set_out)]
    places = [text.index(f"{place + 1}. {name}") for place, name in enumerate(order)]
    assert places == sorted(places)


@needs_pdftotext
def test_nothing_a_captain_wrote_steers_the_typesetting():
    odd = '#pagebreak() *x* $y$ \\ [z] "q" @ref <l> // c'
    plan = example_plan()
    rods = (plan.rods[0].model_copy(update={"lure": odd}), *plan.rods[1:])
    changed = plan.model_copy(update={"title": odd, "rods": rods})
    assert len(card_pictures(changed, "rods", sharpness=20.0)) == len(plan.rods)
    assert odd in text_of(card_pdf(changed, "rods"))
    assert odd in text_of(card_pdf(changed, "shopping"))


@needs_zbarimg
def test_every_qr_code_scans_and_is_the_rods_data_in_plain_words(tmp_path):
    plan = example_plan()
    for rod, page in zip(sorted(plan.rods, key=lambda rod: rod.set_out), pictures(plan, "rods", 200.0), strict=True):
        path = tmp_path / "card.png"
        page.convert("L").save(path)  # as a black and white printer has it
        done = subprocess.run(["zbarimg", "-q", "--raw", str(path)], capture_output=True, check=True)
        assert done.stdout.decode("utf-8").strip() == rod_as_text(plan, rod, "us")


def test_the_text_in_the_code_has_what_a_mate_needs_and_only_plain_signs():
    plan = example_plan()
    rod = plan.rod("green 80")
    text = rod_as_text(plan, rod, "us")
    assert text.isascii()
    for said in (
        "green 80, port gunwale",
        "mark 300 ft",
        "runs at 328 ft +- 8",
        rod.weight,
        rod.lure,
        "drag 22 lb",
        "out 3, in 4",
    ):
        assert said in text


def test_the_drag_table_keeps_every_change_of_state():
    rod = example_plan().rod("green 80")
    kept = drag_points(rod)
    assert kept[0] == rod.drag[0]
    assert {point.state for point in kept} == {point.state for point in rod.drag}
    assert len(kept) <= 5


def test_packing_counts_what_the_rods_carry():
    plan = example_plan()
    packing = card_words(plan, "us")["packing"]
    for kind, field in (("trolling weight", "weight"), ("shock leader", "shock_leader"), ("lure", "lure")):
        names = [getattr(rod, field) for rod in plan.rods]
        counted = {name.replace("\u00a0", " "): int(count) for count, each, name in packing if each == kind}
        assert counted == {name: names.count(name) for name in names}


@needs_pdftotext
def test_all_in_one_file_each_on_its_own_paper_and_the_same_plan_gives_the_same_bytes():
    plan = example_plan()
    made = cards_pdf(plan)
    assert made == cards_pdf(plan)
    cards = [False, *[True] * len(plan.rods), True, False, False, False, False]
    wanted = [tuple(72 * side for side in PAPER["us"][card]) for card in cards]
    assert [(page.width, page.height) for page in pages_of(made)] == wanted


@needs_pdftotext
@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_word_stands_inside_the_margins(system):
    for page in pages_of(cards_pdf(example_plan(), system=system, trip=TRIP)):
        card = page.width < 110.0 * MM
        edge = EDGE[card] * MM - 0.5  # half a point for what a letter may overhang
        foot = edge if card else 6.0 * MM  # under a page's text its foot line runs
        assert page.words
        for word in page.words:
            assert word.left >= edge, word
            assert word.right <= page.width - edge, word
            assert word.top >= edge - 4.0, word  # a word's box is higher than its letters
            assert word.bottom <= page.height - foot + 2.0, word


@needs_pdftotext
@pytest.mark.parametrize("count", [1, 8, 13])
def test_no_page_is_left_with_a_line_alone_and_no_rod_is_torn(count):
    """Bench list and crew brief may run on to a second page: then at least three lines do, and a rod's work stays
    together."""
    plan = make_plan([f"rod {i}" for i in range(1, count + 1)], "a day", 7)
    for page in pages_of(cards_pdf(plan, ("marks", "shopping", "bench", "packing", "crew"))):
        body = page.lines(page.height - (0.0 if page.width < 110.0 * MM else 17.0 * MM))
        assert len(body) >= 3, body
        heads = [line for line in body if re.fullmatch(r"rod \d+ .* mark", line)]
        assert len(heads) == len([line for line in body if line.startswith("Set the strike drag")])


@needs_pdftotext
@pytest.mark.parametrize("kind", ["spread", "rods", "crew", "bench"])
def test_no_line_of_text_is_one_short_word(kind):
    """The last line of a paragraph is more than one short word."""
    for page in pages_of(card_pdf(example_plan(), kind, trip=TRIP)):
        lone = [line for line in page.lines() if re.fullmatch(r"[a-z]{1,6}[.,]?", line)]
        assert set(lone) <= {"port", "starboard"}, lone  # the sides of the drawing's panel stand alone


def test_a_kind_that_there_is_not_is_refused_by_name():
    with pytest.raises(ValueError, match=re.escape("no card named 'rod': take one of spread, rods")):
        card_pdf(example_plan(), "rod")  # type: ignore[arg-type]
