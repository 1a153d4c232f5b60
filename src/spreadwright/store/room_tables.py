"""The tables of the tackle room: pieces, their events and photos, counting walks, lists with their ticks."""

from __future__ import annotations

from sqlalchemy import BigInteger, Column, Double, ForeignKey, Integer, LargeBinary, Table, Text

from spreadwright.store.tables import metadata

pieces = Table(
    "pieces",
    metadata,
    Column("id", Text, primary_key=True),
    Column("boat_id", Text, ForeignKey("boats.id"), nullable=True, index=True),  # none: shared by all boats
    Column("kind", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("what", Text, nullable=False),  # JSON, SI
    Column("bag", Text, nullable=False),
    Column("price", Text, nullable=True),
    Column("note", Text, nullable=False),
)
events = Table(
    "events",
    metadata,
    Column("number", BigInteger().with_variant(Integer, "sqlite"), primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False, unique=True),
    Column("piece_id", Text, ForeignKey("pieces.id"), nullable=False, index=True),
    Column("kind", Text, nullable=False),
    Column("at", Text, nullable=False),  # UTC, ISO with microseconds
    Column("quantity", BigInteger, nullable=False),
    Column("why", Text, nullable=False),
    Column("of", Text, nullable=False),  # id of a fault event, or empty
    Column("hours", Double, nullable=False),
    Column("price", Text, nullable=True),
    Column("who", Text, nullable=False),
    Column("note", Text, nullable=False),
)
photos = Table(
    "photos",
    metadata,
    Column("id", Text, primary_key=True),
    Column("piece_id", Text, ForeignKey("pieces.id"), nullable=False, index=True),
    Column("taken_at", Text, nullable=False),
    Column("type", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("note", Text, nullable=False),
    Column("content", LargeBinary, nullable=False),
)
walks = Table(
    "walks",
    metadata,
    Column("id", Text, primary_key=True),
    Column("boat_id", Text, ForeignKey("boats.id"), nullable=True, index=True),
    Column("started_at", Text, nullable=False),
    Column("ended_at", Text, nullable=True),  # none: still open
    Column("ending", Text, nullable=False),  # empty, finished or dropped
    Column("who", Text, nullable=False),
)
walk_counts = Table(
    "walk_counts",
    metadata,
    Column("walk_id", Text, ForeignKey("walks.id"), primary_key=True),
    Column("piece_id", Text, ForeignKey("pieces.id"), primary_key=True),
    Column("counted", BigInteger, nullable=False),
    Column("counted_at", Text, nullable=False),
)
intervals = Table(
    "inspection_intervals",
    metadata,
    Column("kind", Text, primary_key=True),
    Column("days", Integer, nullable=True),
    Column("hours", Double, nullable=True),
)
lists = Table(
    "lists",
    metadata,
    Column("id", Text, primary_key=True),
    Column("boat_id", Text, ForeignKey("boats.id"), nullable=True, index=True),
    Column("title", Text, nullable=False),
    Column("made_at", Text, nullable=False),
    Column("content", Text, nullable=False),  # JSON
)
list_ticks = Table(
    "list_ticks",
    metadata,
    Column("list_id", Text, ForeignKey("lists.id"), primary_key=True),
    Column("item", Text, primary_key=True),
    Column("ticked_at", Text, nullable=False),
    Column("who", Text, nullable=False),
)
