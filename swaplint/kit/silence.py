"""Silence never passes: what a rule says while a fact is not stated, compared with what it says once it is.

A pass that rests on a fact which nobody stated, and which could turn it, is worth nothing to the person who reads it.
So each fact that a rule can do without is tried with values that a real vehicle could have, and each collection of
parts that it reads is emptied.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from swaplint.build.view import View
from swaplint.declare.rule import Edits, Rule
from swaplint.inspecting.outcomes import Outcome, Outcomes, matching
from swaplint.inspecting.running import Known, RuleBroke, run_again, run_rule, untouched
from swaplint.spec.differences import differences
from swaplint.spec.facts import FieldFacts, Stated, number_text
from swaplint.spec.fields import Part, Section
from swaplint.spec.paths import path_key
from swaplint.spec.shape import Member, members, pattern_at, standing_at
from swaplint.spec.toml_source import PathKey
from swaplint.units.output import in_unit_shown

QUIET = ("pass", "notApplicable", "informational")
"""What a rule says where it neither asks nor objects."""


Fact = tuple[str, str, Member]
"""A fact that a rule read: its path, its pattern, and what the model knows of it."""


@dataclass(frozen=True, slots=True)
class Case:
    """A spec on which a rule is tried: the sound one, or the sound one with the edits of an example."""

    view: View
    edits: Edits
    outcomes: Outcomes
    """What the rule leads to there."""
    own: list[Outcome]
    """Those of them about parts of which something is not just as on the sound spec."""
    sound: Case | None = None
    """The case of the sound spec; None where this is it."""
    tried: dict[str, Outcomes] = field(default_factory=dict)
    """What the rule leads to on the sound spec with one change, by that change in words."""

    @property
    def words(self) -> str:
        """Which spec it is, for a sentence."""
        return f"the sound spec with {dict(self.edits)!r}" if self.edits else "the sound spec"

    def following(self, rule: Rule, build: Section, edits: Edits) -> Case:
        """The case of another build, which keeps what reads the same there. Raises `RuleBroke`."""
        view = View.following(self.view, build, differences(self.view.build_model, build))
        outcomes = run_again(rule, view, self.outcomes)
        before = {id(outcome) for outcome in self.outcomes}
        # A demand that the edits leave alone may ask for what they change once something else is stated.
        other = {outcome.part for outcome in outcomes if id(outcome) not in before}
        return Case(view, edits, outcomes, [outcome for outcome in outcomes if outcome.part in other], self)

    def with_change(self, rule: Rule, view: View, before: Outcomes, change: str) -> Outcomes:
        """What the rule leads to on a view that changes this case, or this case as changed before.

        What the change does not touch is known from `before`, and what the edits of this case do not touch is known
        from the sound spec with the same change. Raises `RuleBroke`.
        """
        there = self.sound.tried.get(change) if self.sound is not None else None
        outcomes = self._known(view, before, there) or run_again(rule, view, before, self._holding(there))
        if self.sound is None:
            self.tried[change] = outcomes
        return outcomes

    def let_go(self) -> None:
        """Forget what was tried: all that is asked of a case afterwards is what its spec states."""
        (self.sound or self).tried.clear()

    def _holding(self, there: Outcomes | None) -> Known:
        """Of what the rule leads to on the sound spec with a change, what it leads to here as well."""
        return {} if there is None else untouched(there, self.view)

    def _known(self, view: View, before: Outcomes, there: Outcomes | None) -> Outcomes | None:
        """What the rule leads to on a view where all of that is known already; else None."""
        if not there or not there.told_apart or not before.told_apart:
            return None
        both = [(there, self._holding(there)), (before, untouched(before, view))]
        known = {**both[0][1], **both[1][1]}
        parts = next((dict.fromkeys(outcome.part for outcome in some) for some, held in both if held), None)
        if parts is None:
            return None
        out = Outcomes()
        for part in parts:
            # Which demands are made of a part counts among what is read for each of them.
            some = next((some for some, held in both if any(one == part for one, _ in held)), None)
            demands = [outcome.demand for outcome in some or () if outcome.part == part]
            if not demands or any((part, demand) not in known for demand in demands):
                return None
            out += [known[part, demand] for demand in demands]
        return out


@dataclass(frozen=True, slots=True)
class Silence:
    """A fact on whose absence a rule passes, though a value of it makes the rule fail."""

    pattern: str
    """The field, `*` for a part's name and `[]` for an item; `.fitted` for a part as a whole."""
    path: str
    case: Case
    value: str
    """The value that turns it, as `field = value`."""
    before: str
    """What the rule says while nobody states the fact; `nothing` where it does not even make that demand then."""
    where: str
    """The part and the demand that fail with the value."""
    rests_on: frozenset[str]
    """The fields that the rule reads while nobody states the fact."""
    quantities: frozenset[str]
    """The ids of the quantities that it uses then."""

    def rests_on_stated(self, pattern: str) -> bool:
        """Whether the rule read a field like this, of the same part, and the spec states it."""
        for path in self.rests_on:
            if pattern_at(type(self.case.view.build_model), path)[0].removesuffix("[]") == pattern:
                stated = standing_at(self.case.view.build_model, path) is not None
                if stated and path != self.path and _same_parts(self.path, path, self.pattern, pattern):
                    return True
        return False

    def __str__(self) -> str:
        """For the author."""
        return (
            f"{self.pattern}: on {self.case.words} it says {self.before} with {self.path} not stated, "
            f"and fail with {self.value} ({self.where})"
        )


