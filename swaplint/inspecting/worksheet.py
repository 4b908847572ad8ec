"""The worksheet of a build: every derived quantity, with what it is computed from.

Quantities are computed one by one, each within a time limit; what one does wrong costs only its own lines. A quantity
that another one uses comes before it, so that a person can redo the sheet from top to bottom.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from swaplint.build.nodes import NoLimit, NotFitted, Unknown
from swaplint.build.reading import path_of
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.practices import with_fallbacks
from swaplint.declare.quantities import Computed, Nonsense, Quantity, quantity_key, subject_text
from swaplint.declare.sources import Source
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem, first_line, raised_place
from swaplint.host.signs import stops
from swaplint.host.strangers import STRANGERS
from swaplint.host.watch import BadManners, TookTooLong, code_of
from swaplint.inspecting.running import RULE_SECONDS, RuleBroke, run_rule
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.spec.facts import nearest
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.systems import SYSTEMS
from swaplint.units.prose import told
from swaplint.units.value import Value

T = TypeVar("T")
MOST_NAMED = 5
"""How many quantities a sentence about something broken names."""


@dataclass(frozen=True, slots=True)
class Term:
    """A quantity that another one was computed from."""

    id: str
    subject: str
    value: float
    """In SI."""
    kind: str
    unit: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A computed quantity: of the build, or of one of its parts."""

    quantity: Quantity[Any]
    subject: str
    """The part's path, or several with spaces between them; empty for the build as a whole."""
    value: float
    """In SI."""
    inputs: tuple[str, ...]
    """The stated fields that the formula itself takes, in the order of reading."""
    terms: tuple[Term, ...]
    """The quantities that the formula takes."""
    practices: tuple[str, ...]
    """The common-practice fallbacks that the value rests on, by name."""
    sources: tuple[Source, ...]
    stands_in_for: str = ""
    """Of an estimate: the field that nobody states."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A quantity without a value: of the build, of one of its parts, or of parts of which none is known."""

    quantity: Quantity[Any]
    subject: str
    fields: tuple[str, ...] = ()
    """The fields that are not stated."""
    why: str = ""
    """A sentence, where it is not for want of a field."""


@dataclass(slots=True)
class Worksheet:
    """Every quantity of one spec, with a value or with the reason why it has none."""

    spec: LoadedSpec
    packs: Sequence[LoadedPack]
    entries: list[Entry] = field(default_factory=list)
    """By system, and in one system what is used before what uses it."""
    unknown: list[Gap] = field(default_factory=list)
    out_of_range: list[Gap] = field(default_factory=list)
    not_fitted: list[Gap] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    selection: Selection = EVERYTHING
    """What was asked for, where that is not all."""


def worksheet(
    base: RuleBase, spec: LoadedSpec, selection: Selection = EVERYTHING, ids: Collection[str] = ()
) -> Worksheet:
    """Compute every quantity of a spec, or those of some systems and those that some rules read.

    Or some, by their ids, with all that they are computed from.
    """
    return _Computing(base, spec, selection, ids).sheet


def quantity_ids(base: RuleBase, ids: Iterable[str]) -> list[str]:
    """The ids of quantities as a person writes them. Raises `ValueError` where one is none, with what may be meant."""
    known = {quantity.id for _, quantity in base.quantities}
    found = list(dict.fromkeys(ids))
    for id in found:
        if id in known:
            continue
        if base.find(id) is not None:
            raise ValueError(f"'{id}' is a rule, and no quantity: --rule {id} lists the quantities that it reads")
        if id in SYSTEMS:
            raise ValueError(f"'{id}' is a system, and no quantity: --system {id} lists its quantities")
        near = nearest(id, known)
        hint = f"did you mean '{near}'?" if near else "the worksheet without an id lists them"
        raise ValueError(f"no quantity is called '{id}'; {hint}")
    return found


