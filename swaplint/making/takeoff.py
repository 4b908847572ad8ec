"""The take-off: what to buy, cut and make for a build, each number with what it rests on.

Packs declare the rows, see `swaplint.declare.listings`. Each cell is asked by itself, so that a field which nobody
states leaves that cell open and no other. What a row's numbers rest on that may still change, an assumption, an
estimate, a common-practice fallback or a value that a failing rule would have changed, stands with the row, so that
nobody cuts by it unknowing.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from swaplint.build.nodes import Node, NoLimit, NotFitted, Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.listings import LISTS, Listing, Sheet, lists_on, wrong_with_cells
from swaplint.declare.quantities import Nonsense, subject_text
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem, code_place, first_line, raised_place
from swaplint.host.signs import stops
from swaplint.host.strangers import STRANGERS
from swaplint.host.watch import BadManners, TookTooLong, code_of, many_limits
from swaplint.inspecting.results import Finding, Inspection
from swaplint.inspecting.running import MOST_PARTS, RULE_SECONDS
from swaplint.solving.what_if import fields_like
from swaplint.spec.shape import pattern_at, standing_at
from swaplint.units.prose import told
from swaplint.units.value import Value

Why = Literal["assumed", "estimated", "fallback", "fails", "review"]
"""Why a row may still change: a stated value is assumed; a field that nobody states was estimated; a common-practice
fallback stands in; a rule fails that another choice would mend, or one of the level error leaves it to a person."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing that a row rests on and that may still change."""

    why: Why
    about: str
    """The field, the fallback by its name, or the rule."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What is known of one column of a row."""

    value: float | str | bool | tuple[str, ...] | None
    """Numbers in SI; None where nothing is stated, or not known."""
    kind: str = ""
    unit: str = ""
    source: str = ""
    """Of a number: the field that states it, or the quantity that it is."""
    unknown: tuple[str, ...] = ()
    """The fields that are not stated and that it hangs on."""
    why: str = ""
    """A sentence, where it is not for want of a field that there is no value."""


@dataclass(slots=True)
class Row:
    """One row of a list."""

    listing: Listing
    part: str
    """The part that it is about; empty for the build as a whole."""
    cells: dict[str, Cell]
    """Those that its pack gives, by column, in the order of the list."""
    doubts: tuple[Doubt, ...] = ()

    @property
    def unknown(self) -> tuple[str, ...]:
        """The fields that its cells lack."""
        return tuple(dict.fromkeys(path for cell in self.cells.values() for path in cell.unknown))


@dataclass(slots=True)
class Gap:
    """Rows that cannot be given at all: it is not known which parts there are."""

    listing: Listing
    unknown: tuple[str, ...] = ()
    why: str = ""


@dataclass(frozen=True, slots=True)
class Order:
    """What is bought together: rows of a list that are alike, with how much of it."""

    cells: tuple[tuple[str, Cell], ...]
    """The columns in which they agree, with what stands there."""
    amount: Cell
    """How much of it, as far as it is known."""
    parts: tuple[str, ...]
    """What each row is called."""
    not_known: tuple[str, ...]
    """Those of them of which it is not known how much."""
    doubts: tuple[Doubt, ...]

    @property
    def is_known(self) -> bool:
        """Whether anything is known of what is bought."""
        return any(cell.value is not None for _, cell in self.cells)


@dataclass(slots=True)
class TakeOff:
    """All rows of one build."""

    inspection: Inspection
    packs: Sequence[LoadedPack]
    rows: dict[str, list[Row]] = field(default_factory=dict)
    """By list, in the order of the sheet."""
    gaps: dict[str, list[Gap]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)


@many_limits()
def take_off(base: RuleBase, inspection: Inspection, sheet: Sheet = "take-off") -> TakeOff:
    """Take off what an inspected build needs, or what is handed over with it."""
    lists = lists_on(sheet)
    made = TakeOff(inspection, base.packs, {name: [] for name in lists}, {name: [] for name in lists})
    view, doubts = View(inspection.spec.build), _Doubts(inspection)
    for pack, one in base.listings:
        if one.list not in lists:
            continue
        try:
            with code_of(f"listing {one.id}", RULE_SECONDS):
                _add(made, one, view, doubts)
        except TookTooLong:
            what = f"ran longer than {RULE_SECONDS:g} s and was stopped"
            made.problems.append(_problem(pack, one, what, *code_place(one.function)))
        except (BadManners, Nonsense) as wrong:
            made.problems.append(_problem(pack, one, str(wrong), *code_place(one.function)))
        except BaseException as error:
            if stops(error):
                raise
            place = raised_place(error.__traceback__, one.function)
            made.problems.append(_problem(pack, one, f"raised {first_line(error)}", *place))
        finally:
            view.settle()
    return made


