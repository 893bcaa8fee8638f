"""Alembic's entry: uses the connection (and its open transaction) that oventide.journal.upgrade hands over."""

from alembic import context

from oventide.journal.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    transactional_ddl=False,  # the caller's one transaction holds every step
)
context.run_migrations()
