"""The lists as plain text that any phone can send and show, with what is ticked off."""

from __future__ import annotations

from collections.abc import Container, Iterator

from spreadwright.stock.lists.value import RoomList, TripLists


def list_text(made: RoomList, ticked: Container[str] = ()) -> str:
    """One list as plain text: a title, groups, one line an item with its tick, details below it."""
    return "\n".join(_lines(made, ticked)) + "\n"


def lists_text(made: TripLists, ticked: Container[str] = ()) -> str:
    """All lists of a trip as plain text, one after the other."""
    head = f"{made.title}, {made.boat}\n"
    return "\n".join([head, *(list_text(each, ticked) for each in made.lists), *made.notes]) + "\n"


def _lines(made: RoomList, ticked: Container[str]) -> Iterator[str]:
    yield made.title.upper()
    if not made.items:
        yield "nothing"
    group = None
    for item in made.items:
        if item.group != group:
            group = item.group
            yield f"- {group}"
        price = f"  ({item.price})" if item.price else ""
        yield f"  [{'x' if item.id in ticked else ' '}] {item.said}{price}"
        yield from (f"      {detail}" for detail in item.details)
    yield from (f"  note: {note}" for note in made.notes)
