"""Finds the line of a trip file that a fault belongs to (the TOML reader does not tell)."""

from __future__ import annotations

import re

Path = tuple[str | int, ...]

DEEPEST = 10  # a trip file nests three deep; a name of thousands of parts would take minutes
_BARE = r'(?:[A-Za-z0-9_-]+|"[^"]*"|\'[^\']*\')'
_DOTTED = rf"{_BARE}(?:\s*\.\s*{_BARE})*"
_LIST_HEADER = re.compile(rf"\s*\[\[\s*({_DOTTED})\s*\]\]")
_TABLE_HEADER = re.compile(rf"\s*\[\s*({_DOTTED})\s*\]")
_KEY = re.compile(rf"\s*({_DOTTED})\s*=")


def _words(dotted: str) -> list[str]:
    return [word.strip("\"'") for word in re.findall(_BARE, dotted)[:DEEPEST]]


def find_lines(text: str) -> dict[Path, int]:
    """Line number (from 1) of every table header and key of a TOML text, by its path.

    Only headers and keys that begin a line are seen, which is how people write them; what stands
    inside a list or an inline table is found by the key it belongs to (see `line_of`).
    """
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}  # how many entries each list of tables has so far
    table: Path = ()

    def resolve(words: list[str]) -> Path:
        """A dotted name as a path: through a list of tables it means the last entry."""
        path: Path = ()
        for word in words:
            path += (word,)
            if path in counts:
                path += (counts[path] - 1,)
        return path

    for number, line in enumerate(text.split("\n"), start=1):
        if match := _LIST_HEADER.match(line):
            *above, last = _words(match[1])
            name = (*resolve(above), last)
            counts[name] = counts.get(name, 0) + 1
            table = (*name, counts[name] - 1)
            lines.setdefault(name, number)
            lines[table] = number
        elif match := _TABLE_HEADER.match(line):
            table = resolve(_words(match[1]))
            lines.setdefault(table, number)
        elif match := _KEY.match(line):
            lines.setdefault((*table, *_words(match[1])), number)
    return lines


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """The line of a path, or of the nearest thing around it that begins a line; None if unknown."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None
