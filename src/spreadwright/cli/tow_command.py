"""`spreadwright tow`: towed lines with nothing else around, as a check of the physics."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from spreadwright.cli.running import NONE_COMPUTED, ReportUnits, Tell, at_fault, put_json, with_progress


def tow(
    file: Annotated[Path, typer.Argument(metavar="FILE.toml", help="The tow file (see docs/tow-file.md).")],
    as_json: Annotated[bool, typer.Option("--json", help="Write the whole result as JSON, in SI units.")] = False,
    units: ReportUnits = None,
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
