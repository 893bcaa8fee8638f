"""The migrations and the tables that the program works with say the same."""

from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine

from oventide.journal.tables import METADATA
from oventide.journal.upgrade import MIGRATIONS, _config, schema_of, upgrade


def test_the_migrated_schema_is_the_declared_one() -> None:
    engine = create_engine("sqlite://")
    with engine.begin() as connection:
        assert schema_of(connection) is None
        upgrade(connection, "memory")
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    engine.dispose()


def test_migrations_form_one_line() -> None:
    script = ScriptDirectory.from_config(_config())
    assert len(script.get_heads()) == 1
    assert len(script.get_bases()) == 1
    steps = [revision.revision for revision in script.walk_revisions()]
    files = [path for path in (MIGRATIONS / "versions").glob("*.py") if path.stem != "__init__"]
    assert len(steps) == len(files)