class _Computing:
    """One pass over the quantities."""

    def __init__(self, base: RuleBase, spec: LoadedSpec, selection: Selection, ids: Collection[str]) -> None:
        self.sheet = Worksheet(spec, base.packs, selection=selection)
        self.view = View(spec.build)
        self.probe = View(spec.build, probing=True)
        self.listed = {quantity.id for _, quantity in base.quantities}
        self.broken: dict[tuple[str, str, str | None, int | None], list[str]] = {}
        self.alike: dict[Any, Any] = {}
        self.probed: dict[str, tuple[Reads, dict[str, list[tuple[Any, ...]]]]] = {}
        if ids:
            self._compute_with_all_beneath(base, ids)
        else:
            read = self._read_by(base, selection)
            for pack, quantity in base.quantities:
                if not selection or system_of(quantity.id) in selection.systems or quantity.id in read:
                    self._compute(pack, quantity)
        self._report_broken()
        self._sort()

    def _compute_with_all_beneath(self, base: RuleBase, ids: Collection[str]) -> None:
        """Compute some quantities, and those that they are computed from."""
        known = {quantity.id: (pack, quantity) for pack, quantity in base.quantities}
        waiting = list(ids)
        done: set[str] = set()
        while waiting:
            id = waiting.pop()
            if id in known and id not in done:
                done.add(id)
                self._compute(*known[id])
                waiting += [term.id for entry in self.sheet.entries if entry.quantity.id == id for term in entry.terms]

    def _read_by(self, base: RuleBase, selection: Selection) -> set[str]:
        """The quantities that the selected rules read, as the spec stands or would with typical values in its gaps."""
        read: set[str] = set()
        for pack, rule in base.rules:
            if rule.id not in selection.rules:
                continue
            for view in (self.view, self.probe):
                try:
                    outcomes = run_rule(rule, view)
                except RuleBroke as broke:
                    if view is self.view:
                        what = f"{broke.what}; the quantities that it reads are not all on the sheet"
                        self.sheet.problems.append(Problem(what, "rule", pack.name, rule.id, broke.file, broke.line))
                    continue
                read.update(key.split(" ", 1)[0] for outcome in outcomes for key in outcome.reads.quantities)
        return read

    # -- one quantity ------------------------------------------------------------------------------------------
    def _compute(self, pack: LoadedPack, quantity: Quantity[Any]) -> None:
        what = f"quantity {quantity.id}"
        aside = STRANGERS.why_aside(what)
        if aside is not None:
            self._broke(pack, quantity, "", aside)
            return
        try:
            with code_of(what, RULE_SECONDS):
                for arguments in self._subjects(pack, quantity):
                    if not self._stands_stated(quantity, arguments):
                        self._one(pack, quantity, arguments)
        except TookTooLong as error:
            self._broke(pack, quantity, "", f"ran longer than {RULE_SECONDS:g} s and was stopped", error)
        except BadManners as changed:
            self._broke(pack, quantity, "", str(changed))
        finally:
            self.view.stack.clear()
            self.probe.stack.clear()

    def _stands_stated(self, quantity: Quantity[Any], arguments: tuple[Any, ...]) -> bool:
        """Whether a quantity is an estimate of a field that the spec states."""
        field = estimated_field(quantity, arguments)
        return bool(field) and self.sheet.spec.stated(field) is not None

    def _subjects(self, pack: LoadedPack, quantity: Quantity[Any]) -> list[tuple[Any, ...]]:
        """The parts that it is computed for; where there is none, why not."""
        reads = Reads()
        self.view.stack.append(reads)
        try:
            subjects = quantity.subjects(self.view)
        except Unknown:
            self._lacks(quantity, "", reads)
        except (NotFitted, NoLimit) as missing:
            self._not_fitted(quantity, "", _missing_words(missing))
        except (OutsideRange, ImpossibleInput) as error:
            self.sheet.out_of_range.append(Gap(quantity, "", why=_beyond(error)))
        except TookTooLong:
            raise
        except BaseException as error:
            if stops(error):
                raise
            self._broke(pack, quantity, "", f"raised {first_line(error)}", error)
        else:
            if not subjects:
                self._not_fitted(quantity, "", "nothing in this build has it")
            return subjects
        finally:
            self.view.stack.pop()
        return []

    def _one(self, pack: LoadedPack, quantity: Quantity[Any], arguments: tuple[Any, ...]) -> None:
        subject = _subject(arguments)
        reads = Reads()
        self.view.stack.append(reads)
        try:
            value = quantity(self.view.build, *arguments)
        except Unknown:
            self._lacks(quantity, subject, reads)
        except (NotFitted, NoLimit) as missing:
            self._not_fitted(quantity, subject, _missing_words(missing))
        except (OutsideRange, ImpossibleInput) as error:
            self.sheet.out_of_range.append(Gap(quantity, subject, why=_beyond(error)))
        except TookTooLong:
            raise
        except Nonsense as error:
            self._broke(pack, quantity, subject, f"gave no number: {error}", error)
        except BaseException as error:
            if stops(error):
                raise
            self._broke(pack, quantity, subject, f"raised {first_line(error)}", error)
        else:
            self._enter(quantity, arguments, value, reads.uses[quantity_key(quantity.id, arguments)].reads)
        finally:
            self.view.stack.pop()

    def _enter(self, quantity: Quantity[Any], arguments: tuple[Any, ...], value: float, reads: Reads) -> None:
        # A part that is a number, such as a gear, is itself what the formula takes.
        fields = dict.fromkeys(path_of(a) for a in arguments if isinstance(a, Value))
        uses: dict[str, Computed] = {}
        self._collect(reads, fields, uses)
        practices = reads.practices.values()
        self.sheet.entries.append(
            Entry(
                quantity,
                _subject(arguments),
                float(value),
                self._once(self.sheet.spec.stated_fields(fields)),
                self._once(
                    tuple(self._once(_term(key, used.value)) for key, used in uses.items() if used.value is not None)
                ),
                tuple(practice.name for practice in practices),
                with_fallbacks(quantity.sources, practices),
                estimated_field(quantity, arguments),
            )
        )

    def _once(self, thing: T) -> T:
        """One for all that are alike: of many parts alike each may rest on all of the others."""
        alike: T = self.alike.setdefault(thing, thing)
        return alike

    def _collect(self, reads: Reads, fields: dict[str, None], uses: dict[str, Computed]) -> None:
        """What a formula takes: fields and quantities; what a quantity that no pack lists takes counts as its own."""
        fields.update(reads.own)
        for key, used in reads.uses.items():
            if key.split(" ", 1)[0] in self.listed:
                uses[key] = used
            else:
                self._collect(used.reads, fields, uses)

    # -- no value ----------------------------------------------------------------------------------------------
    def _lacks(self, quantity: Quantity[Any], subject: str, reads: Reads) -> None:
        """Note all fields that a quantity lacks: the first as met, the others by going on with typical values.

        Of an estimate nothing is noted: nobody need measure what it takes, and what rests on its field lacks that.
        """
        if quantity.stands_in_for:
            return
        again = Reads()
        self.probe.stack.append(again)
        try:
            for arguments in self._probed(quantity).get(subject, ()):
                quantity(self.probe.build, *arguments)
        except TookTooLong:
            raise
        except BaseException as error:
            if stops(error):
                raise
            # typical values need not fit together; the first missing field is known already
        finally:
            self.probe.stack.pop()
        self.sheet.unknown.append(Gap(quantity, subject, tuple({**reads.unknown, **again.unknown})))

    def _probed(self, quantity: Quantity[Any]) -> dict[str, list[tuple[Any, ...]]]:
        """The parts that a quantity is computed for with typical values, by name; what lists them counts as read."""
        known = self.probed.get(quantity.id)
        if known is None:
            reads, by_name = Reads(), dict[str, list[tuple[Any, ...]]]()
            self.probe.stack.append(reads)
            try:
                for arguments in quantity.subjects(self.probe):
                    by_name.setdefault(_subject(arguments), []).append(arguments)
            finally:
                self.probe.stack.pop()
                self.probe.reads().add(reads)
            known = self.probed[quantity.id] = reads, by_name
        else:
            self.probe.reads().add(known[0])
        return known[1]

    def _not_fitted(self, quantity: Quantity[Any], subject: str, why: str) -> None:
        """Note that the build has no part that a quantity is about: an estimate is then not wanted either."""
        if not quantity.stands_in_for:
            self.sheet.not_fitted.append(Gap(quantity, subject, why=why))

    def _broke(
        self, pack: LoadedPack, quantity: Quantity[Any], subject: str, what: str, error: BaseException | None = None
    ) -> None:
        """Note what broke. Quantities that break at one and the same place, in one that they use, are told together."""
        file, line = raised_place(None if error is None else error.__traceback__, quantity.function)
        name = f"{quantity.id} ({subject})" if subject else quantity.id
        self.broken.setdefault((pack.name, what, file, line), []).append(name)

    def _report_broken(self) -> None:
        for (pack, what, file, line), names in self.broken.items():
            more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
            quantities, them = ("quantities", "them") if len(names) > 1 else ("quantity", "it")
            says = (
                f"the {quantities} {', '.join(names[:MOST_NAMED])}{more} {what}; "
                f"the worksheet of {self.sheet.spec.label} is without {them}"
            )
            self.sheet.problems.append(Problem(says, "rule", pack, None, file, line))

    # -- the order of the sheet --------------------------------------------------------------------------------
    def _sort(self) -> None:
        """By system, and in one system what is used before what uses it; else by id, parts in the order of the spec."""
        entries: dict[str, list[Entry]] = {}
        for entry in self.sheet.entries:
            entries.setdefault(entry.quantity.id, []).append(entry)
        placed: dict[str, None] = {}

        def place(id: str, above: tuple[str, ...]) -> None:
            if id in placed or id in above:
                return
            used = {term.id for entry in entries[id] for term in entry.terms}
            for other in sorted(used & entries.keys()):
                if system_of(other) == system_of(id):
                    place(other, (*above, id))
            placed[id] = None

        for id in sorted(entries, key=_place_of_system):
            place(id, ())
        self.sheet.entries = [entry for id in placed for entry in entries[id]]
        for gaps in (self.sheet.unknown, self.sheet.out_of_range, self.sheet.not_fitted):
            gaps.sort(key=lambda gap: _place_of_system(gap.quantity.id))