def _problem(pack: LoadedPack, one: Listing, what: str, file: str | None, line: int | None) -> Problem:
    return Problem(f"the listing {one.id} {what}; what it lists is missing", "rule", pack.name, one.id, file, line)


def _add(made: TakeOff, one: Listing, view: View, doubts: _Doubts) -> None:
    aside = STRANGERS.why_aside(f"listing {one.id}")
    if aside is not None:
        raise Nonsense(aside, one.function)
    parts: Any = [()]
    if one.each is not None:
        each, reads = one.each, Reads()
        parts = _asked(lambda: list(itertools.islice(each(view.build), MOST_PARTS + 1)), view, reads)
        if isinstance(parts, Cell):
            made.gaps[one.list].append(Gap(one, parts.unknown, parts.why))
            return
        if len(parts) > MOST_PARTS:
            raise Nonsense(f"lists more than {MOST_PARTS} parts", one.function)
    for part in parts:
        arguments = part if isinstance(part, tuple) else (part,)
        if not all(map(_has_a_name, arguments)):
            raise Nonsense("lists what has no name: a row is called by its part, a word or a number", one.function)
        row = _row(one, arguments, view, doubts)
        if isinstance(row, Gap):
            made.gaps[one.list].append(row)
        elif row is not None:
            made.rows[one.list].append(row)


def _has_a_name(argument: object) -> bool:
    """Whether an argument is called the same in every run: what has no words of its own is called by its address."""
    said: Any = type(argument).__str__
    return isinstance(argument, Node) or said is not object.__str__


def _row(one: Listing, arguments: tuple[Any, ...], view: View, doubts: _Doubts) -> Row | Gap | None:
    reads = Reads()
    cells = _asked(lambda: one.function(view.build, *arguments), view, reads)
    if isinstance(cells, Cell):
        # Of a part that is not fitted nothing is bought.
        return Gap(one, cells.unknown, cells.why) if cells.unknown else None
    if cells is None:
        return None
    wrong = wrong_with_cells(one, cells)
    if wrong:
        raise Nonsense(f"returned {wrong}", one.function)
    part = " ".join(subject_text(argument) for argument in arguments)
    asked = {column: _cell(one, cells[column], view, reads) for column in one.kind.columns if column in cells}
    return Row(one, part, asked, doubts.of(part, reads))


def _cell(one: Listing, cell: Any, view: View, all_reads: Reads) -> Cell:
    reads = Reads()
    value = _asked(cell, view, reads)
    all_reads.add(reads)
    if isinstance(value, Cell | None):
        return value or Cell(None)
    if isinstance(value, Value):
        return Cell(float(value), value.kind, value.unit, value.path)
    if isinstance(value, str | bool):
        return Cell(value)
    if isinstance(value, tuple) and all(isinstance(word, str) for word in value):
        return Cell(value)
    what = f"gave {value!r:.40} in a cell, which is no word and no number that a field or a quantity gives"
    raise Nonsense(what, one.function)


def _asked(question: Any, view: View, reads: Reads) -> Any:
    """What a question to the build leads to; a `Cell` without a value where it leads to none."""
    view.stack.append(reads)
    try:
        return question()
    except Unknown as unknown:
        return Cell(None, unknown=(unknown.path,))
    except NotFitted as missing:
        return Cell(None, why=f"{missing.path} is not fitted")
    except NoLimit as none:
        return Cell(None, why=f"its maker states no {none.path}")
    except (OutsideRange, ImpossibleInput) as error:
        return Cell(None, why=told(str(error)))
    finally:
        view.stack.pop()


