"""Small logs made by code, for the tests of the logbook: invented rods, invented strikes."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from spreadwright.logbook.entry import Entry, Sheet, identity_of, merged
from spreadwright.logbook.fold import Logbook, fold

MORNING = datetime(2031, 3, 8, 11, 0, tzinfo=UTC)
SHEET = identity_of("test sheet")
SHORT = {"station": "port corner", "mark": 30.48, "weight": "64 oz torpedo", "lure": "black-purple jet 9 in"}
LONG = {"station": "centre high", "mark": 121.92, "weight": "16 oz torpedo", "lure": "blue-white bullet 7 in"}


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
