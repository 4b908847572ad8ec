"""What is known of a field of the build spec: its kind, its unit, what it takes, and how a value of it is read."""

import datetime
import functools
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from pydantic import BaseModel
from pydantic_core import core_schema

from swaplint.spec.where import MARKING, NATURES, OF_A_PART, TYRE, Nature
from swaplint.units import KINDS, LARGEST, SMALLEST, Kind, UnitError, from_unit, read, read_tolerance
from swaplint.units.output import written_as
from swaplint.units.showing import SHOWING

BASES = ("assumed", "catalogue", "calculated", "measured")
"""The basis of a value, weakest first."""
FieldType = Literal["measure", "number", "count", "flag", "word", "text", "date"]
NO_LIMIT = "none"
"""What a spec or sheet says in the place of a maker's limit where the maker states none."""
NONE_TOO = f'or "{NO_LIMIT}", where its maker states no such limit'
"""What else such a field takes, for people."""


class Stated(NamedTuple):
    """A value as a spec or sheet states it."""

    value: float | bool | str
    """SI for a dimensional value; the number, flag or word itself otherwise."""
    tol: float = 0.0
    """Half-width of the tolerance, in SI; 0 where none is stated."""
    basis: str | None = None
    """One of `BASES`, or None where the spec does not say."""
    written: str = ""
    """The value as it stands in the file, for people."""


