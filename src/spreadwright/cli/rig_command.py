"""`spreadwright rig`: rigs link by link, the strike, the drag along a run, marks and record rules."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

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


def rig(
    file: TripFile,
    rod: Annotated[str, typer.Option(metavar="NAME", help="One rod by its name; all of them if left out.")] = "",
    plan_file: Annotated[
        Path | None,
        typer.Option("--plan", metavar="PLAN.json", help="Look at the rigs of this plan (see plan --write)."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole answer as JSON, in SI units.")] = False,
    units: ReportUnits = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="FILE.svg", help="Also draw the strike into this file.", show_default=False)
    ] = None,
) -> None:
    """Check rigs link by link: loads, the strike, the drag along a run, what parts first, marks, record rules.

    Which rig: that of the plan if one is given; else what the trip file fixes; where that leaves something open, the
    first in the file's order that passes the checks, on the rod's first mark.
    """
    from spreadwright.faults import Faults
    from spreadwright.plan.rig_answer import RigAnswers
    from spreadwright.tackle import read_trip

    check_places(as_json, picture=picture)

    def work(tell: Tell) -> RigAnswers:
        trip = read_trip(file)
        if units is not None:  # the sentences are made in these
            trip = trip.model_copy(update={"units": units})
        from spreadwright.plan.rig_make import rig_answers
        from spreadwright.plan.stored import stored_plan

        return rig_answers(trip, rod, stored_plan(plan_file), tell)

    try:
        answers = with_progress(work, quiet=as_json)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    if picture is not None:
        from spreadwright.sheets.rig_picture import strike_picture

        put_file(picture, strike_picture(answers, units))
    if as_json:
        put_json(answers.model_dump_json(indent=1))
    else:
        from spreadwright.sheets.rig_report import show_rig_report

        show_rig_report(answers, units)
