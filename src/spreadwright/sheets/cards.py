"""The plan on paper: PDF pages and pocket cards set by typst, readable in black and white.

`card_pdf(plan, "rods")` gives one kind as PDF bytes; `write_cards(plan, folder)` writes them all. Names and numbers go
to the templates as data, never as markup: nothing in a trip file can steer the typesetting.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Literal, get_args

import typst

from spreadwright.plan.value import Plan
from spreadwright.quantity import System
from spreadwright.sheets.card_words import card_words
from spreadwright.sheets.figures import system_of

CardKind = Literal["spread", "rods", "marks", "shopping", "bench", "packing", "crew"]
CARD_KINDS: tuple[CardKind, ...] = get_args(CardKind)
TEMPLATES = Path(__file__).parent / "templates"


def card_pdf(plan: Plan, kind: CardKind, *, system: System | None = None) -> bytes:
    """One kind of card as a PDF: US letter and 4 x 6 in cards in US units, A4 and A6 in metric ones.

    Raises ValueError for a kind that there is not.
    """
    return _pages(_compiler(plan, kind, system).compile(format="pdf"))[0]


def card_pictures(plan: Plan, kind: CardKind, *, system: System | None = None, sharpness: float = 110.0) -> list[bytes]:
    """The pages of one kind as PNG pictures, for a look before printing; sharpness in dots an inch."""
    return _pages(_compiler(plan, kind, system).compile(format="png", ppi=sharpness))


def _pages(made: bytes | list[bytes] | None) -> list[bytes]:
    """Typst gives one page as it is and several as a list."""
    return made if isinstance(made, list) else [made or b""]


def write_cards(
    plan: Plan, folder: Path, *, kinds: tuple[CardKind, ...] = CARD_KINDS, system: System | None = None
) -> list[Path]:
    """Write the cards into a folder, one PDF a kind; the paths written. The folder is made if need be."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for kind in kinds:
        path = folder / f"{kind}.pdf"
        path.write_bytes(card_pdf(plan, kind, system=system))
        written.append(path)
    return written


def fits(plan: Plan, kind: CardKind, *, system: System | None = None) -> list[dict[str, Any]]:
    """For pages that are shrunk to fit: name, size of type against the intended one, and whether it fits at all."""
    found: list[dict[str, Any]] = json.loads(_compiler(plan, kind, system).query("<fit>", field="value"))
    return found


def _compiler(plan: Plan, kind: CardKind, system: System | None) -> typst.Compiler:
    if kind not in CARD_KINDS:
        raise ValueError(f"no card named {kind!r}: take one of {', '.join(CARD_KINDS)}")
    units = system_of(plan, system)
    said = json.dumps(card_words(plan, units), ensure_ascii=False)
    return typst.Compiler(
        str(TEMPLATES / f"{kind}.typ"),
        root=str(TEMPLATES),
        ignore_system_fonts=True,
        sys_inputs={"said": said, "paper": units},
    )
