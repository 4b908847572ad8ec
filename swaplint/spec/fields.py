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

from collections.abc import Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any, ClassVar, cast

from pydantic import BaseModel, ConfigDict, Field
from pydantic.fields import FieldInfo

from swaplint.spec.facts import (
    BASES,
    NO_LIMIT,
    NONE_TOO,
    FieldFacts,
    FieldType,
    FormerNames,
    ItemError,
    ListOf,
    Stated,
    WhenEmpty,
    facts_of,
    nearest,
    number_text,
    on_one_line,
    shown_value,
)
from swaplint.spec.where import (
    AIR_MEASURED,
    AUTHORITY,
    BRIEF_PLACES,
    CALLIPER,
    CLAMPED,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRAWING,
    DRIVELINE_SHEET,
    FUEL_SUPPLIER,
    LOOK,
    MANUAL,
    MARKING,
    METER,
    OF_A_PART,
    OWNER,
    PLATE,
    PROTRACTOR,
    QUOTE,
    RECORD,
    SCALES,
    TAPE,
    TITLE_PAGE,
    TRIAL,
    TURNS_COUNTED,
    TYPICAL,
    TYRE,
    WEIGHBRIDGE,
    WHOM,
    Nature,
    whom_for,
)
from swaplint.units import KINDS

__all__ = [
    "AIR_MEASURED",
    "AUTHORITY",
    "BASES",
    "BRIEF_PLACES",
    "CALLIPER",
    "CLAMPED",
    "COMPONENT_SHEET",
    "DATA_SHEET",
    "DECISION",
    "DRAWING",
    "DRIVELINE_SHEET",
    "FUEL_SUPPLIER",
    "LOOK",
    "MANUAL",
    "MARKING",
    "METER",
    "NONE_TOO",
    "NO_LIMIT",
    "OF_A_PART",
    "OWNER",
    "PLATE",
    "PROTRACTOR",
    "QUOTE",
    "RECORD",
    "SCALES",
    "TAPE",
    "TITLE_PAGE",
    "TRIAL",
    "TURNS_COUNTED",
    "TYPICAL",
    "TYRE",
    "WEIGHBRIDGE",
    "WHOM",
    "Document",
    "FieldFacts",
    "FieldType",
    "FormerNames",
    "ItemError",
    "ListOf",
    "Nature",
    "Part",
    "Section",
    "Stated",
    "WhenEmpty",
    "count",
    "counts",
    "day",
    "facts_of",
    "flag",
    "items",
    "measure",
    "nearest",
    "number",
    "number_text",
    "numbers",
    "part",
    "parts",
    "shown_value",
    "text",
    "whom_for",
    "word",
    "words",
]  # fmt: skip
"""What whoever declares a section needs, in one place: packs call it `swaplint.api.fields`."""


def _declared(description: str, was: Sequence[str], *facts: "FieldFacts | ListOf | WhenEmpty") -> Any:
    info: FieldInfo = cast(FieldInfo, Field(default=None, description=on_one_line(description)))
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
