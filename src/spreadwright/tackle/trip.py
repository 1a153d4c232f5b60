"""A trip: everything a trip file holds, as one frozen value."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from spreadwright.quantity import quote
from spreadwright.tackle.boat import Boat
from spreadwright.tackle.fields import LONGEST_LIST, Name, Tackle, Words, refusal
from spreadwright.tackle.leader import BiteLeader, ShockLeader
from spreadwright.tackle.lure import Lure
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.pattern import Pattern, Water
from spreadwright.tackle.terminal import Crimp, Hook, SnapSwivel
from spreadwright.tackle.weight import TrollingWeight
from spreadwright.tackle.wishes import Ban, Lock, Spares, Wishes


def _read_day(given: Any) -> Any:
    """A date, or its ISO text; nothing else (a bare number would silently become 1970)."""
    if isinstance(given, datetime.date) and not isinstance(given, datetime.datetime):
        return given
    try:
        return datetime.date.fromisoformat(given)
    except (TypeError, ValueError):
        raise refusal(quote(given), "a date is written year-month-day", "write it as 2031-03-08") from None


Day = Annotated[datetime.date, BeforeValidator(_read_day)]


class Shelf(Tackle):
    """The gear that is there, with counts. At least one kind of weight, leaders and lure is listed."""

    weights: tuple[TrollingWeight, ...] = Field(
        min_length=1, max_length=LONGEST_LIST, description="trolling weights", examples=["[[shelf.weights]]"]
    )
    shock_leaders: tuple[ShockLeader, ...] = Field(
        min_length=1, max_length=LONGEST_LIST, description="shock leaders", examples=["[[shelf.shock_leaders]]"]
    )
    bite_leaders: tuple[BiteLeader, ...] = Field(
        min_length=1, max_length=LONGEST_LIST, description="bite leaders", examples=["[[shelf.bite_leaders]]"]
    )
    lures: tuple[Lure, ...] = Field(
        min_length=1, max_length=LONGEST_LIST, description="lures", examples=["[[shelf.lures]]"]
    )
    snap_swivels: tuple[SnapSwivel, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="snap swivels", examples=["[[shelf.snap_swivels]]"]
    )
    crimps: tuple[Crimp, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="crimps", examples=["[[shelf.crimps]]"]
    )
    hooks: tuple[Hook, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="hooks", examples=["[[shelf.hooks]]"]
    )


class Trip(Tackle):
    """One trip as the captain wrote it down."""

    title: Name = Field(description="what the trip is called", examples=["Two days on Tallow Bank"])
    place: Words = Field(default="", description="where it goes", examples=["Tallow Bank"])
    dates: tuple[Day, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="the day or days", examples=['["2031-03-08"]']
    )
    crew: tuple[Name, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="who is aboard", examples=['["Odile", "Bram"]']
    )
    units: Literal["us", "metric"] = Field(
        default="us", description="units the plan is shown in: us or metric", examples=["us"]
    )
    boat: Boat = Field(description="the boat", examples=["[boat]"])
    outfits: tuple[Outfit, ...] = Field(
        min_length=1, max_length=40, description="the rods, one table each", examples=["[[outfits]]"]
    )
    shelf: Shelf = Field(description="the gear that is there", examples=["[[shelf.weights]]"])
    pattern: Pattern = Field(description="what the boat runs", examples=["[pattern]"])
    water: Water = Field(default=Water(), description="the sea", examples=["[water]"])
    wishes: Wishes = Field(default=Wishes(), description="what is wanted", examples=["[wishes]"])
    fixed: tuple[Lock, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="what is fixed, one table a rod", examples=["[[fixed]]"]
    )
    banned: tuple[Ban, ...] = Field(
        default=(), max_length=LONGEST_LIST, description="what may not be fished", examples=["[[banned]]"]
    )
    spares: Spares = Field(default=Spares(), description="spares to carry beyond the plan", examples=["[spares]"])

    def outfit(self, name: str) -> Outfit:
        """The outfit of that name; KeyError if there is none."""
        for outfit in self.outfits:
            if outfit.name == name:
                return outfit
        raise KeyError(name)

    def lock(self, rod: str) -> Lock | None:
        """What is fixed for that rod, or None."""
        return next((lock for lock in self.fixed if lock.rod == rod), None)
