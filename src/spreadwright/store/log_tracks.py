"""Keeps recorded tracks, each once however often it is read in, packed to about a megabyte a day."""

from __future__ import annotations

import hashlib
import json
import zlib

import numpy as np
from sqlalchemy import insert, select

from spreadwright.logbook.fixes import Fixes, TrackReport, clean
from spreadwright.store import log_tables as tables
from spreadwright.store.open import Store


def add_track(store: Store, fixes: Fixes) -> bool:
    """Keep a track; False where the very same is kept already. Raises ValueError for one without a fix."""
    report = fixes.report
    if report.start is None or report.end is None:
        raise ValueError("a track without a fix is not kept")
    packed = zlib.compress(np.stack([fixes.times, fixes.latitude, fixes.longitude]).astype("<f8").tobytes(), 6)
    name = hashlib.sha256(packed).hexdigest()[:32]
    with store.writing() as connection:
        if connection.execute(select(tables.tracks.c.id).where(tables.tracks.c.id == name)).first() is not None:
            return False
        connection.execute(
            insert(tables.tracks).values(
                id=name, name=report.source, start_at=report.start.isoformat(timespec="microseconds"),
                end_at=report.end.isoformat(timespec="microseconds"),
                report=json.dumps(report.sentences, ensure_ascii=False), fixes=packed,
            )
        )  # fmt: skip
    return True


def kept_track(store: Store) -> Fixes:
    """All tracks kept, as one: put in order, doubles left out."""
    with store.reading() as connection:
        packed = connection.execute(select(tables.tracks.c.fixes)).scalars().all()
    if not packed:
        none = np.zeros(0)
        return Fixes(none, none, none, TrackReport("the tracks kept", "store", 0))
    parts = [np.frombuffer(zlib.decompress(each), dtype="<f8").reshape(3, -1) for each in packed]
    times, latitude, longitude = np.concatenate(parts, axis=1).astype(np.float64)
    return clean(times, latitude, longitude, "the tracks kept", "store")


def track_names(store: Store) -> tuple[tuple[str, str, str], ...]:
    """Name, start and end (UTC, ISO) of every track kept, earliest first."""
    asked = select(tables.tracks.c.name, tables.tracks.c.start_at, tables.tracks.c.end_at)
    with store.reading() as connection:
        rows = connection.execute(asked.order_by(tables.tracks.c.start_at, tables.tracks.c.name)).all()
    return tuple((row.name, row.start_at, row.end_at) for row in rows)
