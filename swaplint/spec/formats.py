"""The spec format that a spec says it is written in."""

from __future__ import annotations

from swaplint.spec.facts import shown_value
from swaplint.spec.model import FORMAT
from swaplint.spec.toml_source import SpecError, TomlFile


def format_of(file: TomlFile) -> object:
    """The spec format that a spec says it is written in; None where it does not."""
    build = file.data.get("build")
    return build.get("format") if isinstance(build, dict) else None


def format_unknown(file: TomlFile) -> SpecError | None:
    """What is said of a spec in a format that this version does not read."""
    number = format_of(file)
    if number is None or number == FORMAT or not isinstance(number, int) or isinstance(number, bool):
        return None
    place = file.place_of(("build", "format"))
    what = f"build.format {shown_value(number)} is not known: this version reads format {FORMAT}"
    return SpecError(what, file.label, place.line, place.column)
