"""The JSON Schema (draft 2020-12) of a build spec or of a data sheet, derived from the models.

A schema sees one value at a time: it catches a bare number, a missing unit, a word that is not one of the few, an
unknown key and a table in the wrong place, while the file is being written. It accepts everything that the reader
accepts; whether a unit exists and measures the right kind of thing only the reader knows.

TOML dates reach a validator as text, year-month-day.
"""

from __future__ import annotations

import datetime
import inspect
import re
from typing import Any

from swaplint.spec.facts import BASES, NO_LIMIT, NONE_TOO, FieldFacts, number_text
from swaplint.spec.fields import Part, Section
from swaplint.spec.job import Job
from swaplint.spec.layers import SECTION, UNKNOWN
from swaplint.spec.model import FORMAT, Build
from swaplint.spec.shape import Member, members, system_of
from swaplint.units.reading import LONGEST

Json = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NAME = "^[A-Za-z0-9_-]{1,60}$"
"""The names that parts may have."""

# -- patterns of dimensional values: the grammar of swaplint.units, in the regular expressions of ECMA-262 --------
_SPACE = r"[ \u00a0\u2009\u202f]"
_MINUS = r"[-\u2010\u2011\u2013\u2212]"
_DIGITS = rf"(?:[1-9][0-9]{{0,2}}(?:(?:,[0-9]{{3}})+(?![0-9,])|(?:{_SPACE}[0-9]{{3}})+(?![0-9,/]))|[0-9]+)"
_USUAL = (
    "(?:[01]/2|[0-3]/4|[0-7]/8|(?:[0-9]|1[0-5])/16|(?:[0-9]|[12][0-9]|3[01])/32|(?:[0-9]|[1-5][0-9]|6[0-3])/64)"
    "(?![0-9/.,])"
)
_FRACTION_SIGN = r"[\u00bc-\u00be\u215b-\u215e]"
_FRACTION = rf"(?:(?:[0-9]+(?:{_SPACE}+|{_MINUS}))?{_USUAL}|(?:[0-9]+{_SPACE}*)?{_FRACTION_SIGN})"
_DECIMAL = rf"(?:{_DIGITS}(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][-+\u2212]?[0-9]+)?"
_UNIT_START = r"""[A-Za-z_%'"\u00b0\u00b5\u00ba\u03a9\u03bc\u2030\u2032\u2033\u2103\u2109\u2126\u212a]"""
_UNIT = rf"(?![eE][-+\u2212]?[0-9])(?:1{_SPACE}?/{_SPACE}*(?:\(|{_UNIT_START})|{_UNIT_START})[^\u0000-\u001f\u007f]*"
_ANY_SIGN = rf"(?:\+|{_MINUS})?"
_NOT_NEGATIVE = rf"(?:\+|{_MINUS}(?=[0.]+(?![0-9.])))?"
_WIDTH = rf"(?:\u00b1{_SPACE}*)?{_NOT_NEGATIVE}"
_SERIES = "(?:[aA][wW][gG]|[sS][aA][eE])"
_GAUGE = rf"^{_SPACE}*(?:{_SERIES}[ -]?#?[0-9]+(?:/0)?|#?[0-9]+(?:/0)?{_SPACE}*{_SERIES}){_SPACE}*$"
_NOT_ZERO = rf"(?![0.]+{_SPACE}*{_UNIT_START})"


def _pattern(sign: str, zero: bool) -> str:
    number = rf"{sign}{'' if zero else _NOT_ZERO}(?:{_FRACTION}|{_DECIMAL})"
    return rf"^{_SPACE}*{number}{_SPACE}*{_UNIT}$"


# -- whole schemas ------------------------------------------------------------------------------------------------
def build_schema(model: type[Section] = Build) -> Json:
    """The schema of a build spec; `model` is `Build`, or one that packs have added their sections to."""
    writer = _Writer()
    schema = {"$schema": DIALECT, "title": "Build spec", **writer.section(model)}
    schema["properties"][SECTION] = {
        "description": "Tables of parts beside the spec, CSV files, by the path of the parts.",
        "type": "object",
        "examples": [{"electrics.cables": "cables.csv"}],
    }
    return {**schema, "$defs": writer.definitions()}


def sheet_schema(kind: str, model: type[Section] = Build) -> Json:
    """The schema of a data sheet. `kind` is one of `sheet_kinds`; raises `KeyError` for another."""
    return file_schema(f"Data sheet: {kind}", sheet_kinds(model)[kind])


