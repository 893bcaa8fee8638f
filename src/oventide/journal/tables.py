"""The journal's tables as they stand after the newest migration."""

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

METADATA = MetaData()

ITEM = Table(
    "item",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("kind", String(16), nullable=False),
    Column("key", String(80), nullable=False),
    Column("created_at", String(32), nullable=False),
    UniqueConstraint("kind", "key", name="item_kind_key"),
)

REVISION = Table(
    "revision",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("item_id", Integer, ForeignKey("item.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("name", Text, nullable=False),
    Column("saved_at", String(32), nullable=False),
    Column("note", Text, nullable=False),
    Column("content", Text, nullable=False),
    Column("digest", String(64), nullable=False),
    UniqueConstraint("item_id", "number", name="revision_item_number"),
    CheckConstraint("number >= 1", name="revision_number_from_one"),
    Index("revision_shelf", "item_id", "number", "saved_at", "name"),
)

BAKE = Table(
    "bake",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("key", String(80), nullable=False),
    Column("name", Text, nullable=False),
    Column("found_by", Text, nullable=False),
    Column("sign", Integer, nullable=False),
    Column("product_key", String(80), nullable=False),
    Column("product_revision", Integer, nullable=False),
    Column("kitchen_key", String(80), nullable=False),
    Column("started_at", String(40), nullable=False),
    Column("ready_at", String(40)),
    Column("finished_at", String(40)),
    Column("day", String(10), nullable=False),
    UniqueConstraint("key", name="bake_key"),
    Index("bake_newest", "started_at", "id", "found_by"),
    Index("bake_of_product", "product_key", "started_at"),
    Index("bake_of_kitchen", "kitchen_key", "started_at"),
    Index("bake_open", "finished_at", "started_at"),
)
"""Narrow on purpose, so that ten thousand of them are looked through at once. `started_at`, `ready_at` and
`finished_at` are in UTC and sort as texts; `day` is the local day, `found_by` what a search looks in."""

BAKE_AS_BEGUN = Table(
    "bake_as_begun",
    METADATA,
    Column("bake_id", Integer, ForeignKey("bake.id"), primary_key=True),
    Column("content", Text, nullable=False),
    Column("digest", String(64), nullable=False),
)
"""Formula, make-up, steps and kitchen as they were when the bake was begun. Never changed."""

ENTRY = Table(
    "entry",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("bake_id", Integer, ForeignKey("bake.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("uid", String(64), nullable=False),
    Column("deed", String(16), nullable=False),
    Column("at", String(40), nullable=False),
    Column("taken_at", String(40), nullable=False),
    Column("device", Text, nullable=False),
    Column("content", Text, nullable=False),
    UniqueConstraint("bake_id", "uid", name="entry_once"),
    UniqueConstraint("bake_id", "number", name="entry_number"),
    CheckConstraint("number >= 1", name="entry_number_from_one"),
)
"""What was noted at the bench. Never changed, never removed."""

OUTLOOK = Table(
    "outlook",
    METADATA,
    Column("bake_id", Integer, ForeignKey("bake.id"), primary_key=True),
    Column("number", Integer, nullable=False),
    Column("turn", Integer, nullable=False),
    Column("content", Text, nullable=False),
    Index("outlook_turn", "turn"),
)
"""The last outlook of each bake with the entry that it rests on; `turn` counts up over all bakes."""
