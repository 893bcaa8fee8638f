"""Bring a journal to the newest schema, in one transaction; refuse one that a newer Oventide wrote."""

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, inspect
from sqlalchemy import text as sql

from oventide.errors import refuse

if TYPE_CHECKING:
    from alembic.config import Config

MIGRATIONS = Path(__file__).parent / "migrations"
VERSION_TABLE = "alembic_version"


def _config(connection: Connection | None = None) -> "Config":
    from alembic.config import Config  # here, since a journal that is up to date needs none of it

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    if connection is not None:
        config.attributes["connection"] = connection
    return config


def known_schemas() -> tuple[str, ...]:
    """The schemas that this version knows, oldest first: the numbers that the migrations' files begin with."""
    files = (MIGRATIONS / "versions").glob("[0-9]*.py")
    return tuple(sorted(path.stem.partition("_")[0] for path in files))


def newest_schema() -> str:
    """The schema that this version of the program writes."""
    return known_schemas()[-1]


def schema_of(connection: Connection) -> str | None:
    """The schema that a journal holds, or None where it is new."""
    if not inspect(connection).has_table(VERSION_TABLE):
        return None
    found = connection.execute(sql(f"SELECT version_num FROM {VERSION_TABLE}")).scalar_one_or_none()
    return None if found is None else str(found)


def upgrade(connection: Connection, shown_name: str) -> None:
    """Run what is missing. The caller has opened the transaction, and rolls it back if this raises.

    Raises Refusal where the file is not a journal of ours, or was written by a newer version.
    """
    found = schema_of(connection)
    if found is not None and found not in known_schemas():
        raise refuse(
            "journal",
            shown_name,
            f"This journal was written by a newer Oventide (its schema is {found}, this one knows {newest_schema()}).",
            "Nothing was changed. Start the newer version, or name another file in OVENTIDE_HOME.",
        )
    if found is None and inspect(connection).get_table_names():
        raise refuse(
            "journal",
            shown_name,
            "This file is a database, but not a journal of Oventide.",
            "Nothing was changed. Name another folder in OVENTIDE_HOME.",
        )
    if found != newest_schema():
        from alembic import command

        command.upgrade(_config(connection), "head")