def _same_parts(one: str, other: str, pattern: str, other_pattern: str) -> bool:
    """Whether two paths name the same parts as far as their patterns run alike."""
    pieces = zip(one.split("."), other.split("."), pattern.split("."), other_pattern.split("."), strict=False)
    for here, there, kind, other_kind in pieces:
        if kind != other_kind:
            break
        if here != there:
            return False
    return True


def case_of(rule: Rule, view: View, edits: Edits) -> Case:
    """The case of a rule on a view. Raises `RuleBroke`."""
    outcomes = run_rule(rule, view)
    return Case(view, edits, outcomes, outcomes)


# -- facts that are not stated --------------------------------------------------------------------------------------
def silences(rule: Rule, case: Case, known: Collection[str] = ()) -> Iterator[Silence]:
    """The facts on whose absence a rule passes in one case, though a value of them makes it fail.

    A part or collection is not named beside a field in it: its absence is the same silence. Of the patterns that are
    `known` no other is looked for, unless it must be told whether what holds it is one beside it.
    """
    told: set[str] = set()
    left: list[Fact] = []
    for fact in sorted(_facts_read(case), key=lambda fact: (fact[2].model is not None, -len(fact[0]))):
        path, pattern, _ = fact
        if pattern in known and path not in told:
            left.append(fact)
            continue
        inside = [one for one in left if one[0].startswith((f"{path}.", f"{path}["))]
        for one in (*inside, fact):
            found = _silence(rule, case, *one) if path not in told and one[0] not in told else None
            if found is not None:
                pieces = one[0].split(".")
                told.update(".".join(pieces[:cut]).split("[", 1)[0] for cut in range(1, len(pieces)))
                yield found


def _facts_read(case: Case) -> Iterator[Fact]:
    """All that a rule read or asked for: fields, lists, collections, and parts that may be fitted or not."""
    model = type(case.view.build_model)
    paths: dict[str, None] = {}
    for outcome in case.own:
        reads = outcome.reads
        for path in (*reads.fields, *reads.optional, *reads.unknown):
            path = path.removesuffix(".fitted")
            pieces = path.split(".")
            paths.update(dict.fromkeys(".".join(pieces[:cut]) for cut in range(1, len(pieces) + 1)))
    for path in paths:
        pattern, member = pattern_at(model, path)
        if member is None or path.endswith("]"):
            continue
        if member.role == "part" and member.model is not None and issubclass(member.model, Part):
            yield path, f"{pattern}.fitted", member
        elif member.role == "plain" or _is_collection(path, pattern, member):
            yield path, pattern.removesuffix(".*").removesuffix("[]"), member


def _is_collection(path: str, pattern: str, member: Member) -> bool:
    """Whether a path is that of a list or table, and not of a part that stands in it under a name."""
    return member.role in ("plain-list", "items") or (member.role == "parts" and not _alike(path, pattern))


