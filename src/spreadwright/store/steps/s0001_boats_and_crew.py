"""Step 1: boats and the people who fish from them."""

from __future__ import annotations

import sqlalchemy as sa
from alembic.operations import Operations


def upgrade(op: Operations) -> None:
    """Make the tables of boats and crew."""
    op.create_table(
        "boats",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("name", sa.Text, nullable=False, unique=True),
        sa.Column("note", sa.Text, nullable=False),
    )
    op.create_table(
        "crew",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("boat_id", sa.Text, sa.ForeignKey("boats.id"), nullable=False, index=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("duty", sa.Text, nullable=False),
        sa.UniqueConstraint("boat_id", "name"),
    )