def file_schema(title: str, model: type[Section]) -> Json:
    """The schema of another file that is written as a spec is, such as a shop's policy."""
    writer = _Writer()
    schema = {"$schema": DIALECT, "title": title, **writer.section(model)}
    return {**schema, "$defs": writer.definitions()}


def sheet_kinds(model: type[Section] = Build) -> dict[str, type[Section]]:
    """Every part that may have a data sheet, by the name of its kind: 'engine', 'gearbox', 'speed-limiter'."""
    found = [part for part in sections_below(model) if issubclass(part, Part)]
    names = [_kebab(part.__name__) for part in found]
    return {
        name if names.count(name) == 1 else f"{system_of(part)}-{name}": part
        for name, part in zip(names, found, strict=True)
    }


def sections_below(model: type[Section]) -> list[type[Section]]:
    """Every section model below one, each once, in the order of the model."""
    found: dict[type[Section], None] = {}

    def walk(section: type[Section]) -> None:
        for member in members(section).values():
            if member.model is not None and member.model not in found:
                found[member.model] = None
                walk(member.model)

    walk(model)
    return list(found)


def _kebab(name: str) -> str:
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "-", name).lower()


class _Writer:
    """Writes sections and values; what is used more than once is written once and referred to."""

    def __init__(self) -> None:
        self._values: Json = {}
        self._sections: dict[type[Section], str] = {}
        self._written: Json = {}

    def definitions(self) -> Json:
        """All that was referred to, by name."""
        everything = {**self._values, **self._written}
        return {name: everything[name] for name in sorted(everything)}

    def section(self, model: type[Section]) -> Json:
        """A section as it stands in its own file or definition."""
        return {
            "description": _first_line(model),
            "type": "object",
            "properties": {name: self._member(model, member) for name, member in members(model).items()},
            "additionalProperties": False,
        }

    def _section_reference(self, model: type[Section]) -> Json:
        name = self._sections.get(model)
        if name is None:
            name = model.__name__
            if name in self._sections.values():
                name = f"{name}-{system_of(model) or 'pack'}"
            self._sections[model] = name
            self._written[name] = self.section(model)
        return {"$ref": f"#/$defs/{name}"}

    def _member(self, owner: type[Section], member: Member) -> Json:
        if member.facts is not None:
            if owner is Job and member.name == "format":
                return {"description": _about(member.facts), "const": FORMAT}
            about: Json = {"description": _about(member.facts)}
            value, example = self._value(member.facts), example_of(member.facts)
            if member.facts.limit:
                value = {"anyOf": [value, self._define("no-limit", {"description": NONE_TOO, "const": NO_LIMIT})]}
            if member.role == "plain":
                return {**about, **value, "examples": [example]}
            listed: Json = {"type": "array", "items": value}
            if member.facts.fewest_listed:
                listed["minItems"] = member.facts.fewest_listed
            return {**about, **self._or_unknown(listed), "examples": [[example]]}
        assert member.model is not None
        inner = self._section_reference(member.model)
        about = {"description": member.description}
        if member.role == "part":
            return {**about, **self._or_unknown(inner)}
        if member.role == "items":
            return {**about, **self._or_unknown({"type": "array", "items": inner})}
        named = self._or_unknown(inner)
        parts = {"type": "object", "patternProperties": {NAME: named}, "additionalProperties": False}
        return {**about, **self._or_unknown(parts)}

    def _or_unknown(self, *accepted: Json) -> Json:
        """A value or part as one of several, or that it is not known."""
        unknown = {
            "description": "not known, whatever a data sheet or the spec that this one stands on states",
            "type": "object",
            "properties": {UNKNOWN: {"const": True}},
            "required": [UNKNOWN],
            "additionalProperties": False,
        }
        return {"anyOf": [*accepted, self._define("not-known", unknown)]}

    def _value(self, facts: FieldFacts) -> Json:
        if facts.type == "measure":
            return self._define(*self._measure(facts))
        if facts.type in ("number", "count"):
            return self._define(*self._number(facts))
        if facts.type == "flag":
            return self._define("flag", self._or_unknown({"type": "boolean"}))
        if facts.type == "word":
            return {"enum": [*facts.options, {UNKNOWN: True}]}
        if facts.type == "date":
            # All that datetime.date.fromisoformat reads: with hyphens or without, by the calendar or by the week.
            pattern = "^[0-9]{4}-?(?:[0-9]{2}-?[0-9]{2}|W[0-9]{2}(?:-?[0-9])?)$"
            words = [{"enum": list(facts.options)}] if facts.options else []
            name = "-or-".join(("date", *facts.options))
            return self._define(name, self._or_unknown({"type": "string", "pattern": pattern}, *words))
        pattern = r"^[^\u0000-\u0008\u000b-\u001f\u007f]*$"
        return self._define("text", self._or_unknown({"type": "string", "maxLength": 500, "pattern": pattern}))

    def _measure(self, facts: FieldFacts) -> tuple[str, Json]:
        assert facts.kind is not None
        kind_signed = facts.kind.signed or facts.kind.name == "temperature"
        signed = facts.signed or kind_signed
        # A wire of size 0 AWG is not a wire of no size.
        zero = facts.may_be_zero or facts.kind.name == "conductor"
        written = f"{'signed-' if signed else ''}value{'-or-zero' if zero else ''}"
        pattern = _pattern(_ANY_SIGN if signed else _NOT_NEGATIVE, zero)
        if facts.kind.name == "conductor":
            written, pattern = "conductor-size", f"{pattern}|{_GAUGE}"
        value = self._define(written, {"type": "string", "maxLength": LONGEST, "pattern": pattern})
        tol = {"type": "string", "maxLength": LONGEST, "pattern": _pattern(_WIDTH, True)}
        table = self._define(f"{written}-table", self._table(value, self._define("tolerance", tol)))
        mark = "-signed" if facts.signed and not kind_signed else "-or-zero" if facts.zero or facts.signed else ""
        accepted = [value, table]
        if facts.bare:
            mark += "-or-number"
            bare: Json = {"type": "number", "description": f"a number in {facts.unit}, as older specs have it"}
            width: Json = {"anyOf": [self._define("tolerance", tol), {"type": "number", "minimum": 0}]}
            accepted = [value, bare, self._table({"anyOf": [value, bare]}, width)]
        return f"{facts.kind.name}{mark}", {
            "description": f"{facts.kind.words} with its unit",
            **self._or_unknown(*accepted),
        }

    def _number(self, facts: FieldFacts) -> tuple[str, Json]:
        value: Json = {"type": "integer" if facts.type == "count" else "number"}
        mark = "-signed"
        if not facts.signed:
            value["minimum" if facts.may_be_zero else "exclusiveMinimum"] = 0
            mark = "-or-zero" if facts.may_be_zero else ""
        per_cent = {"type": "string", "maxLength": LONGEST, "pattern": f"%{_SPACE}*$"}
        tol = self._define("number-tolerance", {"anyOf": [{"type": "number", "minimum": 0}, per_cent]})
        return f"{facts.type}{mark}", self._or_unknown(value, self._table(value, tol))

    def _table(self, value: Json, tol: Json) -> Json:
        """A value with its tolerance and basis."""
        basis = self._define("basis", {"description": "how the value is known, weakest first", "enum": list(BASES)})
        return {
            "type": "object",
            "properties": {"value": value, "tol": tol, "basis": basis},
            "required": ["value"],
            "additionalProperties": False,
        }

    def _define(self, name: str, schema: Json) -> Json:
        self._values.setdefault(name, schema)
        return {"$ref": f"#/$defs/{name}"}