def _alike(path: str, pattern: str) -> bool:
    return path.count(".") == pattern.count(".")


def _silence(rule: Rule, case: Case, path: str, pattern: str, member: Member) -> Silence | None:
    try:
        view = _without(case.view, path, member)
        silent = f"{path} not stated"
        quiet = case.with_change(rule, view, case.outcomes, silent) if view is not case.view else case.outcomes
    except RuleBroke:
        return None  # the check of missing fields says so
    if not any(outcome.verdict is not None and outcome.verdict.kind in QUIET for outcome in quiet):
        return None
    if any(_asks(outcome, path) for outcome in quiet):
        return None
    for value, other in _tries(case, view, path, member):
        try:
            # Each view changes the case, or the case without the fact: what its changes do not touch is known.
            before = quiet if other.unchanged is view else case.outcomes
            stated = case.with_change(rule, other, before, value) if other is not case.view else case.outcomes
        except RuleBroke:
            continue  # the check of absurd values says so
        turned = next((outcome for outcome in stated if _fails(outcome) and not _foreseen(outcome, quiet, path)), None)
        if turned is None:
            continue
        twin = matching(quiet, turned.part, turned.demand)
        rests_on = [twin] if twin is not None else quiet
        return Silence(
            pattern,
            path,
            case,
            value,
            "nothing" if twin is None or twin.verdict is None else twin.verdict.kind,
            " ".join(name for name in (turned.part, turned.demand) if name) or "the build",
            frozenset(field for outcome in rests_on for field in outcome.reads.fields),
            frozenset(id for outcome in rests_on for id in outcome.reads.quantities),
        )
    return None


def _without(view: View, path: str, member: Member) -> View:
    """The view without a fact; the view itself where that is not stated."""
    if standing_at(view.build_model, path) is None:
        return view
    return view.changed({path: None}) if member.role == "plain" else rebuilt(view, path, None)


def _tries(case: Case, without: View, path: str, member: Member) -> Iterator[tuple[str, View]]:
    """The case with values for the fact that a real vehicle could have, each with how a spec states it."""
    facts, view = member.facts, case.view
    if member.role == "plain" and facts is not None:
        for value in worth_trying(facts):
            yield f"{path} = {value.written}", _stating(view, path, value)
        return
    if member.role == "plain-list" and facts is not None:
        for value in worth_trying(facts):
            yield f"{path} = [{value.written}]", rebuilt(view, path, [value])
        if facts.fewest_listed == 0:
            yield f"{path} empty", rebuilt(view, path, [])
        return
    if member.role == "part":
        for fitted in (False, True):
            changes = {f"{path}.fitted": Stated(fitted)}
            yield f"{path}.fitted = {str(fitted).lower()}", without.changed(changes)
    else:
        yield f"{path} empty", rebuilt(view, path, {} if member.role == "parts" else [])
    # As stated, but for one field within.
    model = type(view.build_model)
    for inner in {read: None for outcome in case.outcomes for read in outcome.reads.fields}:
        if inner.startswith((f"{path}.", f"{path}[")):
            _, of_inner = pattern_at(model, inner)
            if of_inner is None or of_inner.role != "plain" or of_inner.facts is None or of_inner.name == "fitted":
                continue
            for value in worth_trying(of_inner.facts):
                yield f"{inner} = {value.written}", _stating(view, inner, value)


def _stating(view: View, path: str, value: Stated) -> View:
    """The view with a value of a field; the view itself where it states just that."""
    standing = standing_at(view.build_model, path)
    if isinstance(standing, Stated) and standing._replace(written="") == value._replace(written=""):
        return view
    return view.changed({path: value})


def worth_trying(facts: FieldFacts) -> list[Stated]:
    """Values of a field that a real vehicle could have: its choices, or the ends of its range and a typical value."""
    if facts.type == "flag":
        return [Stated(True, written="true"), Stated(False, written="false")]
    if facts.type == "word":
        return [Stated(option, written=option) for option in facts.options]
    if facts.type in ("text", "date"):
        return [Stated(facts.typical_value(), written=str(facts.typical))]
    numbers = dict.fromkeys((*(facts.plausible_si() or ()), float(facts.typical_value())))
    return [Stated(number, written=_written(number, facts)) for number in numbers]


