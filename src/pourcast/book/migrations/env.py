"""Run the steps on the connection that was handed in; alembic executes this file."""

from alembic import context

context.configure(
    connection=context.config.attributes["connection"],
    # SQLite cannot change a table in place; it is built anew and its rows are copied.
    render_as_batch=True,
    transactional_ddl=True,
)
context.run_migrations()
