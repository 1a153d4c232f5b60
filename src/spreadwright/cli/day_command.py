"""`spreadwright day`: light, sea, fuel, hours, papers, and go, wait or no-go by the captain's own limits."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from spreadwright.cli.log_asked import asked, faulty
from spreadwright.cli.running import ReportUnits, TripFile, at_fault, put_json
from spreadwright.cli.width import fitted, terminal_width


def day(
    file: TripFile,
    day_file: Annotated[
        Path | None,
        typer.Option("--day", metavar="DAY.toml", help="The day file; else day.toml beside the trip."),
    ] = None,
    on: Annotated[str, typer.Option("--date", metavar="DATE", help="Another day, such as 2031-03-09.")] = "",
    units: ReportUnits = None,
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole answer as JSON, in SI units.")] = False,
) -> None:
    """Work out the day of a trip: light, sea, fuel, hours, papers, and go, wait or no-go with every reason."""
    when = asked(lambda: _date(on), as_json)
    from spreadwright.faults import Faults
    from spreadwright.plan.day_file import read_day_file
    from spreadwright.tackle import read_trip

    try:
        trip, told = read_trip(file), read_day_file(day_file or file.with_name("day.toml"))
        from spreadwright.plan.day_answer import day_answer
        from spreadwright.sheets.day_report import day_text

        answer = day_answer(trip, told, when, units)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    if as_json:
        put_json(answer.model_dump_json(indent=1))
    else:
        width = terminal_width()
        typer.echo(fitted(day_text(answer, units or trip.units, width), width), nl=False)


def _date(text: str) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise faulty("--date", repr(text), "a date is year-month-day", "write it as 2031-03-08") from None
