"""The table that the measurements end in: what, how much, the goal it is held to and whether it was met."""

from __future__ import annotations

import os
from dataclasses import dataclass
from importlib.metadata import version


@dataclass(frozen=True)
class Row:
    """One line of the table: what, how much, and the goal it is held to, if any; timed: a busy machine may miss it."""

    what: str
    value: str
    goal: str = ""
    met: bool | None = None
    timed: bool = False

    @property
    def verdict(self) -> str:
        """The goal, and whether it was met."""
        return self.goal if self.met is None else f"{self.goal}: {'met' if self.met else 'MISSED'}"


def table(rows: list[Row]) -> str:
    """The rows as a table in Markdown, with what machine and how busy it was."""
    wide = max(len(row.what) for row in rows)
    load = ", ".join(f"{each:.1f}" for each in os.getloadavg())
    lines = [f"{os.cpu_count()} cores, load {load}; numba {version('numba')}, numpy {version('numpy')}", ""]
    lines += [f"| {'what':{wide}} | measured | goal |", f"| {'-' * wide} | --- | --- |"]
    lines += [f"| {row.what:{wide}} | {row.value} | {row.verdict} |" for row in rows]
    return "\n".join(lines)
