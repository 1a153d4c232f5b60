"""`spreadwright plan`: the whole plan of a trip, as a report, as JSON, or into a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.running import AT_FAULT, ReportUnits, Tell, TripFile, Units, at_fault, put_json, with_progress

if TYPE_CHECKING:
    from spreadwright.plan.value import Plan


def plan(
    file: TripFile,
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole plan as JSON, in SI units.")] = False,
    units: ReportUnits = None,
    write: Annotated[
        Path | None, typer.Option(metavar="PLAN.json", help="Also write the plan to this file.", show_default=False)
    ] = None,
) -> None:
    """Plan a trip: what every rod fishes, whether lines stay apart and gear holds, and what to buy."""
    from spreadwright.faults import Faults
    from spreadwright.tackle import read_trip

    def work(tell: Tell) -> Plan:
        trip = read_trip(file)
        from spreadwright.plan.build import make_plan

        return make_plan(trip, tell)

    try:
        made = with_progress(work, quiet=as_json)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    if write is not None:
        _write_plan(made, write)
    show_plan(made, as_json, units)


def show_plan(made: Plan, as_json: bool, units: Units | None) -> None:
    """Put a plan on the output, as JSON or as the report."""
    if as_json:
        put_json(made.to_json())
    else:
        from spreadwright.sheets.terminal import show_report

        show_report(made, system=units)


def _write_plan(made: Plan, path: Path) -> None:
    try:
        made.write(path)
    except OSError as error:
        said = f"{path}: could not be written ({error.strerror}). Name a file in a folder you may write to."
        typer.echo(said, err=True)
        raise typer.Exit(AT_FAULT) from None
