"""Text as wide as the terminal: 80 columns where there is none; quantities such as "66 s" are never torn in two."""

from __future__ import annotations

import re
import shutil
import textwrap

LEAST, USUAL = 40, 80
_TIE = "\ue000"  # stands for a space that must not break; of the private area, so no text has it
_QUANTITY = re.compile(
    r"(?<=\d) (?=(?:ft|in|m|cm|mm|km|nmi|lb|oz|kg|g|kn|s|min|h|l|gal|%|deg)\b|%)|(?<=\d:) (?=over|\d)|(?<=over) (?=\d)"
)
_COLUMN = re.compile(r"(\s*\S[^:]{0,14}?\s{2,})\S")
_MARK = re.compile(r"(\s*(?:-|\[.\]|\d+\.)? ?)")


def terminal_width() -> int:
    """Columns of the terminal, or those that COLUMNS says; 80 where there is no terminal."""
    return max(LEAST, shutil.get_terminal_size((USUAL, 24)).columns)


def fitted(text: str, width: int | None = None) -> str:
    """The text with lines that are too long broken between words, each going on where its own words began."""
    wide = width or terminal_width()
    return "\n".join(line if len(line) <= wide else _broken(line, wide) for line in text.split("\n"))


def _broken(line: str, width: int) -> str:
    begins = _COLUMN.match(line) or _MARK.match(line)
    indent = len(begins[1]) if begins else 0
    room = width - indent
    rest = _QUANTITY.sub(_TIE, line[indent:])
    parts = textwrap.wrap(rest, room, break_on_hyphens=False, break_long_words=False) if room >= LEAST // 2 else [rest]
    return "\n".join(
        (line[:indent] if not number else " " * indent) + part for number, part in enumerate(parts)
    ).replace(_TIE, " ")
