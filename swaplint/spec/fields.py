"""How a field of the build spec is declared.

A field is declared once, in a `Section` model, with all that anything else needs to know of it: what it means, the
kind of quantity and the unit that the trade uses for it, a typical value, the range that a real vehicle could have,
and where its value is normally found. The loader, the schema, the rulebook, `draft`, the plausibility check and the
random tests all read it from here.

    class FuelLine(Section):
        '''One run of fuel line.'''

        bore: float = measure(
            "inside diameter of the line", "length", "mm", typical=8, plausible=(4, 25), where=TAPE, series=HOSE_BORES
        )

A rule reads `build.plumbing.fuel.supply.bore` and gets metres. No field is required: what a spec does not say is
unknown, which is an answer.

This module does without postponed annotations, for the reason given in `swaplint.spec.systems`: pydantic would compile
the text of those in `Section` for each of its hundreds of sections.
"""

import datetime
import functools
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any, ClassVar, Literal, NamedTuple, cast

from pydantic import BaseModel, ConfigDict, Field
from pydantic.fields import FieldInfo
from pydantic_core import core_schema

from swaplint.units import KINDS, LARGEST, SMALLEST, Kind, UnitError, from_unit, read, read_tolerance
from swaplint.units.output import written_as
from swaplint.units.showing import SHOWING

BASES = ("assumed", "catalogue", "calculated", "measured")
"""The basis of a value, weakest first."""

# Where the value of a field is normally found: said when the field is unknown. What is owed is listed by these places,
# so that one walk, one call or one document answers all of a place. What nobody states for an old vehicle is estimated;
# the description of the field then says from what.
DATA_SHEET = "the engine package's data sheet"
DRIVELINE_SHEET = "the gearbox, transfer or axle maker's sheet or tag"
COMPONENT_SHEET = "the component's own data sheet"
TURNS_COUNTED = "a maker's sheet or tag, or counted turns"
CLAMPED = "the component's own data sheet, or a clamp meter"
TITLE_PAGE = "the title page of the data sheet"
MANUAL = "the vehicle maker's workshop manual"
PLATE = "the vehicle's plate or registration papers"
MARKING = "the marking on the part itself"
TYRE = "the tyre's sidewall and its maker's load table"
LOOK = "a look at the vehicle"
TAPE = "a tape measure on the vehicle"
CALLIPER = "a calliper or micrometer on the part"
PROTRACTOR = "an inclinometer or protractor on the vehicle"
METER = "a multimeter, clamp or thermocouple on the vehicle"
WEIGHBRIDGE = "a weighbridge, axle by axle"
SCALES = "a scale under the part"
TRIAL = "a trial of the running vehicle"
OWNER = "the owner, or whoever will drive it"
DRAWING = "the drawing or layout of the swap"
DECISION = "the shop's own decision for the build"
RECORD = "the shop's own record of the job"
QUOTE = "the supplier's quote"
AUTHORITY = "the authority or a licensed engineer"
TYPICAL = "a table of typical values"
FUEL_SUPPLIER = "the fuel supplier's specification of the grade"
AIR_MEASURED = "an estimate from the fan's curve or size, or an anemometer"

BRIEF_PLACES = {
    DATA_SHEET: "data sheet",
    DRIVELINE_SHEET: "maker's sheet or tag",
    COMPONENT_SHEET: "its data sheet",
    TURNS_COUNTED: "tag, or turns counted",
    CLAMPED: "data sheet or clamp meter",
    TITLE_PAGE: "title page",
    MARKING: "marking",
    MANUAL: "workshop manual",
    PLATE: "plate or papers",
    TYRE: "sidewall, load table",
    LOOK: "look",
    TAPE: "tape measure",
    CALLIPER: "calliper",
    PROTRACTOR: "inclinometer",
    METER: "meter",
    WEIGHBRIDGE: "weighbridge",
    OWNER: "owner",
    DRAWING: "drawing",
    DECISION: "own decision",
    RECORD: "own record",
    TYPICAL: "typical values",
}
"""The same places where there is little room."""

WHOM = (
    "engine-supplier",
    "part-maker",
    "vehicle-maker",
    "owner",
    "authority",
    "quote-supplier",
    "fuel-supplier",
    "ourselves",
)
"""Whom to ask for what is not known; ourselves where it is measured, looked at or decided."""
_WHOM = {
    DATA_SHEET: "engine-supplier",
    TITLE_PAGE: "engine-supplier",
    DRIVELINE_SHEET: "part-maker",
    COMPONENT_SHEET: "part-maker",
    MANUAL: "vehicle-maker",
    PLATE: "owner",
    OWNER: "owner",
    QUOTE: "quote-supplier",
    AUTHORITY: "authority",
    FUEL_SUPPLIER: "fuel-supplier",
} | dict.fromkeys(
    (
        TURNS_COUNTED, CLAMPED, MARKING, TYRE, LOOK, TAPE, CALLIPER, PROTRACTOR, METER, WEIGHBRIDGE, SCALES, TRIAL,
        DRAWING, DECISION, RECORD, TYPICAL, AIR_MEASURED,
    ),
    "ourselves",
)  # fmt: skip


