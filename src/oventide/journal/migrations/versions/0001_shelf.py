"""Items on the shelf and their revisions; a revision is never changed and never removed."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "item",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("key", sa.String(80), nullable=False),
        sa.Column("created_at", sa.String(32), nullable=False),
        sa.UniqueConstraint("kind", "key", name="item_kind_key"),
    )
    op.create_table(
        "revision",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("item_id", sa.Integer, sa.ForeignKey("item.id"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("saved_at", sa.String(32), nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
        sa.UniqueConstraint("item_id", "number", name="revision_item_number"),
        sa.CheckConstraint("number >= 1", name="revision_number_from_one"),
    )
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER revision_no_{action.lower()} BEFORE {action} ON revision "
            "BEGIN SELECT RAISE(ABORT, 'a saved revision is never changed'); END"
        )