# -- words and examples -------------------------------------------------------------------------------------------
def _first_line(model: type[Section]) -> str:
    return (inspect.getdoc(model) or "").split("\n", 1)[0]


def _about(facts: FieldFacts) -> str:
    """What a field means, what it takes, what real vehicles have, and where it is found."""
    text = f"{facts.description[:1].upper()}{facts.description[1:]}."
    if facts.kind is not None:
        text += f" Takes {facts.kind.takes}{f', {NONE_TOO}' if facts.limit else ''}."
    if facts.plausible is not None and facts.plausible[0] < facts.plausible[1]:
        low, high = (number_text(bound) for bound in facts.plausible)
        text += f" Real vehicles have {low} to {high} {facts.unit}".rstrip() + "."
    if facts.series:
        sizes = ", ".join(number_text(size) for size in facts.series)
        text += f" Standard sizes: {sizes} {facts.unit}".rstrip() + "."
    if facts.where:
        text += f" Found: {facts.where}."
    return text


def example_of(facts: FieldFacts) -> Any:
    """The typical value of a field as TOML holds it, except that a date is text."""
    if facts.type == "measure":
        return f"{number_text(facts.typical)} {facts.unit}"
    if facts.type == "count" and isinstance(facts.typical, int | float):
        return int(facts.typical)
    return str(facts.typical) if isinstance(facts.typical, datetime.date) else facts.typical
