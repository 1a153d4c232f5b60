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
from spreadwright.stock.lists.value import TITLES, Item, RoomList, TripLists
from spreadwright.stock.replay import State
from spreadwright.stock.room import Room
from spreadwright.tackle import read_trip

TRIP = read_trip(Path(__file__).parents[2] / "examples" / "demo" / "trip.toml")
KINDS: tuple[CardKind, ...] = ("shopping", "bench", "packing")


@pytest.fixture(scope="module")
def lists() -> TripLists:
    found = from_trip(TRIP)
    room = Room(tuple(each.piece for each in found), {each.piece.id: State(fit=each.count) for each in found})
    return make_lists(TRIP, example_plan().rods, room, today=date(2031, 3, 7))


def plain(text: str) -> str:
    return re.sub(r"\s+", "", text.replace("’", "'").replace("\u00a0", " "))


@needs_pdftotext
def test_every_line_of_every_list_is_printed_with_what_belongs_to_it_on_its_page(lists):
    pages = pages_of(cards_pdf(example_plan(), KINDS, trip=TRIP, lists=lists))
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
@pytest.mark.parametrize("system", ["us", "metric"])
def test_lists_stay_inside_the_margins_and_no_group_is_left_without_its_first_line(lists, system):
    longest = lists.model_copy(
        update={"lists": tuple(each.model_copy(update={"items": tuple(_doubled(each))}) for each in lists.lists)}
    )
    groups = {plain(item.group).lower() for each in lists.lists for item in each.items}
    pages = pages_of(cards_pdf(example_plan(), KINDS, system=system, trip=TRIP, lists=longest))
    assert len(pages) > 6
    for page in pages:
        assert all(word.left >= EDGE[False] * MM - 0.5 for word in page.words)
        assert all(word.right <= page.width - EDGE[False] * MM + 0.5 for word in page.words)
        body = page.lines(page.height - 17.0 * MM)
        assert plain(body[-1]).lower() not in groups
        assert len(body) >= 3


def _doubled(made: RoomList) -> list[Item]:
    """Each group's lines twice, so that lists run over several pages."""
    return [item for item in made.items for _ in range(2)]


def test_groups_keep_their_order_and_an_empty_list_says_so(lists):
    words = lists_words(lists)
    pack = next(each for each in lists.lists if each.name == "pack")
    assert [group["name"].lower() for group in words["pack"]["groups"]] == list(
        dict.fromkeys(item.group for item in pack.items)
    )
    assert sum(len(group["items"]) for group in words["pack"]["groups"]) == len(pack.items)
    assert words["night"]["title"] == TITLES["night before"]
    nothing = lists.model_copy(update={"lists": tuple(each.model_copy(update={"items": ()}) for each in lists.lists)})
    assert cards_pdf(example_plan(), KINDS, trip=TRIP, lists=nothing).startswith(b"%PDF-")
