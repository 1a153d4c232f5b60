"""The tackle room's lists on paper: every line with its box and what belongs to it, nothing torn or lost."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from tests.sheets.example_plan import example_plan
from tests.sheets.test_cards import EDGE, MM, needs_pdftotext, pages_of

from spreadwright.sheets.card_lists import PRINTED, lists_words
from spreadwright.sheets.cards import CardKind, cards_pdf
from spreadwright.stock.fill import from_trip
from spreadwright.stock.lists.make import make_lists
from spreadwright.stock.lists.value import TITLES, TripLists
from spreadwright.stock.replay import State
from spreadwright.stock.room import Room
from spreadwright.tackle import read_trip

TRIP = read_trip(Path(__file__).parents[2] / "examples" / "demo" / "trip.toml")
PLAN = example_plan()
KINDS: tuple[CardKind, ...] = ("shopping", "bench", "packing")


@pytest.fixture(scope="module")
def lists() -> TripLists:
    found = from_trip(TRIP)
    room = Room(tuple(each.piece for each in found), {each.piece.id: State(fit=each.count) for each in found})
    return make_lists(TRIP, PLAN.rods, room, today=date(2031, 3, 7))


def plain(text: str) -> str:
    return re.sub(r"\s+", "", text.replace("’", "'").replace("\u00a0", " "))


@needs_pdftotext
def test_every_line_of_every_list_is_printed_with_what_belongs_to_it_on_its_page(lists):
    pages = pages_of(cards_pdf(PLAN, KINDS, trip=TRIP, lists=lists))
    texts = [plain(" ".join(word.said for word in page.words)) for page in pages]
    for name in PRINTED:
        made = next(each for each in lists.lists if each.name == name)
        assert made.items
        for item in made.items:
            whole = plain(item.said + "".join(item.details))
            assert any(whole in text for text in texts), (name, item.said)
        for note in made.notes if name != "bench" else ():  # the bench page has its cautions already
            assert any(plain(note[1:]).rstrip(".") in text for text in texts), note
    assert any(plain(note[1:]) in text for text in texts for note in lists.notes)


@needs_pdftotext
@pytest.mark.parametrize("more", range(0, 24, 3))
def test_lists_stay_inside_the_margins_and_nothing_that_belongs_together_is_torn(lists, more):
    """Lists that run over several pages, each time by a few lines more, so that pages end at all sorts of places."""
    made = lists.list("night before")
    longer = made.model_copy(update={"items": (*made.items[:1] * more, *made.items * 3)})
    others = tuple(longer if each.name == "night before" else each for each in lists.lists)
    groups = {plain(item.group).lower() for item in made.items}
    pages = pages_of(cards_pdf(PLAN, ("packing",), trip=TRIP, lists=lists.model_copy(update={"lists": others})))
    assert len(pages) > 2
    for page in pages:
        assert all(word.left >= EDGE[False] * MM - 0.5 for word in page.words)
        assert all(word.right <= page.width - EDGE[False] * MM + 0.5 for word in page.words)
        body = page.lines(page.height - 17.0 * MM)
        assert plain(body[-1]).lower() not in groups
        assert not body[-1].endswith(("with a scale", "readable", "and locks"))  # a rod's lines but for its last
        assert len(body) >= 3


def test_groups_keep_their_order_and_an_empty_list_says_so(lists):
    words = lists_words(lists)
    pack = next(each for each in lists.lists if each.name == "pack")
    assert [group["name"].lower() for group in words["pack"]["groups"]] == list(
        dict.fromkeys(item.group for item in pack.items)
    )
    assert sum(len(group["items"]) for group in words["pack"]["groups"]) == len(pack.items)
    assert words["night"]["title"] == TITLES["night before"]
    nothing = lists.model_copy(update={"lists": tuple(each.model_copy(update={"items": ()}) for each in lists.lists)})
    assert cards_pdf(PLAN, KINDS, trip=TRIP, lists=nothing).startswith(b"%PDF-")
