"""Rows of the tackle room's tables turned into pieces and events, and back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from spreadwright.stock.event import Event
from spreadwright.stock.kinds import read_back, written
from spreadwright.stock.piece import Piece


def moment_text(at: datetime) -> str:
    """A moment as the tables keep it: UTC, to the microsecond, so that texts sort as moments do."""
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def moment(text: str) -> datetime:
    """The moment a table keeps."""
    return datetime.fromisoformat(text)


def _money(price: Decimal | None) -> str | None:
    return None if price is None else str(price)


def piece_row(piece: Piece) -> dict[str, Any]:
    """A piece as a row."""
    what = json.dumps(written(piece.what), sort_keys=True, ensure_ascii=False)
    return {
        "id": piece.id, "boat_id": piece.boat or None, "kind": piece.kind, "name": piece.name, "what": what,
        "bag": piece.bag, "price": _money(piece.price), "note": piece.note,
    }  # fmt: skip


def piece_from(row: Sequence[Any]) -> Piece:
    """The piece of a row, its columns in the order of the table.

    Raises KeyError, ValueError or pydantic.ValidationError for a row that holds none.
    """
    name, boat, kind, called, what, bag, price, note = row
    gear = read_back(kind, called, json.loads(what))
    return Piece(name, kind, called, gear, boat or "", bag, None if price is None else Decimal(price), note)


def event_row(event: Event, number: int) -> dict[str, Any]:
    """An event as a row; number: its place in the order of writing."""
    return {
        "number": number, "id": event.id, "piece_id": event.piece, "kind": event.kind, "at": moment_text(event.at),
        "quantity": event.quantity, "why": event.why, "of": event.of, "hours": event.hours,
        "price": _money(event.price), "who": event.who, "note": event.note,
    }  # fmt: skip


def event_from(row: Sequence[Any]) -> Event:
    """The event of a row, its columns in the order of the table; by position, since there are many."""
    _, name, piece, kind, at, quantity, why, of, hours, price, who, note = row
    money = None if price is None else Decimal(price)
    return Event(name, piece, kind, datetime.fromisoformat(at), quantity, why, of, hours, money, who, note)
