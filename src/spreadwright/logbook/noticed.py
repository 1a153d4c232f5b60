"""What is odd about an entry that was just kept: nothing is refused for it, but somebody should look at it once."""

from __future__ import annotations

from datetime import datetime, timedelta

from spreadwright.logbook.entry import Entry
from spreadwright.logbook.fold import Logbook

CLOCKS = timedelta(minutes=5)  # clocks of two phones differ by as much


def noticed(book: Logbook, entry: Entry, sheet: str, now: datetime) -> tuple[str, ...]:
    """Remarks on one entry, in sentences.

    book    the log with the entry in it
    sheet   the id of the sheet it stands on
    now     the moment it was written
    """
    said = []
    if entry.at > now + CLOCKS:
        said.append(f"{entry.at:%Y-%m-%d %H:%M} UTC lies in the future.")
    if entry.kind in ("strike", "line_in"):
        out = {e.rod for e in book.exposures if e.sheet == sheet and e.start <= entry.at <= e.end}
        if entry.rod not in out:
            others = ", ".join(sorted(out)) or "none"
            rate = "; a strike without a line counts in no rate" if entry.kind == "strike" else ""
            said.append(f"No line of that name is out at that time on this trip's sheet; out are: {others}{rate}.")
    return tuple(said)
