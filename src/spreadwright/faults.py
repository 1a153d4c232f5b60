"""What is wrong with something a captain gave: where, what was given, the rule, the next step.

Inside, a fault is a value that is collected; only at the edge are all of them raised at once,
as one `Faults`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong, in words a captain can act on.

    place      where it is, such as `outfits[2].marks[3]` (counted from 1)
    given      what was found there
    rule       what has to hold
    next_step  what to do about it
    item       the name of the thing it belongs to, such as "port corner" (may be empty)
    line       the line of the file, counted from 1, or None where it is not known
    """

    place: str
    given: str
    rule: str
    next_step: str
    item: str = ""
    line: int | None = None

    def __str__(self) -> str:
        about = [f'"{self.item}"'] if self.item else []
        about += [f"line {self.line}"] if self.line is not None else []
        where = f" ({', '.join(about)})" if about else ""
        return f"{self.place}{where}\n  given: {self.given}\n  rule:  {self.rule}\n  next:  {self.next_step}"


class Faults(Exception):  # noqa: N818 (a captain's mistakes are no program error)
    """All faults of one input at once; its text is one block a fault."""

    def __init__(self, faults: Iterable[Fault], source: str = "") -> None:
        self.faults = tuple(faults)
        self.source = source
        if not self.faults:
            raise ValueError("Faults needs at least one Fault: an empty list is no failure")
        super().__init__(self.faults, source)

    def __iter__(self) -> Iterator[Fault]:
        return iter(self.faults)

    def __len__(self) -> int:
        return len(self.faults)

    def __str__(self) -> str:
        count = len(self.faults)
        where = f" in {self.source}" if self.source else ""
        head = f"{count} fault{'' if count == 1 else 's'}{where}:"
        return "\n\n".join([head, *map(str, self.faults)])