def whom_for(where: str) -> str | None:
    """Whom to ask for what is found in a place; None for a pack's own phrase.

    >>> whom_for(DATA_SHEET), whom_for(TAPE), whom_for("a crystal ball")
    ('engine-supplier', 'ourselves', None)
    """
    return _WHOM.get(where)


Nature = Literal["choice", "setting", "measured", "wish", "plate"]
"""What settles a field: the builder chooses it, as a part, a size or a place; he sets it on a part that stays; it is
measured and follows from what is built; it is what the owner wants; or an authority says so. A remedy changes nothing
but choices and settings."""
_NATURES: dict[str, Nature] = {
    PLATE: "plate",
    AUTHORITY: "plate",
    OWNER: "wish",
    METER: "measured",
    WEIGHBRIDGE: "measured",
    SCALES: "measured",
    TRIAL: "measured",
    TYPICAL: "measured",
}
"""What settles a field that does not say so itself, by where its value is normally found; else the builder chooses."""

OF_A_PART = (COMPONENT_SHEET, DRIVELINE_SHEET, TURNS_COUNTED, MARKING, TYRE, CALLIPER)
"""Where it is found what a part was made as."""

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
        return self.settled or _NATURES.get(self.where, "choice")

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
                object.__setattr__(self, name, _on_one_line(words))

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


def _on_one_line(words: str) -> str:
    """Words without line ends and other characters that steer a terminal or end a comment."""
    if not isinstance(words, str) or words.isprintable():
        return words
    return " ".join("".join(c if c.isprintable() else " " for c in words).split())


def _declared(description: str, was: Sequence[str], *facts: "FieldFacts | ListOf | WhenEmpty") -> Any:
    info: FieldInfo = cast(FieldInfo, Field(default=None, description=_on_one_line(description)))
    info.metadata.extend(facts)
    if was:
        info.metadata.append(FormerNames(tuple(was)))
    return info


def _field(facts: FieldFacts, was: Sequence[str]) -> Any:
    return _declared(facts.description, was, facts)


def measure(
    description: str,
    kind: str,
    unit: str,
    *,
    typical: float | str,
    plausible: tuple[float, float] | None,
    where: str,
    series: Sequence[float | str] = (),
    signed: bool = False,
    zero: bool = False,
    choices: str = "",
    settled: Nature | None = None,
    limit: bool = False,
    bare: bool = False,
    was: Sequence[str] = (),
) -> Any:
    """Declare a field with a unit. `kind` names a kind of quantity in `swaplint.units`, `unit` the trade's unit for it.

    `typical` and `plausible` are in `unit`. `signed` allows negative values, `zero` allows zero.
    `series` holds the standard sizes; `choices` names the field that lists what the builder can get. `settled` says
    whether the builder chooses it, where `where` does not tell. `limit` says that it is a limit which a maker sets: a
    sheet may then say "none" of it, that its maker states no such limit. `bare` goes on taking numbers without a unit,
    in a field that had none once.
    """
    if kind not in KINDS:
        near = nearest(str(kind), sorted(KINDS))
        meant = f"did you mean {near!r}?" if near else f"known: {', '.join(sorted(KINDS))}"
        raise ValueError(f"{description!r:.60}: {kind!r:.40} is not a kind of value; {meant}")
    facts = FieldFacts(
        "measure",
        description,
        KINDS[kind],
        unit,
        typical,
        plausible,
        where,
        tuple(series),
        (),
        signed,
        zero,
        choices,
        settled,
        limit=limit,
        bare=bare,
    )
    return _field(facts, was)


def number(
    description: str,
    *,
    typical: float,
    plausible: tuple[float, float] | None,
    where: str,
    series: Sequence[float] = (),
    signed: bool = False,
    zero: bool = False,
    choices: str = "",
    goes_with: Sequence[str] = (),
    limit: bool = False,
    was: Sequence[str] = (),
) -> Any:
    """Declare a pure number: a ratio, a coefficient.

    `goes_with` names fields of the same part that are of what is chosen, as the teeth are of a ratio. `limit` as for
    `measure`.
    """
    facts = FieldFacts(
        "number",
        description,
        None,
        "",
        typical,
        plausible,
        where,
        tuple(series),
        (),
        signed,
        zero,
        choices,
        goes_with=tuple(goes_with),
        limit=limit,
    )
    return _field(facts, was)


def count(
    description: str,
    *,
    typical: int,
    plausible: tuple[float, float] | None,
    where: str,
    series: Sequence[int] = (),
    zero: bool = False,
    was: Sequence[str] = (),
) -> Any:
    """Declare a whole number of things."""
    facts = FieldFacts("count", description, None, "", typical, plausible, where, tuple(series), (), False, zero)
    return _field(facts, was)


def flag(description: str, *, typical: bool, where: str, was: Sequence[str] = ()) -> Any:
    """Declare a yes or no."""
    return _field(FieldFacts("flag", description, typical=typical, where=where), was)


def word(description: str, *options: str, typical: str, where: str, was: Sequence[str] = ()) -> Any:
    """Declare a word out of a few."""
    return _field(FieldFacts("word", description, typical=typical, where=where, options=options), was)