def _written(number: float, facts: FieldFacts) -> str:
    shown = in_unit_shown(number, facts.kind_name, facts.unit) if facts.kind_name else number
    return f"{number_text(float(f'{shown:.6g}'))} {facts.unit}".strip()


def _fails(outcome: Outcome) -> bool:
    return outcome.verdict is not None and outcome.verdict.kind == "fail"


def _asks(outcome: Outcome, path: str) -> bool:
    """Whether an outcome is open and asks for the fact, for what holds it, or for something in it."""
    return outcome.verdict is None and any(_touches(path, missing) for missing in outcome.reads.unknown)


def _touches(path: str, other: str) -> bool:
    other = other.removesuffix(".fitted")
    return path == other or path.startswith((f"{other}.", f"{other}[")) or other.startswith((f"{path}.", f"{path}["))


def _foreseen(turned: Outcome, quiet: Sequence[Outcome], path: str) -> bool:
    """Whether the demand was no pass without the fact either, or a named practice or estimate stood in, or a person."""
    twin = matching(quiet, turned.part, turned.demand)
    if twin is not None:
        if twin.verdict is None or twin.verdict.kind not in QUIET:
            return True
        if twin.reads.practices.keys() - turned.reads.practices.keys():
            return True
        if any(_touches(path, estimated) for estimated in twin.reads.estimates):
            return True
    return any(
        outcome.part == turned.part
        and outcome.verdict is not None
        and outcome.verdict.kind == "review"
        and any(_touches(path, missing) for missing in (*outcome.reads.optional, *outcome.reads.unknown))
        for outcome in quiet
    )


# -- collections that are empty ----------------------------------------------------------------------------------------
def passes_when_emptied(rule: Rule, case: Case) -> Iterator[tuple[str, str, Member, list[str]]]:
    """The collections of parts that a rule reads, and that it has no question about once they are empty.

    Naming a practice that then stands in is a question too. Each with its pattern, what the model knows of it, and what
    the rule then says.
    """
    if not any(outcome.verdict is not None and outcome.verdict.kind != "notApplicable" for outcome in case.outcomes):
        return
    practices = {name for outcome in case.outcomes for name in outcome.reads.practices}
    for path, pattern, member in _facts_read(case):
        if member.role not in ("parts", "items") or not standing_at(case.view.build_model, path):
            continue
        try:
            empty = run_again(rule, rebuilt(case.view, path, {} if member.role == "parts" else []), case.outcomes)
        except RuleBroke:
            continue
        kinds = [outcome.verdict.kind if outcome.verdict is not None else "open" for outcome in empty]
        named = {name for outcome in empty for name in outcome.reads.practices} - practices
        if all(kind in QUIET for kind in kinds) and not named:
            yield path, pattern, member, sorted(set(kinds))


# -- builds with other parts -------------------------------------------------------------------------------------------
def rebuilt(view: View, path: str, new: Any) -> View:
    """A view of the same build with another list, table or part at a path, or with none."""
    build = _with(type(view.build_model), view.build_model, path_key(path), new)
    old = standing_at(view.build_model, path)
    below = [f"{path}[{number}]" for number in range(1, len(old) + 1)] if isinstance(old, list) else []
    return View.following(view, build, {path, f"{path}.fitted", *(f"{item}.fitted" for item in below)})


def _with(model: type[Section], node: Any, keys: PathKey, new: Any) -> Any:
    """A section, table or list with something else at a path below it; a section that is not there is made."""
    if not keys:
        return new
    key, rest = keys[0], keys[1:]
    if isinstance(node, Mapping):
        return {**node, key: _with(model, node.get(key), rest, new)}
    if isinstance(node, list) and isinstance(key, int):
        return [*node[:key], _with(model, node[key], rest, new), *node[key + 1 :]]
    here = node if node is not None else model.model_construct()
    member = members(model)[str(key)]
    return here.model_copy(update={member.name: _with(member.model or model, getattr(here, member.name), rest, new)})
