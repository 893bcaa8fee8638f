"""Bakes and their entries, which are only ever added to; outlooks, which are made anew; faster shelves."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.create_table(
        "bake",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("key", sa.String(80), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("found_by", sa.Text, nullable=False),
        sa.Column("sign", sa.Integer, nullable=False),
        sa.Column("product_key", sa.String(80), nullable=False),
        sa.Column("product_revision", sa.Integer, nullable=False),
        sa.Column("kitchen_key", sa.String(80), nullable=False),
        sa.Column("started_at", sa.String(40), nullable=False),
        sa.Column("ready_at", sa.String(40)),
        sa.Column("finished_at", sa.String(40)),
        sa.Column("day", sa.String(10), nullable=False),
        sa.UniqueConstraint("key", name="bake_key"),
    )
    op.create_table(
        "bake_as_begun",
        sa.Column("bake_id", sa.Integer, sa.ForeignKey("bake.id"), primary_key=True),
        sa.Column("content", sa.Text, nullable=False),
        sa.Column("digest", sa.String(64), nullable=False),
    )
    op.create_table(
        "entry",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("bake_id", sa.Integer, sa.ForeignKey("bake.id"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("uid", sa.String(64), nullable=False),
        sa.Column("deed", sa.String(16), nullable=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("taken_at", sa.String(40), nullable=False),
        sa.Column("device", sa.Text, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.UniqueConstraint("bake_id", "uid", name="entry_once"),
        sa.UniqueConstraint("bake_id", "number", name="entry_number"),
        sa.CheckConstraint("number >= 1", name="entry_number_from_one"),
    )
    op.create_table(
        "outlook",
        sa.Column("bake_id", sa.Integer, sa.ForeignKey("bake.id"), primary_key=True),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("turn", sa.Integer, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
    )
    op.create_index("revision_shelf", "revision", ["item_id", "number", "saved_at", "name"])
    op.create_index("bake_newest", "bake", ["started_at", "id", "found_by"])
    op.create_index("bake_of_product", "bake", ["product_key", "started_at"])
    op.create_index("bake_of_kitchen", "bake", ["kitchen_key", "started_at"])
    op.create_index("bake_open", "bake", ["finished_at", "started_at"])
    op.create_index("outlook_turn", "outlook", ["turn"])
    for table, said in (
        ("entry", "an entry is never changed"),
        ("bake_as_begun", "what a bake was begun with is never changed"),
    ):
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{said}'); END"
            )
    op.execute(
        "CREATE TRIGGER bake_no_delete BEFORE DELETE ON bake BEGIN SELECT RAISE(ABORT, 'a bake is never removed'); END"
    )
