"""A name for all that the log says at a moment: as long as it is the same, so is what is worked out from the log."""

from __future__ import annotations

import hashlib

from sqlalchemy import select

from spreadwright.store import log_tables as tables
from spreadwright.store.open import Store


def log_content(store: Store) -> str:
    """64 hex digits made from every sheet and entry, and from what tracks say of them."""
    made = hashlib.sha256()
    with store.reading() as connection:
        for table in (tables.sheets, tables.entries, tables.bites, tables.ran):
            rows = connection.execute(select(table)).all()
            for row in sorted(repr(tuple(row)) for row in rows):
                made.update(row.encode())
            made.update(b"\n")
    return made.hexdigest()