def estimated_field(quantity: Quantity[Any], arguments: tuple[Any, ...]) -> str:
    """The field that a quantity estimates, in the part that it is about; empty for one that is no estimate."""
    name = quantity.stands_in_for.rpartition(".")[2]
    return f"{path_of(arguments[0])}.{name}" if quantity.stands_in_for and arguments else quantity.stands_in_for


def system_of(id: str) -> str:
    """The system that a quantity belongs to."""
    return id.split(".", 1)[0]


def _place_of_system(id: str) -> tuple[int, str]:
    system = system_of(id)
    return (SYSTEMS.index(system) if system in SYSTEMS else len(SYSTEMS), id)


def _subject(arguments: tuple[Any, ...]) -> str:
    return " ".join(subject_text(argument) for argument in arguments)


def _term(key: str, value: Value) -> Term:
    id, _, subject = key.partition(" ")
    return Term(id, subject, float(value), value.kind, value.unit)


def _missing_words(missing: NotFitted | NoLimit) -> str:
    return f"{missing.path} is not fitted" if isinstance(missing, NotFitted) else f"{missing.path} is none"


def _beyond(error: ValueError) -> str:
    if isinstance(error, OutsideRange):
        return f"the formula does not hold here: {told(str(error))}"
    return f"the stated values do not fit together: {told(str(error))}"
