"""A store's archive as one JSON file: numbers to the last digit, photos as base64 text."""

from __future__ import annotations

import base64
import binascii
import json
from collections.abc import Mapping
from typing import Any

from sqlalchemy import LargeBinary

from spreadwright.faults import Fault, Faults
from spreadwright.store.archive import Archive, every_table

FORMAT = "spreadwright archive"
VERSION = 1


def to_json(archive: Archive) -> str:
    """The archive as text; the same store always gives the same text."""
    tables = {
        name: [{key: _told(value) for key, value in row.items()} for row in rows]
        for name, rows in archive.tables.items()
    }
    whole = {"format": FORMAT, "version": VERSION, "steps": list(archive.steps), "tables": tables}
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _told(value: Any) -> Any:
    return base64.b64encode(value).decode("ascii") if isinstance(value, bytes) else value


def from_json(text: str, source: str = "the archive") -> Archive:
    """The archive of a text. Raises Faults for a text that is none; its rows are checked when they are put in."""
    rule, step = f'an archive is a JSON file that says "format": "{FORMAT}"', "export it anew"
    try:
        whole = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        line = getattr(error, "lineno", None)
        given = "an empty file, or one that is no text" if not text.strip() else "text that is no JSON, or breaks off"
        raise Faults([Fault(source, given, rule, step, line=line if text.strip() else None)]) from None
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise Faults([Fault(source, "JSON of something else", rule, step)])
    if whole.get("version") != VERSION:
        said = f"version {whole.get('version')!r}"
        raise Faults([Fault(source, said, f"this program reads version {VERSION}", "use a newer spreadwright")])
    steps, tables = whole.get("steps"), whole.get("tables")
    sound = isinstance(tables, dict) and all(
        isinstance(rows, list) and all(isinstance(row, dict) for row in rows) for rows in tables.values()
    )
    if not sound or not isinstance(steps, list) or not all(isinstance(name, str) for name in steps):
        raise Faults([Fault(source, "steps or tables missing or of another shape", rule, step)])
    assert isinstance(tables, dict)
    return Archive(tuple(steps), {name: [_bytes(name, row) for row in rows] for name, rows in tables.items()})


def _no_number(text: str) -> float:
    raise ValueError(f"{text} is no number")


def _bytes(table: str, row: Mapping[str, Any]) -> dict[str, Any]:
    """Columns that hold files, back from base64; what is no base64 stays text, and is found by the checks."""
    binary = {c.name for t in every_table() if t.name == table for c in t.columns if isinstance(c.type, LargeBinary)}
    return {key: _decoded(value) if key in binary else value for key, value in row.items()}


def _decoded(value: Any) -> Any:
    try:
        return base64.b64decode(value, validate=True)
    except (binascii.Error, TypeError, ValueError):
        return value
