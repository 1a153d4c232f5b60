"""Small logs made by code, for the tests of the logbook: invented rods, invented strikes."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from spreadwright.logbook.entry import Entry, Sheet, identity_of, merged
from spreadwright.logbook.fold import Logbook, fold

MORNING = datetime(2031, 3, 8, 11, 0, tzinfo=UTC)
SHEET = identity_of("test sheet")
SHORT: dict[str, Any] = {
    "station": "port corner",
    "mark": 30.48,
    "weight": "64 oz torpedo",
    "lure": "black-purple jet 9 in",
}
LONG: dict[str, Any] = {
    "station": "centre high",
    "mark": 121.92,
    "weight": "16 oz torpedo",
    "lure": "blue-white bullet 7 in",
}


def at(minutes: float, start: datetime = MORNING) -> datetime:
    return start + timedelta(minutes=minutes)


def entry(kind: str, minutes: float, rod: str = "red", **more: Any) -> Entry:
    """An entry so many minutes after the morning's start; its id follows from what it says."""
    if kind == "line_out":
        more.setdefault("rig", SHORT)
    identity = more.pop("id", None) or identity_of(kind, minutes, rod, sorted(map(str, more.items())))
    return Entry.model_validate({"id": identity, "kind": kind, "at": at(minutes), "rod": rod, **more})


def exported(entries: Sequence[Any], **head: Any) -> str:
    """A deck sheet's export as its JavaScript writes it; entries are Entry or plain tables."""
    whole = {
        "format": "spreadwright deck log", "version": 1, "trip": "Test trip", "boat": "Dory", "sheet": SHEET,
        "made": "2031-03-08T10:00:00.000Z", **head,
    }  # fmt: skip
    told = [e.model_dump(mode="json", exclude_defaults=True) if isinstance(e, Entry) else e for e in entries]
    return json.dumps({**whole, "entries": told})


def folded(*entries: Entry, sheet: str = SHEET) -> Logbook:
    """What happened by these entries, all of one sheet."""
    kept = merged(entries)
    return fold(kept, dict.fromkeys(kept, sheet), {sheet: Sheet(id=sheet, trip="Test trip", boat="Dory")})


def season(
    rates: dict[str, float], days: int = 12, hours: float = 6.0, seed: int = 1,
    rigs: dict[str, dict[str, Any]] | None = None,
) -> list[Entry]:  # fmt: skip
    """A season's entries: every day each rod fishes its rig for `hours`, and is bitten at its true rate [1/h]."""
    random = np.random.default_rng(seed)
    entries = []
    for day in range(days):
        start = 24.0 * 60.0 * day
        for rod, rate in rates.items():
            rig = (rigs or {}).get(rod, SHORT)
            entries.append(entry("line_out", start, rod, rig=rig))
            for k, minutes in enumerate(sorted(random.uniform(1.0, 60.0 * hours - 1.0, random.poisson(rate * hours)))):
                entries.append(entry("strike", start + float(minutes), rod, outcome="missed", note=f"{k}"))
            entries.append(entry("line_in", start + 60.0 * hours, rod))
    return entries