@dataclass(frozen=True, slots=True, eq=False)
class FieldFacts:
    """All that is known of a field besides its value. Stands in the field's pydantic metadata; each is its own."""

    type: FieldType
    description: str
    kind: Kind | None = None
    unit: str = ""
    """The unit of the trade that values are shown in; empty for pure numbers."""
    typical: float | bool | str | None = None
    """A typical value, in `unit`: for examples, drafts and finding all unknowns; never for a verdict."""
    plausible: tuple[float, float] | None = None
    """The range, in `unit`, that a real vehicle could have."""
    where: str = ""
    """Where the value is normally found."""
    series: tuple[float | str, ...] = ()
    """The standard sizes to choose from, as numbers in `unit` or as written."""
    options: tuple[str, ...] = ()
    """The words that the field accepts."""
    signed: bool = False
    zero: bool = False
    """Whether zero makes sense; a bore or a ratio of zero does not."""
    choices: str = ""
    """The field that lists what the builder can get, where the spec may offer a choice."""
    settled: Nature | None = None
    """What settles it, where its place does not tell."""
    goes_with: tuple[str, ...] = ()
    """Fields of the same part that are of what is chosen: with another choice their values are of the old one."""
    limit: bool = False
    """Whether it is a limit that a maker sets, so that a sheet may answer `NO_LIMIT`: the maker states none."""
    bare: bool = False
    """Whether a bare number is one in `unit`: the field had no unit once, and what was written so goes on."""

    @property
    def nature(self) -> Nature:
        """What settles it: a remedy changes nothing but what the builder chooses."""
        return self.settled or NATURES.get(self.where, "choice")

    @property
    def chosen(self) -> bool:
        """Whether the builder settles it."""
        return self.nature in ("choice", "setting")

    @property
    def of_the_part(self) -> bool:
        """Whether it is what a part was made as, so that another value is another part."""
        marked = self.type in ("count", "word", "text") and self.where in (MARKING, TYRE)
        return self.nature == "choice" and self.where in OF_A_PART and (marked or self.type in ("measure", "number"))

    # -- reading a value: called by pydantic ------------------------------------------------------------------
    def read(self, raw: object) -> Stated:
        """Read a value as TOML gives it. Raises `ValueError` with a sentence."""
        if not self.limit:
            return _read_text(self, raw) if isinstance(raw, str) else self._read(raw)
        if raw == NO_LIMIT:
            return Stated(NO_LIMIT, written=NO_LIMIT)
        try:
            return _read_text(self, raw) if isinstance(raw, str) else self._read(raw)
        except ValueError as error:
            raise ValueError(f"{error}; {NONE_TOO}") from None

    def _read(self, raw: object) -> Stated:
        basis: str | None = None
        tol: object = None
        value = raw
        if isinstance(raw, Mapping):
            if self.type not in ("measure", "number", "count"):
                raise ValueError(f"takes {self._takes()}, not a table")
            unknown = [key for key in raw if key not in ("value", "tol", "basis")]
            if unknown or "value" not in raw:
                raise ValueError(
                    f"takes {self._takes()}; as a table it has value, tol and basis only, "
                    f'like {{ value = {self.example()}, tol = "3 %", basis = "measured" }}'
                )
            value, tol, basis = raw["value"], raw.get("tol"), raw.get("basis")
            if basis is not None and basis not in BASES:
                raise ValueError(f"basis {shown_value(basis)} is not one of {', '.join(BASES)}")
        if self.bare:
            value, tol = self._with_unit(value), self._with_unit(tol)
        number: float | bool | str
        if self.type == "measure":
            number = self._read_measure(value)
        elif self.type in ("number", "count"):
            number = self._read_number(value)
        elif self.type == "flag":
            if not isinstance(value, bool):
                raise ValueError(f"takes true or false, not {shown_value(value)}")
            number = value
        elif self.type == "date":
            number = self._read_date(value)
        else:
            number = self._read_word(value)
        half = self._read_tolerance(tol, number) if tol is not None else 0.0
        return Stated(number, half, basis, str(value) if not isinstance(value, bool) else str(value).lower())

    def _with_unit(self, value: object) -> object:
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        return f"{number_text(value)} {self.unit}" if is_number else value

    def _read_measure(self, value: object) -> float:
        assert self.kind is not None
        if isinstance(value, int | float) and not isinstance(value, bool):
            raise ValueError(
                f"{shown_value(value)} has no unit: the field takes {self._takes()}, like {self.example()}"
            )
        if not isinstance(value, str):
            raise ValueError(f"takes {self._takes()}, like {self.example()}, not {shown_value(value)}")
        number = read(value, self.kind, signed=self.signed or None, plausible=self.plausible_si)
        return self._refuse_zero(number, value)

    def _read_number(self, value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise ValueError(f"takes {self._takes()}, like {self.example()}, not {shown_value(value)}")
        if isinstance(value, float) and not math.isfinite(value):
            raise ValueError(f"takes {self._takes()}, not {shown_value(value)}")
        if value and not SMALLEST <= abs(value) <= LARGEST:
            raise ValueError(f"{shown_value(value)} is too large or too small for any build")
        number = float(value)
        if self.type == "count" and (number != int(number)):
            raise ValueError(f"takes {self._takes()}, not {shown_value(value)}")
        if number < 0 and not self.signed:
            raise ValueError(f"takes {self._takes()}; {shown_value(value)} is negative")
        return self._refuse_zero(number, value)

    def _refuse_zero(self, number: float, value: object) -> float:
        if number == 0.0 and not self.may_be_zero:
            raise ValueError(
                f"{shown_value(value)} is zero, which the field cannot be; a value looks like {self.example()}"
            )
        return number

    def _read_word(self, value: object) -> str:
        if not isinstance(value, str):
            raise ValueError(f"takes {self._takes()}, not {shown_value(value)}")
        if self.options and value not in self.options:
            near = nearest(value, self.options)
            hint = f"; did you mean '{near}'?" if near else ""
            raise ValueError(f"{shown_value(value)} is not one of {', '.join(self.options)}{hint}")
        if len(value) > 500:
            raise ValueError("is a text of more than 500 characters")
        if any((ord(character) < 32 and character not in "\t\n") or ord(character) == 127 for character in value):
            raise ValueError("holds control characters, which a text must not")
        return value

    def _read_date(self, value: object) -> str:
        if isinstance(value, str):
            if value in self.options:
                return value
            try:
                value = datetime.date.fromisoformat(value)
            except ValueError:
                raise ValueError(f"takes {self._takes()}, like {self.example()}, not {shown_value(value)}") from None
        if isinstance(value, datetime.datetime) or not isinstance(value, datetime.date):
            raise ValueError(f"takes {self._takes()}, like {self.example()}, not {shown_value(value)}")
        return value.isoformat()

    def _read_tolerance(self, tol: object, number: float | bool | str) -> float:
        assert isinstance(number, float)
        if self.kind is not None:
            if not isinstance(tol, str):
                raise ValueError(f'tol takes a text like "3 %" or one in the field\'s unit, not {shown_value(tol)}')
            try:
                return read_tolerance(tol, self.kind, number)
            except UnitError as error:
                raise ValueError(f"tol: {error}") from None
        if isinstance(tol, str):
            half = read_tolerance(tol, KINDS["share"], 1.0)
            if not tol.strip().endswith("%"):
                raise ValueError(
                    f'tol of a pure number takes per cent, like "2 %", or a number, not {shown_value(tol)}'
                )
            return abs(number) * half
        if isinstance(tol, bool) or not isinstance(tol, int | float) or not 0 <= tol <= LARGEST:
            raise ValueError(f'tol of a pure number takes per cent, like "2 %", or a number, not {shown_value(tol)}')
        return float(tol)

    # -- words for people --------------------------------------------------------------------------------------
    @property
    def kind_name(self) -> str:
        """The name of the kind of quantity, empty for anything without a unit."""
        return self.kind.name if self.kind is not None else ""

    @property
    def may_be_zero(self) -> bool:
        """Whether the field accepts zero."""
        return self.zero or self.signed or self.kind_name in _ZERO_MAKES_SENSE

    @property
    def fewest_listed(self) -> int:
        """How many a list of such values has at least: there may be no signals or addresses, but not no ratios."""
        return 1 if self.type in ("measure", "number") else 0

    def _takes(self) -> str:
        if self.kind is not None:
            return f"{self.kind.words} with its unit"
        return {
            "number": "a number without a unit",
            "count": "a whole number",
            "flag": "true or false",
            "word": f"one of {', '.join(self.options)}",
            "text": "a text",
            "date": f"a date, year-month-day{', or one of ' if self.options else ''}{', '.join(self.options)}",
        }[self.type]

    def example(self, path: str = "") -> str:
        """An example of the field as it is written in TOML, in units of the system in force.

        `path` is the field's, where it is known: some inch-pound units hang on what the field is about.
        """
        if self.type == "measure":
            return f'"{self.typical_written(path)}"'
        if self.type in ("number", "count"):
            return number_text(self.typical)
        if self.type == "flag":
            return "true" if self.typical else "false"
        if self.type == "date":
            return str(self.typical)
        return f'"{self.typical}"'

    def typical_written(self, path: str = "") -> str:
        """The typical value of a measure as a spec states it, in units of the system in force."""
        if not SHOWING.inch_pound or isinstance(self.typical, str):
            return f"{number_text(self.typical)} {self.unit}"
        return written_as(float(self.typical_value()), self.kind_name, self.unit, path)

    def typical_value(self) -> float | bool | str:
        """The typical value, in SI."""
        if self.kind is not None:
            assert isinstance(self.typical, int | float | str)
            if isinstance(self.typical, str):
                return read(f"{self.typical} {self.unit}", self.kind)
            return from_unit(float(self.typical), self.unit, self.kind)
        if self.type in ("number", "count"):
            return float(self.typical)  # type: ignore[arg-type]
        return self.typical  # type: ignore[return-value]

    def __post_init__(self) -> None:
        """Keep the words of a pack to one line: they stand in comments of a draft, and on terminals."""
        for name in ("description", "where"):
            words = getattr(self, name)
            if isinstance(words, str) and not words.isprintable():
                object.__setattr__(self, name, on_one_line(words))

    @functools.cache  # noqa: B019 - a field's facts live as long as the program
    def plausible_si(self) -> tuple[float, float] | None:
        """The plausible range in SI, or as pure numbers."""
        return _plausible_si(self)

    # -- pydantic ----------------------------------------------------------------------------------------------
    def __get_pydantic_core_schema__(self, source: object, handler: object) -> core_schema.CoreSchema:
        """Tell pydantic to read the field with `read`."""
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: object, handler: object) -> dict[str, Any]:
        """A stand-in that the schema command fills in from these facts."""
        return {"facts": self}


