"""Bring a journal to the newest schema, in one transaction; refuse one that a newer Oventide wrote."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, inspect

from oventide.errors import refuse

MIGRATIONS = Path(__file__).parent / "migrations"


def _config(connection: Connection | None = None) -> Config:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    if connection is not None:
        config.attributes["connection"] = connection
    return config


def newest_schema() -> str:
    """The schema that this version of the program writes."""
    head = ScriptDirectory.from_config(_config()).get_current_head()
    assert head is not None
    return head


def schema_of(connection: Connection) -> str | None:
    """The schema that a journal holds, or None where it is new."""
    return MigrationContext.configure(connection).get_current_revision()


def upgrade(connection: Connection, shown_name: str) -> None:
    """Run what is missing. The caller has opened the transaction, and rolls it back if this raises.

    Raises Refusal where the file is not a journal of ours, or was written by a newer version.
    """
    found = schema_of(connection)
    known = {script.revision for script in ScriptDirectory.from_config(_config()).walk_revisions()}
    if found is not None and found not in known:
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
        command.upgrade(_config(connection), "head")
