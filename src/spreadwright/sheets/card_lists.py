"""The tackle room's lists as words for printed pages: groups, lines to tick, and what is to be known of each."""

from __future__ import annotations

from typing import Any

from spreadwright.sheets.figures import plain
from spreadwright.sheets.wording import sentence
from spreadwright.stock.lists.value import RoomList, TripLists

# The lists that are printed, by the name that the templates know them by.
PRINTED = {"buy": "buy", "bench": "bench", "pack": "pack", "night before": "night"}


def lists_words(lists: TripLists) -> dict[str, Any]:
    """Each printed list by its template's name, and the notes that are true of all."""
    said: dict[str, Any] = {PRINTED[each.name]: _list(each) for each in lists.lists if each.name in PRINTED}
    return {**said, "notes": [sentence(note) for note in lists.notes]}


def _list(made: RoomList) -> dict[str, Any]:
    names = dict.fromkeys(item.group for item in made.items)
    return {
        "title": made.title,
        "groups": [
            {
                "name": plain(name).capitalize(),
                "items": [
                    {"said": plain(item.said), "price": item.price, "details": [plain(each) for each in item.details]}
                    for item in made.items
                    if item.group == name
                ],
            }
            for name in names
        ],
        "notes": [sentence(note) for note in made.notes],
    }