@functools.lru_cache(maxsize=4096)
def _read_text(facts: FieldFacts, raw: str) -> Stated:
    """Specs inspected one after another, or that name the same data sheets, state the same texts."""
    return facts._read(raw)


@functools.lru_cache(maxsize=4096)
def _plausible_si(facts: FieldFacts) -> tuple[float, float] | None:
    if facts.plausible is None:
        return None
    low, high = facts.plausible
    if facts.kind is None:
        return low, high
    return from_unit(low, facts.unit, facts.kind), from_unit(high, facts.unit, facts.kind)


_ZERO_MAKES_SENSE = {"temperature", "temperature_difference", "share", "grade"}


def shown_value(value: object) -> str:
    """A value as TOML gave it, for a sentence: short, and without characters that could steer a terminal."""
    try:
        text = value if isinstance(value, str) else repr(value)
    except ValueError:  # an integer of thousands of digits
        return "an integer of thousands of digits"
    text = "".join(c if c.isprintable() else "�" for c in text[:80])
    text = text if len(text) <= 60 else f"{text[:57]}..."
    return f"'{text}'" if isinstance(value, str) else text


def number_text(value: object) -> str:
    """A number as a person writes it: no trailing zeros, no exponent for usual sizes.

    >>> number_text(4.0), number_text(0.35), number_text("2/0")
    ('4', '0.35', '2/0')
    """
    if isinstance(value, bool | str) or value is None:
        return str(value)
    return f"{value:.12g}"