# -- what may still change ---------------------------------------------------------------------------------------
class _Doubts:
    """What of a build may still change."""

    def __init__(self, inspection: Inspection) -> None:
        self.spec = inspection.spec
        self.about: dict[str, dict[Doubt, None]] = {}
        """What is not settled, by what it is about: a part, a field, or one that another choice of settles it."""
        for finding in inspection.findings:
            fails = finding.kind == "fail"
            if finding.suppression is None and (fails or (finding.kind == "review" and finding.rule_level == "error")):
                for path in self._changed_by(finding):
                    doubt = Doubt("fails" if fails else "review", finding.rule.id)
                    self.about.setdefault(path, {})[doubt] = None

    def _changed_by(self, finding: Finding) -> Iterator[str]:
        """The fields that whoever mends a fail may change, and the part that it is about."""
        if not isinstance(standing_at(self.spec.build, finding.subject), dict | list):
            yield finding.subject  # else all parts of a kind, which says nothing of one of them
        yield from (part for part in finding.part.split(" ") if "." in part or "[" in part)
        yield from (advised.field for advised in finding.advice)
        read = set(finding.inputs)
        for pattern in finding.rule.adjust:
            yield from (path for path in self._chosen(pattern, finding) if path in read)

    def _chosen(self, pattern: str, finding: Finding) -> tuple[str, ...]:
        """The fields that a rule says may be chosen, of the part that a finding points at where there are several."""
        if "[]" in pattern or "[*]" in pattern:
            alike, model = pattern.replace("[*]", "[]"), type(self.spec.build)
            return tuple(path for path in finding.inputs if pattern_at(model, path)[0] == alike)
        above = pattern.partition("*")[0]
        return fields_like(pattern, self.spec, finding.subject if finding.subject.startswith(above) else finding.part)

    def of(self, part: str, reads: Reads) -> tuple[Doubt, ...]:
        """What a row rests on that may still change."""
        found: list[Doubt] = []
        for path in reads.fields:
            stated = self.spec.stated(path)
            if stated is not None and stated.basis == "assumed":
                found.append(Doubt("assumed", path))
        found += [Doubt("estimated", path) for path in reads.estimates]
        found += [Doubt("fallback", name) for name in reads.practices]
        unsettled = (doubt for path in (*part.split(" "), *reads.fields) if path for doubt in self.about.get(path, ()))
        return (*found, *sorted(dict.fromkeys(unsettled), key=lambda doubt: doubt.why))


# -- what is bought together -------------------------------------------------------------------------------------
def orders(made: TakeOff, name: str) -> list[Order]:
    """The rows of a list as they are bought: those together that are alike, in the order in which they come first."""
    kind = LISTS[name]
    together: dict[tuple[Any, ...], list[Row]] = {}
    for row in made.rows[name] if kind.alike else ():
        key = tuple(_as_sold(row.cells.get(column)) for column in kind.alike)
        # A size that nobody knows is not the same as another that nobody knows.
        alone = (row.part,) if any(row.cells[c].unknown for c in kind.alike if c in row.cells) else ()
        together.setdefault((*key, *alone), []).append(row)
    return [_order(kind.ordered, kind.alike, rows) for rows in together.values()]


def _to_measure(cell: Cell) -> bool:
    """Whether an amount is there to be found out: a field that nobody states, or in words, for want of a field."""
    return bool(cell.unknown) or isinstance(cell.value, str)


def _as_sold(cell: Cell | None) -> Any:
    if cell is None:
        return None
    return float(f"{cell.value:.9g}") if isinstance(cell.value, float) else cell.value


def _order(column: str, alike: tuple[str, ...], rows: list[Row]) -> Order:
    first = next(iter(rows[0].listing.kind.columns))
    names = tuple(str(row.cells[first].value or row.part) for row in rows)
    cells = tuple((name, rows[0].cells[name]) for name in alike if name in rows[0].cells)
    doubts = tuple(dict.fromkeys(doubt for row in rows for doubt in row.doubts))
    if not column:
        return Order(cells, Cell(float(len(rows))), names, (), doubts)
    amounts = [row.cells.get(column) for row in rows]
    known = [cell for cell in amounts if cell is not None and isinstance(cell.value, float)]
    unknown = tuple(name for name, cell in zip(names, amounts, strict=True) if cell is not None and _to_measure(cell))
    if not known:
        return Order(cells, Cell(None), names, unknown, doubts)
    total = sum(cell.value for cell in known if isinstance(cell.value, float))
    return Order(cells, Cell(total, known[0].kind, known[0].unit), names, unknown, doubts)
