"""`spreadwright deck`: the plan as one HTML file for the telephone, with a log of lines and strikes."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from spreadwright.cli.planned import PlanFile, trip_and_plan
from spreadwright.cli.running import ReportUnits, TripFile, check_places, put_file


def deck(
    file: TripFile,
    output: Annotated[Path, typer.Option("-o", "--output", metavar="FILE.html", help="Where to write the sheet.")],
    plan_file: PlanFile = None,
    units: ReportUnits = None,
) -> None:
    """Make the deck sheet: one file for the phone, with no network, that shows the plan and keeps the log.

    Send it to the phone, open it from the phone's files, and take its log ashore as a file, by sharing or as codes.
    """
    check_places(False, output=output)
    trip, plan = trip_and_plan(file, plan_file)
    from spreadwright.sheets.deck import deck_sheet

    made = deck_sheet(plan, system=units, trip=trip)
    put_file(output, made)
    typer.echo(
        f"{output}: {len(made.encode()) / 1000:.0f} kB. Copy it to the phone and open it there once before leaving."
    )
