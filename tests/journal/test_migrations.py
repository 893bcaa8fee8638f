"""The migrations and the tables that the program works with say the same."""

import subprocess
import sys

from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine

from oventide.journal.store import Journal
from oventide.journal.tables import METADATA
from oventide.journal.upgrade import MIGRATIONS, _config, known_schemas, newest_schema, schema_of, upgrade


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
    assert tuple(reversed(steps)) == known_schemas()
    assert script.get_current_head() == newest_schema()


def test_a_journal_that_is_up_to_date_opens_without_the_migrations(tmp_path) -> None:
    url = f"sqlite:///{tmp_path / 'journal.sqlite3'}"
    Journal(url).close()
    code = f"import sys; from oventide.journal.store import Journal; Journal({url!r}); print('alembic' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "False"
