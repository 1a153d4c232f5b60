"""What all commands share: exit codes, work beside a progress bar, faults and files put where they belong."""

from __future__ import annotations

import json
import os
import sys
import threading
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, TypeVar

import typer

if TYPE_CHECKING:
    from spreadwright.faults import Faults

NONE_COMPUTED = 1
AT_FAULT = 2
STOPPED = 130
PATIENCE = 1.0  # [s] without a result before a progress bar appears

T = TypeVar("T")
Tell = Callable[[str, int, int], bool]
Units = Literal["us", "metric"]

TripFile = Annotated[Path, typer.Argument(metavar="TRIP.toml", help="The trip file (see docs/trip-file.md).")]


def units_asked(given: str) -> Units:
    """The units of a report as they are asked for. Raises typer.BadParameter for others, in plain words."""
    if given == "us":
        return "us"
    if given == "metric":
        return "metric"
    raise typer.BadParameter(f"'{given}' was given; a report is in us units or in metric ones; write us or metric.")


ReportUnits = Annotated[
    Units | None,
    typer.Option(
        "--units", parser=units_asked, metavar="us|metric", help="Units of the report, if not those of the file.",
        show_default=False,
    ),
]  # fmt: skip


def put_file(path: Path, text: str) -> None:
    """Write a file that was asked for, or say why it could not be and leave."""
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        reason = f"could not be written ({error.strerror})"
        typer.echo(f"{path}: {reason}. Name a file in a folder you may write to.", err=True)
        raise typer.Exit(AT_FAULT) from None


def check_places(as_json: bool, **asked: Path | None) -> None:
    """Leave with every fault said where a file that is asked for cannot be put, before long work is spent on it.

    asked: the options by their names, with an underscore for a hyphen.
    """
    from spreadwright.faults import Fault, Faults

    faults = []
    for option, path in asked.items():
        if path is None:
            continue
        name, folder = f"--{option.replace('_', '-')}", path.absolute().parent
        if not folder.is_dir():
            rule = "a file is written into a folder that is there"
            faults.append(Fault(name, str(path), rule, f"make the folder {folder}, or name another"))
        elif path.is_dir():
            faults.append(Fault(name, str(path), "this is a folder, and a file is asked for", "name a file in it"))
        elif not os.access(path if path.exists() else folder, os.W_OK):
            faults.append(Fault(name, str(path), "you may write there", "name a file in a folder you may write to"))
    if faults:
        raise at_fault(Faults(faults), as_json)


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
