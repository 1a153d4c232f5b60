"""The logbook's tables: entries as they came, tracks as they were recorded, and what both say together."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, LargeBinary, Table, Text

from spreadwright.store.tables import metadata

sheets = Table(
    "log_sheets",
    metadata,
    Column("id", Text, primary_key=True),
    Column("trip", Text, nullable=False),
    Column("boat", Text, nullable=False),
    Column("made_at", Text, nullable=True),  # UTC, ISO
)
entries = Table(
    "log_entries",
    metadata,
    Column("id", Text, primary_key=True),  # the entry's own: 32 hex digits
    Column("sheet_id", Text, ForeignKey("log_sheets.id"), nullable=False, index=True),
    Column("at", Text, nullable=False, index=True),  # UTC, ISO, to the microsecond
    Column("body", Text, nullable=False),  # JSON, as the deck sheet writes it
)
tracks = Table(
    "log_tracks",
    metadata,
    Column("id", Text, primary_key=True),  # made from the fixes: one track is kept once
    Column("name", Text, nullable=False),
    Column("start_at", Text, nullable=False),
    Column("end_at", Text, nullable=False),
    Column("report", Text, nullable=False),  # the sentences of its reading, JSON
    Column("fixes", LargeBinary, nullable=False),  # three rows of float64, little-endian, packed by zlib
)
bites = Table(
    "log_bites",
    metadata,
    Column("entry_id", Text, ForeignKey("log_entries.id"), primary_key=True),
    Column("body", Text, nullable=False),  # logbook.bite.Bite, JSON
)
ran = Table(
    "log_ran",
    metadata,
    Column("entry_id", Text, ForeignKey("log_entries.id"), primary_key=True),
    Column("body", Text, nullable=False),  # logbook.bite.Ran, JSON
)
