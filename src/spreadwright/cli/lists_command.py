"""`spreadwright lists`: what to buy, make up, re-mark, pack and check for a trip, against the tackle room."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.planned import PlanFile, trip_and_plan
from spreadwright.cli.room_shared import AsJson, OfBoat, StoreAt, opened
from spreadwright.cli.running import AT_FAULT, ReportUnits, TripFile, put_json

if TYPE_CHECKING:
    from spreadwright.stock.lists.value import TripLists

NAMES = ("buy", "bench", "re-mark", "pack", "night before")


def lists(
    file: TripFile,
    plan_file: PlanFile = None,
    only: Annotated[str, typer.Option(metavar="LIST", help=f"One list: {', '.join(NAMES)}.", show_default=False)] = "",
    hours: Annotated[
        float | None, typer.Option(help="Hours trolled on the whole trip; else 8 a day.", min=0.1, show_default=False)
    ] = None,
    chance: Annotated[float, typer.Option(help="Chance that the spares last.", min=0.01, max=0.9999)] = 0.95,
    keep: Annotated[bool, typer.Option("--keep", help="Keep the lists in the store, to tick them off.")] = False,
    boat: OfBoat = "",
    units: ReportUnits = None,
    where: StoreAt = None,
    as_json: AsJson = False,
) -> None:
    """Make a trip's lists: plan plus spares, less what is fit in the tackle room (see `room fill`)."""
    if only and only not in NAMES:
        typer.echo(f"--only {only}: lists are {', '.join(NAMES)}.", err=True)
        raise typer.Exit(AT_FAULT)
    trip, plan = trip_and_plan(file, plan_file)
    with opened(where, as_json, begin=where is None) as store:
        from spreadwright.stock.lists.make import make_lists
        from spreadwright.store.room_lists import keep_lists, what_to_count

        counting = what_to_count(store, trip, boat)
        made = make_lists(
            trip, plan.rods, counting.room, hours=hours, chance=chance, loss_rates=counting.loss_rates,
            intervals=counting.intervals, system=units, counted=counting.words,
        )  # fmt: skip
        if keep:
            keep_lists(store, made, counting.owner)
    _show(made, only, as_json)


def _show(made: TripLists, only: str, as_json: bool) -> None:
    from spreadwright.cli.width import fitted
    from spreadwright.stock.lists.text import list_text, lists_text

    chosen = made.model_copy(update={"lists": tuple(each for each in made.lists if only in ("", each.name))})
    if as_json:
        put_json(chosen.model_dump_json(indent=1))
    else:
        typer.echo(fitted(list_text(chosen.lists[0]) if only else lists_text(made)), nl=False)
