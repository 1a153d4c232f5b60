"""What every report shares: "66 s" is never torn in two, the same as plain text, and signs that a pipe can take."""

from __future__ import annotations

import io
from collections.abc import Iterator

from rich.console import Console, ConsoleOptions, RenderableType
from rich.segment import Segment
from rich.text import Text

from spreadwright.sheets.figures import PLAIN_SIGNS, tied

# Rich breaks lines at every space, also at one that must not break: so the space inside a quantity is this sign of
# the private area until the lines are made, and a space again after that.
TIE = "\ue000"
LEAST_WIDTH = 60


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


def as_text(parts: RenderableType, width: int) -> str:
    """What rich is to show as plain text, no line longer than `width` columns (at least 60)."""
    file = io.StringIO()
    console = Console(
        file=file, width=max(width, LEAST_WIDTH), color_system=None, force_terminal=False, emoji=False,
        legacy_windows=False,
    )  # fmt: skip
    console.print(parts, highlight=False, markup=False, emoji=False)
    return "\n".join(line.rstrip() for line in file.getvalue().splitlines()) + "\n"


def put_out(parts: RenderableType) -> None:
    """Print on the standard output; in plain signs where it is a pipe or terminal that cannot take ± and °."""
    console = Console(emoji=False)
    if console.options.ascii_only:
        plain_signs = as_text(parts, console.width).translate(PLAIN_SIGNS)
        console.file.write(plain_signs.encode("ascii", "replace").decode("ascii"))
    else:
        console.print(parts, highlight=False, markup=False, emoji=False)
