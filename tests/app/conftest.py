"""What every test of the pages needs: the test client is loaded without its own warning."""

from tests.app import client

__all__ = ["client"]
