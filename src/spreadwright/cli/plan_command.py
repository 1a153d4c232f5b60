"""`spreadwright plan`: the whole plan of a trip, as a report, as JSON, or into a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.running import (
    ReportUnits,
    Tell,
    TripFile,
    Units,
    at_fault,
    check_places,
    put_file,
    put_json,
    with_progress,
)

if TYPE_CHECKING:
    from spreadwright.logbook.preferences import Preferences
    from spreadwright.plan.value import Plan
    from spreadwright.tackle.trip import Trip


def power_of_two(given: int) -> int:
    """How many samples are asked for. Raises typer.BadParameter for a number that the samples cannot fill evenly."""
    if 16 <= given <= 4096 and given.bit_count() == 1:
        return given
    near = min((2**k for k in range(4, 13)), key=lambda each: abs(each - given))
    rule = "samples fill the space of doubts evenly only in powers of two, from 16 to 4096"
    raise typer.BadParameter(f"{given} was given; {rule}; take {near}.")


def plan(
    file: TripFile,
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole plan as JSON, in SI units.")] = False,
    units: ReportUnits = None,
    write: Annotated[
        Path | None, typer.Option(metavar="PLAN.json", help="Also write the plan to this file.", show_default=False)
    ] = None,
    others: Annotated[
        bool, typer.Option("--others", help="Also the next best spreads, and what one more of each piece would gain.")
    ] = False,
    cautious: Annotated[
        bool, typer.Option("--cautious", help="Choose by the gap on a bad day, not by the usual one; takes longer.")
    ] = False,
    samples: Annotated[
        int,
        typer.Option(
            callback=power_of_two,
            metavar="NUMBER",
            help="Ways it may be that the doubt is found from; a power of two, 16 to 4096.",
        ),
    ] = 256,
    seed: Annotated[int, typer.Option(min=0, help="Seed of those ways: same seed, same answer.")] = 1852,
    calibration: Annotated[
        Path | None,
        typer.Option(metavar="FILE.json", help="What your readings say of drag (see measure --write)."),
    ] = None,
    store: Annotated[
        str | None,
        typer.Option(metavar="WHERE", help="A store: its log speaks for lures, its room counts the shopping."),
    ] = None,
    day: Annotated[
        Path | None, typer.Option(metavar="DAY.toml", help="A day file: the doubt counts with its sea and hull.")
    ] = None,
    before: Annotated[
        Path | None,
        typer.Option(metavar="PLAN.json", help="The plan so far, for --lost and --out.", show_default=False),
    ] = None,
    lost: Annotated[
        list[str] | None, typer.Option(metavar="ROD", help="A rod lost with its rig; may be said again.")
    ] = None,
    out: Annotated[
        list[str] | None, typer.Option(metavar="ROD", help="A line that is out and stays; may be said again.")
    ] = None,
) -> None:
    """Plan a trip: what every rod fishes, whether lines stay apart and gear holds, and what to buy."""
    from spreadwright.faults import Fault, Faults
    from spreadwright.tackle import read_trip

    check_places(as_json, write=write)

    def work(tell: Tell) -> Plan:
        trip = read_trip(file)
        if (lost or out) and before is None:
            rule = "--lost and --out are told against the plan so far"
            raise Faults([Fault("--before", "nothing", rule, "add --before PLAN.json (see --write)")])
        from spreadwright.plan.again import without_rods
        from spreadwright.plan.build import make_plan
        from spreadwright.plan.stored import stored_plan

        so_far = stored_plan(before)
        if so_far is not None:
            trip = without_rods(trip, so_far, lost or (), out or ())
        from spreadwright.plan.calibration import stored_calibration
        from spreadwright.plan.day_answer import sea_met
        from spreadwright.plan.day_file import read_day_file
        from spreadwright.plan.inputs import ANY_SEA

        told = None if store is None else _learnt(store, trip)
        measured = None if calibration is None else stored_calibration(calibration, trip)
        met = ANY_SEA if day is None else sea_met(read_day_file(day))
        plan = make_plan(trip, tell, samples, seed, others, cautious, told, measured, met=met)
        return plan if store is None else _counted(store, trip, plan)

    try:
        made = with_progress(work, quiet=as_json)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    if write is not None:
        put_file(write, made.to_json())
    show_plan(made, as_json, units)


def _learnt(where: str, trip: Trip) -> Preferences:
    """What the logbook in a store says of the trip's lures."""
    from spreadwright.plan.log_use import learnt
    from spreadwright.store.open import open_store

    with open_store(where or None, begin=False) as store:
        return learnt(store, trip)


def _counted(where: str, trip: Trip, made: Plan) -> Plan:
    """The plan with its shopping counted against the tackle room in a store."""
    from spreadwright.plan.shopping import with_room
    from spreadwright.store.open import open_store

    with open_store(where or None, begin=False) as store:
        return with_room(made, trip, store)


def show_plan(made: Plan, as_json: bool, units: Units | None) -> None:
    """Put a plan on the output, as JSON or as the report."""
    from spreadwright.plan.worded import in_units

    if as_json:
        put_json(in_units(made, units).to_json())
    else:
        from spreadwright.sheets.terminal import show_report

        show_report(made, system=units)
