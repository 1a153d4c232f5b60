"""Keeps a number and its unit on one line of the terminal: "66 s" is never torn in two."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment
from rich.text import Text

from spreadwright.sheets.figures import tied

# Rich breaks lines at every space, also at one that must not break: so the space inside a quantity is this sign of
# the private area until the lines are made, and a space again after that.
TIE = "\ue000"


def words(said: str, style: str = "") -> Text:
    """A text for the terminal whose quantities will not be torn apart."""
    return Text(tied(said, TIE), style=style)


class Tied:
    """What rich is to show, with the tied spaces made spaces again on the way out."""

    def __init__(self, inner: RenderableType) -> None:
        self.inner = inner

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> Iterator[Segment]:
        for segment in console.render(self.inner, options):
            yield Segment(segment.text.replace(TIE, " "), segment.style, segment.control)
