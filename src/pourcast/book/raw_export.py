"""Raw export: the rows of a book on a server as they stand, before an upgrade.

`pourcast.book.export` knows the tables of this program alone.  Before an upgrade the
book has those of an earlier one; so names and rows are read from the server itself.
What is written has the shape of an export: the version that wrote the book reads it.
"""

from datetime import datetime
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy import Engine

from pourcast.book.export import file_of, write_head, write_rows
from pourcast.book.pictures import kind_of, picture_path, store_file
from pourcast.book.sqlite import READING

_OWN = frozenset({"alembic_version", "program"})
_PICTURES = "picture_contents"


def write_raw(engine: Engine, folder: Path, *, form: str, at: datetime) -> None:
    """Write all rows of a book into a new folder, and its photographs.

    Parameters
    ----------
    engine : Engine
    folder : Path
        Not there yet.
    form : str
        Of the book as it stands.
    at : datetime
        Now, with its zone.
    """
    folder.mkdir(mode=0o700, parents=True)
    counts: dict[str, int] = {}
    hashes: dict[str, str] = {}
    with engine.connect().execution_options(**{READING: True}) as connection, connection.begin():
        found = sa.MetaData()
        found.reflect(connection)
        for table in found.sorted_tables:
            if table.name in _OWN:
                continue
            asked = sa.select(table).order_by(*table.primary_key.columns)
            rows = connection.execute(asked, execution_options={"yield_per": 500}).mappings()
            if table.name == _PICTURES:
                for row in rows:
                    content = bytes(row["content"])
                    path = picture_path(folder, row["sha256"], kind_of(content))
                    store_file(path, content)
                continue
            name = file_of(table)
            counts[table.name], hashes[name] = write_rows(folder / name, map(dict, rows))
    write_head(folder, form, at, counts, hashes)
