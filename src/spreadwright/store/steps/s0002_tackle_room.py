"""Step 2: the tackle room: pieces, events, photos, counting walks, inspection intervals, lists."""

from __future__ import annotations

import sqlalchemy as sa
from alembic.operations import Operations


def upgrade(op: Operations) -> None:
    """Make the tables of the tackle room."""
    _pieces_and_events(op)
    _photos_and_walks(op)
    _intervals_and_lists(op)


def _pieces_and_events(op: Operations) -> None:
    op.create_table(
        "pieces",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("boat_id", sa.Text, sa.ForeignKey("boats.id"), nullable=True, index=True),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("bag", sa.Text, nullable=False),
        sa.Column("price", sa.Text, nullable=True),
        sa.Column("note", sa.Text, nullable=False),
    )
    number = sa.BigInteger().with_variant(sa.Integer, "sqlite")
    op.create_table(
        "events",
        sa.Column("number", number, primary_key=True, autoincrement=False),
        sa.Column("id", sa.Text, nullable=False, unique=True),
        sa.Column("piece_id", sa.Text, sa.ForeignKey("pieces.id"), nullable=False, index=True),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("quantity", sa.BigInteger, nullable=False),
        sa.Column("why", sa.Text, nullable=False),
        sa.Column("of", sa.Text, nullable=False),
        sa.Column("hours", sa.Double, nullable=False),
        sa.Column("price", sa.Text, nullable=True),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
    )


def _photos_and_walks(op: Operations) -> None:
    op.create_table(
        "photos",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("piece_id", sa.Text, sa.ForeignKey("pieces.id"), nullable=False, index=True),
        sa.Column("taken_at", sa.Text, nullable=False),
        sa.Column("type", sa.Text, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "walks",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("boat_id", sa.Text, sa.ForeignKey("boats.id"), nullable=True, index=True),
        sa.Column("started_at", sa.Text, nullable=False),
        sa.Column("ended_at", sa.Text, nullable=True),
        sa.Column("ending", sa.Text, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
    )
    op.create_table(
        "walk_counts",
        sa.Column("walk_id", sa.Text, sa.ForeignKey("walks.id"), primary_key=True),
        sa.Column("piece_id", sa.Text, sa.ForeignKey("pieces.id"), primary_key=True),
        sa.Column("counted", sa.BigInteger, nullable=False),
        sa.Column("counted_at", sa.Text, nullable=False),
    )


def _intervals_and_lists(op: Operations) -> None:
    op.create_table(
        "inspection_intervals",
        sa.Column("kind", sa.Text, primary_key=True),
        sa.Column("days", sa.Integer, nullable=True),
        sa.Column("hours", sa.Double, nullable=True),
    )
    op.create_table(
        "lists",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("boat_id", sa.Text, sa.ForeignKey("boats.id"), nullable=True, index=True),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
    )
    op.create_table(
        "list_ticks",
        sa.Column("list_id", sa.Text, sa.ForeignKey("lists.id"), primary_key=True),
        sa.Column("item", sa.Text, primary_key=True),
        sa.Column("ticked_at", sa.Text, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
    )
