"""Asked: what a request says of itself, and of where it comes from."""

import ipaddress
from collections.abc import Mapping
from http.cookies import CookieError, SimpleCookie
from urllib.parse import urlsplit

from starlette.types import Scope


def is_loopback(address: str) -> bool:
    """Return whether an address is this machine speaking to itself."""
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False


def headers_of(scope: Scope) -> dict[str, str]:
    """Return the headers of a request by their names in small letters."""
    return {
        name.decode("latin-1").lower(): text.decode("latin-1") for name, text in scope["headers"]
    }


def host_of(headers: Mapping[str, str]) -> str | None:
    """Return under which name the machine was asked, without its port; None: under none."""
    written = headers.get("host", "")
    if any(sign in written for sign in "/\\?#@"):
        return None  # a host and a port, and no more (RFC 9110, 7.2)
    try:
        return urlsplit("//" + written).hostname
    except ValueError:
        return None


def from_own_page(headers: Mapping[str, str]) -> bool:
    """Return whether a change comes from a page of this address and port."""
    origin = headers.get("origin")
    if origin is None:
        # A browser that leaves the origin out says where the page is from instead.
        return headers.get("sec-fetch-site") == "same-origin"
    try:
        parts = urlsplit(origin)
    except ValueError:
        return False
    return parts.scheme in ("http", "https") and parts.netloc == headers.get("host")


def cookie_of(headers: Mapping[str, str], name: str) -> str:
    """Return a cookie of a request; "" where it has none of that name."""
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return ""
    return found.value if found else ""


def length_of(headers: Mapping[str, str]) -> int:
    """Return how many bytes a request says that it brings; 0 where it does not say."""
    written = headers.get("content-length", "")
    return int(written) if written.isascii() and written.isdigit() and len(written) < 19 else 0
