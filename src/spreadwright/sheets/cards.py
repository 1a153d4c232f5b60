"""The plan on paper: PDF pages and pocket cards set by typst, readable in black and white.

`cards_pdf(plan)` gives them all as the bytes of one PDF, `card_pdf(plan, "rods")` one kind. Names and numbers go to the
templates as data, never as markup: nothing in a trip file can steer the typesetting.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Literal, get_args

import typst

from spreadwright.plan.value import Plan
from spreadwright.plan.worded import in_units
from spreadwright.quantity import System
from spreadwright.sheets.card_words import card_words
from spreadwright.sheets.figures import plain, system_of
from spreadwright.stock.lists.value import TripLists
from spreadwright.tackle.trip import Trip

CardKind = Literal["spread", "rods", "marks", "shopping", "bench", "packing", "crew"]
CARD_KINDS: tuple[CardKind, ...] = get_args(CardKind)
TEMPLATES = Path(__file__).parent / "templates"


def cards_pdf(
    plan: Plan,
    kinds: Sequence[CardKind] = CARD_KINDS,
    *,
    system: System | None = None,
    trip: Trip | None = None,
    lists: TripLists | None = None,
) -> bytes:
    """The kinds asked for in one PDF, in that order.

    With the trip, rigs are named from the reel on. With the tackle room's lists, those are printed for shopping, bench
    and packing; without, what the plan itself knows.

    US letter and 4 x 6 in cards in US units, A4 and A6 in metric ones. Raises ValueError for a kind that there is not.
    """
    return _pages(_compiler(plan, kinds, system, trip, lists).compile(format="pdf"))[0]


def card_pdf(plan: Plan, kind: CardKind, *, system: System | None = None, trip: Trip | None = None) -> bytes:
    """One kind of card as a PDF."""
    return cards_pdf(plan, (kind,), system=system, trip=trip)


def card_pictures(
    plan: Plan, kind: CardKind, *, system: System | None = None, trip: Trip | None = None, sharpness: float = 110.0
) -> list[bytes]:
    """The pages of one kind as PNG pictures, for a look before printing; sharpness in dots an inch."""
    return _pages(_compiler(plan, (kind,), system, trip).compile(format="png", ppi=sharpness))


def _pages(made: bytes | list[bytes] | None) -> list[bytes]:
    """Typst gives one page as it is and several as a list."""
    return made if isinstance(made, list) else [made or b""]


def fits(plan: Plan, kind: CardKind, *, system: System | None = None, trip: Trip | None = None) -> list[dict[str, Any]]:
    """For pages that are shrunk to fit: name, size of type against the intended one, and whether it fits at all."""
    found: list[dict[str, Any]] = json.loads(_compiler(plan, (kind,), system, trip).query("<fit>", field="value"))
    return found


def _compiler(
    plan: Plan, kinds: Sequence[CardKind], system: System | None, trip: Trip | None, lists: TripLists | None = None
) -> typst.Compiler:
    for kind in kinds:
        if kind not in CARD_KINDS:
            raise ValueError(f"no card named {kind!r}: take one of {', '.join(CARD_KINDS)}")
    plan, units = in_units(plan, system), system_of(plan, system)
    said = json.dumps(card_words(plan, units, trip, lists), ensure_ascii=False)
    title = plain(plan.title) if len(kinds) > 1 else f"{plain(plan.title)}: {kinds[0]}"
    return typst.Compiler(
        str(TEMPLATES / "book.typ"),
        root=str(TEMPLATES),
        ignore_system_fonts=True,
        sys_inputs={"said": said, "paper": units, "kinds": json.dumps(list(kinds)), "title": title},
    )