def text(description: str, *, typical: str, where: str, was: Sequence[str] = ()) -> Any:
    """Declare a free text: a name, a note."""
    return _field(FieldFacts("text", description, typical=typical, where=where), was)


def day(description: str, *options: str, typical: str, where: str, was: Sequence[str] = ()) -> Any:
    """Declare a date, or a word out of a few in its place: until a day, or until a stage of the job."""
    return _field(FieldFacts("date", description, typical=typical, where=where, options=options), was)


def part(description: str, *, was: Sequence[str] = ()) -> Any:
    """Declare a part that has fields of its own: a table."""
    return _declared(description, was)


def parts(
    description: str, *, may_be_empty: str = "", needed: bool = False, grows: bool = False, was: Sequence[str] = ()
) -> Any:
    """Declare any number of alike parts, each under a name of its own: a table of tables.

    `[electrics.cables.starter]` is the part `starter` of `electrics.cables`. `may_be_empty` says why a build may have
    none of them, so that rules may pass on that. With `needed` every build has at least one: written empty, the table
    is as unknown as one that is not stated, and a rule that reads it asks for it. One that `grows` takes a new name in
    an answer although it has others.
    """
    return _declared(description, was, *_when_empty(may_be_empty, needed, grows))


def items(description: str, *, may_be_empty: str = "", needed: bool = False, was: Sequence[str] = ()) -> Any:
    """Declare a list of parts without names: the points of a curve, the lines of a quote. See `parts`."""
    return _declared(description, was, *_when_empty(may_be_empty, needed))


def _when_empty(may_be_empty: str, needed: bool, grows: bool = False) -> tuple[WhenEmpty, ...]:
    if may_be_empty and needed:
        raise ValueError("a collection that every build needs may not be empty")
    return (WhenEmpty(may_be_empty, needed, grows),) if may_be_empty or needed or grows else ()


def numbers(
    description: str,
    *,
    typical: Sequence[float],
    plausible: tuple[float, float] | None,
    where: str,
    was: Sequence[str] = (),
) -> Any:
    """Declare a list of pure numbers: the ratios of a gearbox."""
    return _list_field(FieldFacts("number", description, None, "", typical[0], plausible, where), was)


def words(description: str, *options: str, typical: str, where: str, was: Sequence[str] = ()) -> Any:
    """Declare a list of words: free ones, or out of `options`."""
    facts = FieldFacts("word" if options else "text", description, typical=typical, where=where, options=options)
    return _list_field(facts, was)


def counts(
    description: str,
    *,
    typical: int,
    plausible: tuple[float, float] | None,
    where: str,
    was: Sequence[str] = (),
) -> Any:
    """Declare a list of whole numbers: the parameter numbers that a gauge needs."""
    return _list_field(FieldFacts("count", description, None, "", typical, plausible, where, zero=True), was)


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


def _list_field(facts: FieldFacts, was: Sequence[str]) -> Any:
    return _declared(facts.description, was, ListOf(facts))


class Section(BaseModel):
    """A table of the build spec. Every field may be absent: what is not stated is unknown."""

    model_config = ConfigDict(extra="forbid", defer_build=True, frozen=True, protected_namespaces=())

    estimates: ClassVar[Mapping[str, Any]] = MappingProxyType({})
    """Of the whole build spec: the quantities that stand in for fields not stated, by path, `*` for a part's name."""
    sheet_folders: ClassVar[Mapping[str, Path]] = MappingProxyType({})
    """Of the whole build spec: the folders of data sheets that rule packs bring, by how a report names each."""

    def __hash__(self) -> int:
        """By its values: for all sections alike, where pydantic would make a function for each."""
        return hash(tuple(self.__dict__.values()))


class Document(Section):
    """The document that a data sheet is written from: cited wherever a limit of the sheet is used."""

    title: str = text("title of the document", typical="Example engine, installation data", where=TITLE_PAGE)
    revision: str = text("its revision", typical="3", where=TITLE_PAGE)
    date: str = day("its date", typical="2026-01-31", where=TITLE_PAGE)
    issued_by: str = text("who issued it", typical="invented example maker", where=TITLE_PAGE)
    invented: bool = flag("true where the data are made up for an example", typical=True, where=TITLE_PAGE)


class Part(Section):
    """A part of the vehicle, which may be stated as not fitted and may have a data sheet of its own."""

    fitted: bool = flag("whether the vehicle has this part; false where it has none", typical=True, where=LOOK)
    sheet: str = text(
        "file name of the data sheet that fills in what the spec leaves out",
        typical="example.sheet.toml",
        where=RECORD,
    )
    document: Document = part("the document behind the data sheet")
    model: str = text("what the part is called", typical="invented example part", where=MARKING)
    note: str = text("a remark for people; no rule reads it", typical="seen on the bench", where=RECORD)


def facts_of(model: type[BaseModel], name: str) -> FieldFacts | ListOf | None:
    """The facts of a plain field, or of the items of a list of plain values; None for a part."""
    for entry in model.model_fields[name].metadata:
        if isinstance(entry, FieldFacts | ListOf):
            return entry
    return None
