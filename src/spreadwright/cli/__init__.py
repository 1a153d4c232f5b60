"""The command line: reads what was asked, calls the core, shows the answer; nothing is computed here.

Exit codes, the same for every command: 0 done (what could not be computed is named), 1 nothing could be computed,
2 the input or the command is at fault, 130 stopped with Ctrl-C. Commands import the core inside their bodies, so that
`--help` stays quick and never loads compiled code.
"""

from __future__ import annotations

import os
import sys
import warnings
from typing import Annotated

import typer

from spreadwright import __version__
from spreadwright.cli.cards_command import cards
from spreadwright.cli.day_command import day
from spreadwright.cli.deck_command import deck
from spreadwright.cli.lists_command import lists
from spreadwright.cli.log_command import log
from spreadwright.cli.measure_command import measure
from spreadwright.cli.plan_command import plan
from spreadwright.cli.rig_command import rig
from spreadwright.cli.room_command import room
from spreadwright.cli.running import STOPPED
from spreadwright.cli.serve_command import serve
from spreadwright.cli.study_command import study
from spreadwright.cli.tow_command import tow

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


for command in (cards, day, deck, lists, measure, plan, rig, serve, study, tow):
    app.command()(command)
app.add_typer(log)
app.add_typer(room, name="room")
