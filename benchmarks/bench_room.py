"""Measures the tackle room: how long a store of 50,000 events takes to open and to stand, and one acknowledged write.

`make bench` runs it through pytest. By hand: `python -m benchmarks.bench_room`. The bare read of the same rows by
SQLite itself, in the same run, is the yardstick: the ratio says what checking, values and replay cost on top.
"""

from __future__ import annotations

import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import insert

from spreadwright.stock.event import EventKind, happened
from spreadwright.stock.piece import piece_of
from spreadwright.store.open import open_store
from spreadwright.store.room import add_pieces, read_room, record
from spreadwright.store.room_rows import event_row
from spreadwright.store.room_tables import events
from spreadwright.tackle import Hook

EVENTS, PIECES, REPEATS = 50_000, 200, 5
PATIENCE = 1.0  # [s] to open and know how everything stands


def fill(file: Path) -> str:
    """A store with 50,000 events of 200 pieces over some years; returns the id of one piece."""
    start = datetime(2026, 1, 1, tzinfo=UTC)
    pieces = [piece_of("hook", Hook(name=f"hook {number}", count=0)) for number in range(PIECES)]
    happenings = []
    for i in range(EVENTS):
        kind: EventKind = "buy" if (i // PIECES) % 2 == 0 else "use"
        happenings.append(happened(pieces[i % PIECES].id, kind, 1, at=start + timedelta(minutes=37 * i)))
    with open_store(file) as store:
        add_pieces(store, pieces)
        with store.writing() as connection:
            connection.execute(insert(events), [event_row(event, i + 1) for i, event in enumerate(happenings)])
    return pieces[0].id


def opened(file: Path, clock: Callable[[], float] = time.perf_counter) -> float:
    """Seconds to open the store, its check and daily copy included, and to know how every piece stands."""
    begun = clock()
    with open_store(file) as store:
        assert len(read_room(store).states) == PIECES
    return clock() - begun


def bare(file: Path) -> float:
    """Seconds that SQLite alone takes to hand out the same rows."""
    begun = time.perf_counter()
    connection = sqlite3.connect(file)
    assert len(connection.execute("SELECT * FROM events ORDER BY number").fetchall()) >= EVENTS
    connection.close()
    return time.perf_counter() - begun


def written(file: Path, piece: str) -> float:
    """Seconds of one write, from the call to the acknowledgement, median of 50; the piece has 250 events."""
    took = []
    with open_store(file) as store:
        for _ in range(50):
            event = happened(piece, "buy", 1)
            begun = time.perf_counter()
            record(store, event)
            took.append(time.perf_counter() - begun)
    return statistics.median(took)


def measure() -> dict[str, float]:
    """All figures of one run [s]."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "room.sqlite"
        piece = fill(file)
        first = opened(file)  # makes the day's copy
        return {
            "first opening of the day": first,
            "opening": statistics.median(opened(file) for _ in range(REPEATS)),
            "opening, processor time": statistics.median(opened(file, time.process_time) for _ in range(REPEATS)),
            "bare read": statistics.median(bare(file) for _ in range(REPEATS)),
            "one write": written(file, piece),
        }


def report() -> str:
    """The figures in words."""
    found = measure()
    ratio = found["opening"] / found["bare read"]
    lines = [f"{name}: {1000.0 * seconds:.1f} ms" for name, seconds in found.items()]
    return "\n".join([f"{EVENTS} events of {PIECES} pieces", *lines, f"opening over bare read: {ratio:.1f}"])


def test_the_room_opens_in_under_a_second() -> None:
    """By processor time, which other programs on the machine disturb least; the report has the clock's time as well."""
    found = measure()
    assert found["opening, processor time"] < PATIENCE, found


if __name__ == "__main__":
    print(report())
