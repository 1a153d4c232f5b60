"""One key of a tow file: what it says, how it is written, how it is read, and what holds without it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from spreadwright.towfile.fields import Reader

NEEDED = "needed"
LEFT_OUT = ""


def table(given: object) -> object:
    """Stands for the reader of a key that is a table, or a list of tables, of its own."""
    return given


def rows(given: object) -> object:
    """Stands for the reader of rows of numbers, which are read with the columns they belong to."""
    return given


@dataclass(frozen=True)
class Key:
    """One key: its name, what it says, an example as it stands in the file, its reader, and what holds without it.

    without   NEEDED, LEFT_OUT, or the value as it would stand in the file
    """

    name: str
    words: str
    example: str
    read: Reader
    without: str = NEEDED

    @property
    def needed(self) -> bool:
        """True where a file without it is at fault."""
        return self.without == NEEDED

    @property
    def line(self) -> str:
        """The key as it stands in the file: `length = "60 m"`, or the header of its table."""
        return self.example if self.read is table else f"{self.name} = {self.example}"

    @cached_property
    def default(self) -> Any:
        """The value that holds where the key is left out; None for none."""
        if self.without in {NEEDED, LEFT_OUT}:
            return None
        return self.read(tomllib.loads(f"value = {self.without}")["value"])
