"""The journal's tables as they stand after the newest migration."""

from sqlalchemy import CheckConstraint, Column, ForeignKey, Integer, MetaData, String, Table, Text, UniqueConstraint

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
)
