"""Tells the files a captain writes apart, so that the wrong one is told in one sentence instead of key by key."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

from spreadwright.faults import Fault, Faults

# Keys at the top of a file that no other kind of file has.
_OWN = {
    "trip": {"outfits", "stations", "shelf", "pattern"},
    "tow": {"lines", "motion"},
    "readings": {"readings"},
    "day": {"latitude", "longitude", "forecast", "course", "limits", "papers", "catch_limits"},
}
_MANUAL = {
    "trip": "docs/trip-file.md", "tow": "docs/tow-file.md", "readings": "docs/calibration.md", "day": "docs/day.md",
    "log": "docs/logbook.md",
}  # fmt: skip


def kind_of_file(tables: Mapping[str, Any]) -> str:
    """ "trip", "tow", "readings" or "day" by the keys at the top of a file; empty where they do not say."""
    kinds = [kind for kind, own in _OWN.items() if own & tables.keys()]
    return kinds[0] if len(kinds) == 1 else ""


def check_kind(tables: Mapping[str, Any], wanted: str, source: str) -> None:
    """Raises Faults with one fault where the tables of a file are plainly those of another kind than is wanted."""
    kind = kind_of_file(tables)
    if kind and kind != wanted:
        is_, needed = (f"a {each} file" for each in (kind, wanted))
        step = f"name the {wanted} file; {_MANUAL[wanted]} says what it holds"
        raise Faults([Fault(source, f"this looks like {is_}", f"{needed} is wanted", step)], source)


def check_no_toml(text: str, wanted: str, source: str) -> None:
    """The same for a text that should be no TOML at all, such as a table in CSV."""
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError):
        return
    check_kind(tables, wanted, source)
