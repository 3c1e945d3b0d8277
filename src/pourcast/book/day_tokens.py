"""Day tokens: what lets a small program in a kiln send readings to one day and no other.

The book keeps the hash alone.
"""

import hashlib
import hmac
import secrets

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.store import Book, find_id, retried

_TOKENS = "day_token_sha256_"


@retried
def new_token(book: Book, pour_id: str) -> str:
    """Return a new token for a day; the one before it opens nothing any more."""
    token = secrets.token_urlsafe(24)
    settings = tables.settings
    with book.writing() as connection:
        key = _TOKENS + find_id(connection, tables.pours, pour_id)
        connection.execute(settings.delete().where(settings.c.key == key))
        connection.execute(settings.insert(), {"key": key, "value": _hashed(token)})
    return token


def token_opens(book: Book, pour_id: str, token: str) -> bool:
    """Return whether a token lets its bearer write to a day."""
    settings = tables.settings.c
    with book.reading() as connection:
        asked = sa.select(settings.value).where(settings.key == _TOKENS + pour_id)
        kept = connection.execute(asked).scalar()
    return kept is not None and hmac.compare_digest(str(kept), _hashed(token))


def _hashed(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
