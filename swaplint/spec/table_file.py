"""A table of parts as one of the files that a spec was read from."""

from __future__ import annotations

from dataclasses import dataclass

from swaplint.spec.toml_source import TomlFile

_ENCODINGS = {"cp1252": "windows-1252", "utf-16": "UTF-16"}


@dataclass(slots=True)
class TableFile(TomlFile):
    """A table, with the place of each value under its path below the collection: `("starter", "length")`."""

    code_page: str = "utf-8"
    """As Python names it."""
    parting: str = ""
    """What parts the columns."""
    decimal: str = ""
    """The decimal mark of its numbers, where they show one."""

    @property
    def encoding(self) -> str:
        """The name of the code page for other programs."""
        return _ENCODINGS.get(self.code_page, "UTF-8")