def nearest(word: str, known: Sequence[str] | set[str], cutoff: float = 0.6) -> str | None:
    """The known word that looks most like `word`, or None where none is as near as `cutoff`, which is at most 1."""
    # Imported here: only a mistake needs it.
    import difflib

    found = difflib.get_close_matches(word[:80], sorted(known), n=1, cutoff=cutoff)
    if found:
        return found[0]
    squashed = re.sub(r"[-_\s]", "", word[:80].lower())
    for candidate in sorted(known):
        if re.sub(r"[-_\s]", "", candidate.lower()) == squashed:
            return candidate
    return None


# -- declaring fields -------------------------------------------------------------------------------------------
# `was` holds the names that a field or part had before in the same section: specs that use them are still read.
class FormerNames(NamedTuple):
    """The names that a field or part had before. Stands in the field's pydantic metadata."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhenEmpty:
    """What it means that a collection of parts is written empty. Stands in the field's pydantic metadata."""

    fine: str = ""
    """Why a build of this kind may have none; empty where nothing is said of it."""
    gap: bool = False
    """Whether every build has at least one."""
    grows: bool = False
    """Whether more are added as the job goes on, under names that nobody need know before."""


def on_one_line(words: str) -> str:
    """Words without line ends and other characters that steer a terminal or end a comment."""
    if not isinstance(words, str) or words.isprintable():
        return words
    return " ".join("".join(c if c.isprintable() else " " for c in words).split())


class ItemError(ValueError):
    """An item of a list that cannot be read."""

    def __init__(self, index: int, what: str) -> None:
        """`index` counts from 0; `what` is a sentence about the item."""
        super().__init__(f"item {index + 1}: {what}")
        self.index, self.what = index, what


class ListOf(NamedTuple):
    """The facts of each item of a list of plain values. Stands in the field's pydantic metadata."""

    item: FieldFacts

    def read(self, raw: object) -> list[Stated]:
        """Read a list as TOML gives it."""
        if not isinstance(raw, list):
            raise ValueError(f"takes a list, like [{self.item.example()}], not {shown_value(raw)}")
        if len(raw) < self.item.fewest_listed:
            raise ValueError(
                f"is an empty list; leave the field out where nothing is known, or list values, "
                f"like [{self.item.example()}]"
            )
        out = []
        for index, value in enumerate(raw):
            try:
                out.append(self.item.read(value))
            except ValueError as error:
                raise ItemError(index, str(error)) from None
        return out

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> core_schema.CoreSchema:
        """Tell pydantic to read the field with `read`."""
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: object, handler: object) -> dict[str, Any]:
        """A stand-in that the schema command fills in from the facts."""
        return {"facts": self.item, "list": True}


def facts_of(model: type[BaseModel], name: str) -> FieldFacts | ListOf | None:
    """The facts of a plain field, or of the items of a list of plain values; None for a part."""
    for entry in model.model_fields[name].metadata:
        if isinstance(entry, FieldFacts | ListOf):
            return entry
    return None
