"""The tables every room of the store shares: schema steps taken, boats and their crews."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, MetaData, Table, Text, UniqueConstraint

metadata = MetaData()

schema_steps = Table(
    "schema_steps",
    metadata,
    Column("name", Text, primary_key=True),
    Column("taken_at", Text, nullable=False),  # UTC, ISO
)
boats = Table(
    "boats",
    metadata,
    Column("id", Text, primary_key=True),  # 32 hex digits, as every id here
    Column("name", Text, nullable=False, unique=True),
    Column("note", Text, nullable=False),
)
crew = Table(
    "crew",
    metadata,
    Column("id", Text, primary_key=True),
    Column("boat_id", Text, ForeignKey("boats.id"), nullable=False, index=True),
    Column("name", Text, nullable=False),
    Column("duty", Text, nullable=False),  # captain, mate, ... or empty
    UniqueConstraint("boat_id", "name"),
)
