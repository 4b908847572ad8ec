"""Versions of packs, as they can be compared."""

from __future__ import annotations

import re

VERSION = re.compile(r"\d{1,9}(?:\.\d{1,9}){0,5}")


def version_key(version: str) -> tuple[int, ...]:
    """A version as numbers that can be compared; what is no version goes before all.

    >>> version_key("0.10.2") > version_key("0.9"), version_key("unversioned")
    (True, ())
    """
    found = VERSION.match(version)
    return tuple(map(int, found[0].split("."))) if found else ()
