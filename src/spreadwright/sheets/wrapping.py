"""Sentences as paragraphs of so many columns; quantities such as "66 s" are never torn in two."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from spreadwright.sheets.figures import plain, tied

WIDTH = 100
_TIE = "\ue000"  # a space inside a quantity, which is no place to break a line


def wrapped(sentences: Iterable[str], width: int = WIDTH, mark: str = "") -> str:
    """Sentences as paragraphs of at most so many columns, each after a mark."""
    filled = (
        textwrap.fill(tied(plain(said), _TIE), width, initial_indent=mark, subsequent_indent=" " * len(mark))
        for said in sentences
    )
    return "\n".join(filled).replace(_TIE, " ")
