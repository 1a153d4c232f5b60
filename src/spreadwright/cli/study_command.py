"""`spreadwright study`: one spread at many speeds, radii and sea states, on one boat or several, into a table."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.running import (
    AT_FAULT,
    NONE_COMPUTED,
    ReportUnits,
    Tell,
    TripFile,
    at_fault,
    check_places,
    put_file,
    with_progress,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from spreadwright.plan.study import Case, Outcome, Study
    from spreadwright.spread.motions import Progress


def study(
    file: TripFile,
    table: Annotated[Path, typer.Option("--output", "-o", metavar="TABLE", help="The table: .csv or .parquet.")],
    speed: Annotated[
        list[str] | None, typer.Option(metavar="SPEED", help="A speed, such as '14 kn'; repeat it.")
    ] = None,
    radius: Annotated[
        list[str] | None, typer.Option(metavar="LENGTH", help="A radius of the turns, such as '45 m'; repeat it.")
    ] = None,
    sea: Annotated[
        list[str] | None, typer.Option(metavar="SEA", help="calm, '2 ft' or '2 ft at 4 s' (height, period); repeat it.")
    ] = None,
    boat: Annotated[
        list[Path] | None, typer.Option(metavar="TRIP.toml", help="Another boat's trip file; repeat it.")
    ] = None,
    plan_file: Annotated[
        list[Path] | None,
        typer.Option("--plan", metavar="PLAN.json", help="A plan to study, of any of these trips; repeat it."),
    ] = None,
    hull: Annotated[
        list[str] | None,
        typer.Option(metavar="SIZE", help="'28 ft x 10 ft x 2 ft' (length, beam, draught): counts boat motion."),
    ] = None,
    waves_from: Annotated[
        str, typer.Option(metavar="ANGLE", help="Where waves come from: off the bow on the first run, to port.")
    ] = "0 deg",
    seed: Annotated[int, typer.Option(min=0, help="Which sea is drawn.")] = 1,
    picture: Annotated[Path | None, typer.Option(metavar="FILE.svg", help="Also draw it into this file.")] = None,
    workers: Annotated[int, typer.Option(min=0, max=512, help="Cases at once; 0: one for each core.")] = 0,
    cluster: Annotated[bool, typer.Option("--cluster", help="Run on processes of a cluster on this machine.")] = False,
    scheduler: Annotated[str, typer.Option(metavar="ADDRESS", help="Run on the cluster with this scheduler.")] = "",
    units: ReportUnits = None,
) -> None:  # fmt: skip
    """Sweep speed, radius, sea state and boats: gaps, depths and pulls of a spread, into a table and a picture.

    The spread is that of a plan if one is given, else what the trip file fixes, else planned once for the trip's own
    speed and turns. Every case is then the same spread in other conditions.
    """
    from spreadwright.faults import Faults

    check_places(False, output=table, picture=picture)
    trips, plans = [file, *(boat or [])], plan_file or []
    asked_words = (speed or [], radius or [], sea or [], waves_from, seed, hull or [], len(trips))
    at_once = workers or os.cpu_count() or 1

    def work(tell: Tell) -> Study:
        from spreadwright.plan.study_asked import asked_from_words
        from spreadwright.plan.study_table import check_table_place

        asked = asked_from_words(*asked_words)
        check_table_place(table)
        from spreadwright.plan.study_make import make_study, read_all
        from spreadwright.plan.study_run import run_here, run_on_cluster

        def run(cases: Sequence[Case], progress: Progress | None) -> tuple[Outcome, ...]:
            if cluster or scheduler:
                return run_on_cluster(cases, at_once, scheduler, progress)
            return run_here(cases, at_once, progress)

        return make_study(*read_all(trips, plans), asked, run, tell)

    try:
        made = with_progress(work)
    except Faults as faults:
        raise at_fault(faults, False) from None
    _put(made, table, picture, units)
    if all(out.problem for out in made.outcomes):
        raise typer.Exit(NONE_COMPUTED)


def _put(made: Study, table: Path, picture: Path | None, units: ReportUnits) -> None:
    from spreadwright.plan.study_table import write_table
    from spreadwright.plan.study_words import sentences

    try:
        write_table(made, table)
    except OSError as error:
        typer.echo(f"{table}: could not be written ({error.strerror}). Name a file you may write.", err=True)
        raise typer.Exit(AT_FAULT) from None
    drawn = () if picture is None else (f"Picture: {picture}",)
    if picture is not None:
        from spreadwright.sheets.study_picture import study_picture

        put_file(picture, study_picture(made, units))
    for said in (*sentences(made, units), *(f"- {each}" for each in made.counted), f"Table: {table}", *drawn):
        typer.echo(said)
