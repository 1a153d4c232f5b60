"""`spreadwright measure`: what a scale, an angle gauge or a depth logger says about the drag of lines and lures."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.running import (
    ReportUnits,
    Tell,
    TripFile,
    at_fault,
    check_places,
    put_file,
    put_json,
    with_progress,
)

if TYPE_CHECKING:
    from spreadwright.plan.calibration import Calibration


def measure(
    file: TripFile,
    readings: Annotated[Path, typer.Argument(metavar="READINGS.toml", help="The readings (see docs/calibration.md).")],
    plan_file: Annotated[
        Path | None,
        typer.Option(
            "--plan", metavar="PLAN.json", help="The spread whose lures' depths count (see plan --write).",
            show_default=False,
        ),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole answer as JSON, in SI units.")] = False,
    units: ReportUnits = None,
    write: Annotated[
        Path | None,
        typer.Option(metavar="FILE.json", help="Also write the calibration to this file.", show_default=False),
    ] = None,
) -> None:  # fmt: skip
    """Narrow the drag of lines, weights and lures by what the captain measured, and say what to measure next.

    Whose lures' depths count: those of the plan if one is given; else, rod by rod, the rig that was read last, or the
    first in the trip file's order that passes the checks.
    """
    from spreadwright.faults import Faults
    from spreadwright.tackle import read_trip

    check_places(as_json, write=write)

    def work(tell: Tell) -> Calibration:
        trip = read_trip(file)
        from spreadwright.plan.calibration_make import measure as measured
        from spreadwright.plan.stored import stored_plan

        return measured(trip, readings, stored_plan(plan_file), tell)

    try:
        made = with_progress(work, quiet=as_json)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    if write is not None:
        put_file(write, made.to_json())
    if as_json:
        put_json(made.to_json())
    else:
        from spreadwright.sheets.calibration_report import show_calibration

        show_calibration(made, units)
