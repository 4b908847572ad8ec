"""Telling build specs, data sheets and other TOML files apart by what stands in them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any, Literal

from swaplint.spec.deviations import ALONE
from swaplint.spec.fields import Section
from swaplint.spec.schema import sheet_kinds
from swaplint.spec.shape import members

What = Literal["spec", "sheet", "other"]


def what_it_is(data: Mapping[str, Any], model: type[Section]) -> What:
    """Whether a file with these values is a build spec, a data sheet, or has nothing of either.

    A spec has sections of the model; an empty one may be a spec, too, but one with nothing but deviations is a file
    that a shop keeps beside its specs. A data sheet states the document that it is written from, or has nothing but
    fields of one kind of part.

    >>> from swaplint.spec.model import Build
    >>> what_it_is({"engine": {}}, Build), what_it_is({"document": {}}, Build), what_it_is({"tool": {}}, Build)
    ('spec', 'sheet', 'other')
    """
    if data.keys() == ALONE:
        return "other"
    if not data or (not members(model).keys().isdisjoint(data) and not ("document" in data and kinds_of(data, model))):
        return "spec"
    return "sheet" if "document" in data or kinds_of(data, model) else "other"


_JOB = re.compile(rb"^\[build[].]", re.MULTILINE)
_DOCUMENT = re.compile(rb"^[\[\"' \t]*document", re.MULTILINE)


def plainly_a_spec(raw: bytes) -> bool:
    """Whether the bytes of a file tell without parsing that it is a spec, or no TOML: of a thousand that takes long.

    It has the section of the job at the start of a line that is in no text, and no document, as a data sheet has.

    >>> plainly_a_spec(b"[build]"), plainly_a_spec(b"[document]"), plainly_a_spec(b"# [build]")
    (True, False, False)
    """
    texts = b'"""' in raw or b"'''" in raw
    return not texts and _JOB.search(raw) is not None and _DOCUMENT.search(raw) is None


def kinds_of(data: Mapping[str, Any], model: type[Section]) -> list[str]:
    """The kinds of data sheet that have every field of a file."""
    return [kind for kind, part in sheet_kinds(model).items() if members(part).keys() >= data.keys()]


def sheet_words(data: Mapping[str, Any], name: str, model: type[Section]) -> str:
    """What a data sheet is and where it is named, as the rest of a sentence about its file."""
    name = re.split(r"[\\/]", name)[-1]
    kinds = sheet_kinds(model)
    fitting = kinds_of(data, model)
    named = [kind for kind in kinds if f".{kind}." in name]
    kind = named[0] if named else fitting[0] if len(fitting) == 1 else ""
    of, table = "", "[engine]"
    if kind:
        words = kind.replace("-", " ")
        article = "" if words.endswith("s") else "an " if words[0] in "aeiou" else "a "
        of = f" of {article}{words}"
        table = next(tables_of(kinds[kind], model), table)
    how = "name it in a spec" if kind else "name it in a spec, in the table of its part"
    return f'is a data sheet{of}, not a build spec; {how}: {table} sheet = "{name}"'


def tables_of(part: type[Section], model: type[Section], path: str = "") -> Iterator[str]:
    """The headers of the tables that hold such a part, as a spec writes them."""
    for name, member in members(model).items():
        here = f"{path}.{name}" if path else name
        if member.model is None:
            continue
        below = f"{here}.NAME" if member.role == "parts" else here
        if member.model is part:
            yield f"[[{here}]]" if member.role == "items" else f"[{below}]"
        yield from tables_of(part, member.model, below)
