"""`spreadwright cards`: the plan on paper, as one PDF: spread, rod cards, line marks, lists and crew brief."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.planned import PlanFile, trip_and_plan
from spreadwright.cli.running import AT_FAULT, ReportUnits, TripFile, Units, at_fault, check_places

if TYPE_CHECKING:
    from spreadwright.plan.value import Plan
    from spreadwright.stock.lists.value import TripLists
    from spreadwright.tackle import Trip


class Kind(StrEnum):
    """The sheets there are, as sheets.cards names them (which `--help` must not load)."""

    SPREAD = "spread"
    RODS = "rods"
    MARKS = "marks"
    SHOPPING = "shopping"
    BENCH = "bench"
    PACKING = "packing"
    CREW = "crew"


def cards(
    file: TripFile,
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE.pdf", help="Where to write the PDF.")],
    plan_file: PlanFile = None,
    only: Annotated[
        list[Kind] | None,
        typer.Option(
            "--only", help="Only this sheet; may be given again. Rod cards alone go on card stock.", show_default=False
        ),
    ] = None,
    store: Annotated[
        str | None,
        typer.Option(
            "--store",
            metavar="WHERE",
            help="Make the lists from this tackle room; else from the trip file's shelf.",
            show_default=False,
        ),
    ] = None,
    units: ReportUnits = None,
) -> None:
    """Print the plan: the spread drawn, a card a rod with its QR code, line marks, lists, and the crew brief.

    Letter paper and 4 x 6 in cards in US units, A4 and A6 in metric ones. Black and white is enough.
    """
    check_places(False, output=output)
    trip, plan = trip_and_plan(file, plan_file)
    from spreadwright.sheets.cards import CARD_KINDS, cards_pdf

    kinds = [kind for kind in CARD_KINDS if not only or kind in only]
    _put(output, cards_pdf(plan, kinds, system=units, trip=trip, lists=_lists(trip, plan, store, units)))
    typer.echo(f"{output}: {', '.join(kinds)}. Print at full size, not fitted to the page.")


def _lists(trip: Trip, plan: Plan, where: str | None, units: Units | None) -> TripLists:
    """The trip's lists against the tackle room, or against the shelf that the trip file counts."""
    from spreadwright.faults import Faults
    from spreadwright.stock.fill import shelf_room
    from spreadwright.stock.lists.make import make_lists

    if where is None:
        counted = "the trip file's shelf, with spares by the losses to expect"
        return make_lists(trip, plan.rods, shelf_room(trip), system=units, counted=counted)
    from spreadwright.store.open import open_store
    from spreadwright.store.room_lists import what_to_count

    try:
        with open_store(where, begin=False) as store:
            found = what_to_count(store, trip)
            return make_lists(
                trip, plan.rods, found.room, loss_rates=found.loss_rates, intervals=found.intervals, system=units,
                counted=found.words,
            )  # fmt: skip
    except Faults as faults:
        raise at_fault(faults, False) from None


def _put(path: Path, made: bytes) -> None:
    try:
        path.write_bytes(made)
    except OSError as error:
        said = f"{path}: could not be written ({error.strerror}). Name a file in a folder you may write to."
        typer.echo(said, err=True)
        raise typer.Exit(AT_FAULT) from None
