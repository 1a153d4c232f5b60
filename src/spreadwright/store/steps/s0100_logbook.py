"""Step 100: the logbook: sheets, entries, tracks, and what tracks and towed lines say about strikes and hours."""

from __future__ import annotations

import sqlalchemy as sa
from alembic.operations import Operations


def upgrade(op: Operations) -> None:
    """Make the tables of the logbook."""
    op.create_table(
        "log_sheets",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("trip", sa.Text, nullable=False),
        sa.Column("boat", sa.Text, nullable=False),
        sa.Column("made_at", sa.Text, nullable=True),
    )
    op.create_table(
        "log_entries",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("sheet_id", sa.Text, sa.ForeignKey("log_sheets.id"), nullable=False, index=True),
        sa.Column("at", sa.Text, nullable=False, index=True),
        sa.Column("body", sa.Text, nullable=False),
    )
    op.create_table(
        "log_tracks",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("start_at", sa.Text, nullable=False),
        sa.Column("end_at", sa.Text, nullable=False),
        sa.Column("report", sa.Text, nullable=False),
        sa.Column("fixes", sa.LargeBinary, nullable=False),
    )
    for name in ("log_bites", "log_ran"):
        op.create_table(
            name,
            sa.Column("entry_id", sa.Text, sa.ForeignKey("log_entries.id"), primary_key=True),
            sa.Column("body", sa.Text, nullable=False),
        )
