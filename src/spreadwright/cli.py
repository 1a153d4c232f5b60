"""The command line: reads what was asked, calls the core, shows the answer; nothing is computed here.

Exit codes, the same for every command: 0 done (what could not be computed is named), 1 nothing could be computed,
2 the input or the command is at fault, 130 stopped with Ctrl-C. Commands import the core inside their bodies, so that
`--help` stays quick and never loads compiled code.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import warnings
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, TypeVar

import typer

from spreadwright import __version__

if TYPE_CHECKING:
    from spreadwright.faults import Faults
    from spreadwright.plan.value import Plan

NONE_COMPUTED = 1
AT_FAULT = 2
STOPPED = 130
PATIENCE = 1.0  # [s] without a result before a progress bar appears

T = TypeVar("T")
Tell = Callable[[str, int, int], bool]
Units = Literal["us", "metric"]

app = typer.Typer(
    name="spreadwright",
    help="Plans what every rod fishes when you troll fast: lines stay apart, and gear survives the strike.",
    epilog="Numbers are estimates with doubt, not a guarantee. Exit codes: 0 done, 1 nothing computed, 2 bad input.",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def main() -> None:
    """Run the command line and leave with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a name the terminal cannot show must not end in a traceback
            stream.reconfigure(errors="replace")
    # What runs off in the numbers is told as a line that was not computed; numpy's own words for it help nobody.
    warnings.filterwarnings("ignore", category=RuntimeWarning)
    try:
        app()
    except SystemExit as end:
        if end.code == STOPPED:
            _leave_at_once()
        raise


def _leave_at_once() -> None:
    """After Ctrl-C: say so and go. Compiled code cannot be interrupted, and an orderly end would wait for it."""
    sys.stdout.flush()
    typer.echo("\nStopped with Ctrl-C; no result.", err=True)
    os._exit(STOPPED)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"spreadwright {__version__}")
        raise typer.Exit


@app.callback()
def _all_commands(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version and leave.")
    ] = False,
) -> None:
    pass


@app.command()
def tow(
    file: Annotated[Path, typer.Argument(metavar="FILE.toml", help="The tow file (see docs/tow-file.md).")],
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole result as JSON, in SI units.")] = False,
    units: Annotated[
        Units | None, typer.Option(help="Units of the report, if not those of the file.", show_default=False)
    ] = None,
) -> None:
    """Compute one or more towed lines with nothing else around: a check of the physics."""
    from spreadwright.faults import Faults
    from spreadwright.towfile import TowResult, read_tow_file

    def work(tell: Tell) -> TowResult:
        asked = read_tow_file(file)
        from spreadwright.towfile.compute import compute

        return compute(asked, tell)

    try:
        result = with_progress(work, quiet=as_json)
    except Faults as faults:
        raise at_fault(faults, as_json) from None
    if as_json:
        put_json(result.to_json())
    else:
        from spreadwright.towfile.report import report

        typer.echo(report(result, units), nl=False)
    if not result.lines:
        raise typer.Exit(NONE_COMPUTED)


@app.command()
def plan(
    file: Annotated[Path, typer.Argument(metavar="TRIP.toml", help="The trip file (see docs/trip-file.md).")],
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole plan as JSON, in SI units.")] = False,
    units: Annotated[
        Units | None, typer.Option(help="Units of the report, if not those of the file.", show_default=False)
    ] = None,
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


@app.command()
def rig(
    file: Annotated[Path, typer.Argument(metavar="TRIP.toml", help="The trip file (see docs/trip-file.md).")],
    rod: Annotated[str, typer.Option(metavar="NAME", help="One rod by its name; all of them if left out.")] = "",
    plan_file: Annotated[
        Path | None,
        typer.Option("--plan", metavar="PLAN.json", help="Look at the rigs of this plan (see plan --write)."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole answer as JSON, in SI units.")] = False,
    units: Annotated[
        Units | None, typer.Option(help="Units of the report, if not those of the file.", show_default=False)
    ] = None,
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

    def work(tell: Tell) -> RigAnswers:
        trip = read_trip(file)
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


def put_file(path: Path, text: str) -> None:
    """Write a file that was asked for, or say why it could not be and leave."""
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        reason = f"could not be written ({error.strerror})"
        typer.echo(f"{path}: {reason}. Name a file in a folder you may write to.", err=True)
        raise typer.Exit(AT_FAULT) from None


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


def at_fault(faults: Faults, as_json: bool) -> typer.Exit:
    """Show all faults on the error stream, with --json as JSON on the output too; returns the exit to raise."""
    typer.echo(str(faults), err=True)
    if as_json:
        told = {"format": "spreadwright faults", "version": 1, "source": faults.source}
        put_json(json.dumps({**told, "faults": [asdict(fault) for fault in faults]}))
    return typer.Exit(AT_FAULT)


def put_json(text: str) -> None:
    """Write JSON to the output, in UTF-8 whatever the terminal speaks."""
    typer.echo((text + "\n").encode("utf-8"), nl=False)


@dataclass
class Said:
    """What the work said last: in words, and how much of it is done."""

    words: str
    done: int
    total: int


def with_progress(work: Callable[[Tell], T], *, quiet: bool = False) -> T:
    """Do the work beside, with a progress bar on the error stream once it takes over a second.

    The work is given `tell(words, done, total)`, which answers False once a stop is asked for. No bar when `quiet` or
    where the error stream is no terminal. Ctrl-C is heard at once, since this thread only waits.
    """
    outcome: list[T] = []
    failure: list[BaseException] = []
    finished, stop = threading.Event(), threading.Event()
    said = Said("starting", 0, 0)

    def tell(words: str, done: int, total: int) -> bool:
        said.words, said.done, said.total = words, done, total
        return not stop.is_set()

    def run() -> None:
        try:
            outcome.append(work(tell))
        except BaseException as error:  # noqa: BLE001 (handed to the waiting thread, which raises it)
            failure.append(error)
        finished.set()

    try:
        threading.Thread(target=run, daemon=True).start()
        if not finished.wait(PATIENCE) and not quiet and sys.stderr.isatty():
            _show_progress(finished, said)
        while not finished.wait(0.2):  # a wait without end would not hear Ctrl-C on every system
            pass
    except KeyboardInterrupt:
        stop.set()
        raise
    if failure:
        raise failure[0]
    return outcome[0]


def _show_progress(finished: threading.Event, said: Said) -> None:
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(said.words, total=None)
        while not finished.wait(0.1):
            # One batch of lines is one step for the core: a bar that stands at nothing would look stuck.
            bar.update(task, description=said.words, completed=said.done, total=said.total if said.done else None)
