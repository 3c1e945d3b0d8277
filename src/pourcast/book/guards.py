"""Guards: the statements by which a database itself refuses changes, whichever it is.

Each step in ``migrations`` asks here, and runs what it is given.
"""

from types import ModuleType

from alembic import op

from pourcast.book import server, sqlite


def guard_statements(table: str) -> tuple[str, ...]:
    """Return the statements that make a table refuse changes and deletions."""
    made: tuple[str, ...] = _of().guard_statements(table)
    return made


def unguard_statements(table: str) -> tuple[str, ...]:
    """Return the statements that take the guards of a table off, for a step that fills it."""
    made: tuple[str, ...] = _of().unguard_statements(table)
    return made


def is_server() -> bool:
    """Return whether the step runs on a server."""
    return bool(op.get_context().dialect.name == server.NAME)


def _of() -> ModuleType:
    return server if is_server() else sqlite
