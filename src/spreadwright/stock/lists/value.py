"""A trip's lists as one frozen value: what every face shows, is stored for ticking off, and is sent as text."""

from __future__ import annotations

import hashlib
from typing import Literal

from pydantic import BaseModel, ConfigDict

ListName = Literal["buy", "bench", "re-mark", "pack", "night before"]
TITLES: dict[ListName, str] = {
    "buy": "To buy",
    "bench": "To make up at the bench",
    "re-mark": "Reels to re-mark",
    "pack": "To pack",
    "night before": "To check the night before",
}


class ListPart(BaseModel):
    """Base of the lists' values: frozen, strict about what it is read back from."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Taken(ListPart):
    """What one item takes from a piece in the room: kind, name, how much (pieces, or millimetres of a coil)."""

    kind: str
    name: str
    amount: int


class Item(ListPart):
    """One line of a list.

    id        stays the same for the same thing in a list that is made again, so that a tick can be kept
    group     the aisle, rod or bag it stands under
    said      the line itself, with its number
    details   more lines: why, what would also do, order of work
    kind, name, amount   the piece it is about, where there is one (millimetres of a coil)
    takes     what making it up takes from the shelf, all of it
    price     of all of it in the captain's money, if known
    """

    id: str
    group: str
    said: str
    details: tuple[str, ...] = ()
    kind: str = ""
    name: str = ""
    amount: int = 0
    takes: tuple[Taken, ...] = ()
    price: str = ""


class RoomList(ListPart):
    """One list: its items in the order to go through, and what is to be known before."""

    name: ListName
    items: tuple[Item, ...]
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Its title in plain words."""
        return TITLES[self.name]


class TripLists(ListPart):
    """All lists of one trip, as they stood when they were made."""

    format: Literal["spreadwright lists"] = "spreadwright lists"
    version: Literal[1] = 1
    title: str
    boat: str
    units: Literal["us", "metric"]
    lists: tuple[RoomList, ...]
    notes: tuple[str, ...] = ()

    def list(self, name: ListName) -> RoomList:
        """The list of that name; KeyError if it was not made."""
        for each in self.lists:
            if each.name == name:
                return each
        raise KeyError(name)


def item_id(list_name: ListName, *about: str) -> str:
    """The id of an item: the same list and words give the same id."""
    return hashlib.sha256("\n".join((list_name, *about)).encode()).hexdigest()[:16]
