"""Drafting a build spec: a file to fill in, with what the stage needs, or every field that chosen rules read.

Which fields those are is not declared anywhere: the rules are run, and what they read is noted. They are run on the
sound spec, on one that states everything at its typical value, and on two that state little or nothing, where they go
on with typical values. They are run again with every other word or yes-or-no that they asked for, because a rule
reads other fields for petrol than for diesel.
"""

from __future__ import annotations

import datetime
import functools
import re
import textwrap
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, cast

import tomli_w

from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.inspecting.results import due_passed
from swaplint.inspecting.running import RuleBroke, run_rule
from swaplint.kit.edits import edited_data, sound_text
from swaplint.spec.fields import FieldFacts, Part, Section, Stated
from swaplint.spec.job import Job, Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_text
from swaplint.spec.model import FORMAT
from swaplint.spec.paths import path_key
from swaplint.spec.schema import example_of
from swaplint.spec.shape import Member, facts_at, members
from swaplint.units.output import written_as
from swaplint.units.prose import told
from swaplint.units.showing import SHOWING

FUEL = "engine.fuel_type"
COMMENT_COLUMN = 46
LONGEST_LINE = 200
LONGEST_COMMENT = 120
"""Longer lines go on below: a comment that runs off the screen is not read."""
EXAMPLE_NAME = "example"
FIRST_SYSTEM = "gearing"
"""What is decided first: whether the engine suits gearbox, axles and tyres. All else is bought for that."""

_HEAD = """\
#:schema ./swaplint.schema.json
## A build spec to fill in, for the {stage} stage{whole}.
## Lines with one # are fields: put your value in the place of the example and delete the #. What you do not know,
## leave as it is: 'swaplint inspect' on this file says what to find out next. Lines with ## explain.
## A value is a number with its unit. One that is not certain is a table:
##   {{ value = "{mass}", tol = "3 %", basis = "assumed" }}     basis: assumed, catalogue, calculated or measured
## A part that the vehicle does not have says so: fitted = false. A part may take its values from a data sheet in
## this folder: gearbox.sheet = "my-box.gearbox.toml".
{marks}## 'swaplint schema --output swaplint.schema.json' writes the schema that the first line names: with it an editor
## completes, explains and checks the fields.
"""
_FIRST = ": what it takes to choose gearbox, axle ratio and tyres"
_MARKED = "## Fields marked [now] are those that a rule needs at {when}.\n"
_LEFT_OUT = (
    "## Here stands what {when} needs: 'swaplint draft NEW-FILE --system NAME' writes all fields of one system\n"
    "## of the job, 'swaplint draft NEW-FILE --whole' every field that there is.\n"
)
_SIZE = "## When they are stated, 'swaplint size THIS-FILE driveline.axles.NAME.ratio' says which axle ratios work.\n"


@dataclass(slots=True)
class Wanted:
    """The fields that rules read, as the model writes them: `*` for a part's name, `[]` for an item."""

    fields: set[str] = field(default_factory=set)
    now: set[str] = field(default_factory=set)
    """Those that a rule which is due cannot do without."""
    only_now: bool = False
    """Whether the other fields are left out."""

    def below(self, path: str) -> bool:
        """Whether any field at or below a path is wanted."""
        return any(f == path or f.startswith((f"{path}.", f"{path}[")) for f in self.fields)


def draft(
    base: RuleBase,
    *,
    stage: Stage = "plan",
    systems: Collection[str] = (),
    fuel: str | None = None,
    only_needed: bool = False,
) -> tuple[str, Wanted]:
    """A new spec as text, and the fields in it. Without `systems` it is for the rules of all of them."""
    rules = [rule for _, rule in base.rules if not systems or rule.system in systems]
    if only_needed:
        rules = _of_stage(rules, stage)
    return draft_of(base, rules, asked_by(base, rules, fuel), stage, fuel, only_needed=only_needed)


def draft_of(
    base: RuleBase,
    rules: Iterable[Rule],
    asked: Mapping[str, Asked],
    stage: Stage,
    fuel: str | None,
    *,
    only_needed: bool = False,
) -> tuple[str, Wanted]:
    """The same from what the rules are known to ask for.

    With `only_needed` it holds what the rules that are due cannot do without, and at the idea stage, where none is,
    what the first decision takes.
    """
    wanted = Wanted(only_now=only_needed)
    for rule in _of_stage(rules, stage) if only_needed else rules:
        of_rule = asked[rule.id]
        wanted.fields |= of_rule.needed | set(filter(_turns_it, of_rule.fields)) if only_needed else of_rule.fields
        if due_passed(_looked_ahead(stage), rule.due):
            wanted.now |= asked[rule.id].needed
    return _Writer(base.model, wanted, stage, fuel).text(), wanted


def _turns_it(path: str) -> bool:
    """Whether a rule's answer turns on a field that it can do without.

    Common practice stands in for what the engine maker would state and the owner wants, and nothing for a part that is
    not fitted.
    """
    return path.startswith(("engine.speed.", "build.design.")) or (path.endswith(".fitted") and "*" not in path)


def _looked_ahead(stage: Stage) -> Stage:
    """The stage whose answers a draft is for: no rule is due at the idea stage, so it looks to the next."""
    return "plan" if stage == "idea" else stage


def _of_stage(rules: Iterable[Rule], stage: Stage) -> list[Rule]:
    """The rules that are due, or at the idea stage those that the first decision hangs on."""
    due = [rule for rule in rules if due_passed(_looked_ahead(stage), rule.due)]
    first = [rule for rule in due if rule.system == FIRST_SYSTEM] if stage == "idea" else []
    return first or due


# -- which fields the rules read -------------------------------------------------------------------------------
@dataclass(slots=True)
class Asked:
    """The fields that one rule reads, as the model writes them, and those that it cannot do without."""

    fields: set[str] = field(default_factory=set)
    needed: set[str] = field(default_factory=set)


def asked_by(base: RuleBase, rules: Collection[Rule], fuel: str | None) -> dict[str, Asked]:
    """What rules read on specs of several shapes, by their ids."""
    asked = {rule.id: Asked() for rule in rules}
    stated_fuel: dict[str, Stated | None] = {FUEL: Stated(fuel)} if fuel else {}
    for spec, probing in _specs(base.model):
        view = View(spec.build, stated_fuel, probing=probing)
        for rule in rules:
            of_rule = asked[rule.id]
            for reads in _all_reads(base.model, rule, view):
                paths = (*reads.fields, *reads.unknown, *reads.optional)
                of_rule.fields.update(filter(None, (pattern(base.model, path) for path in paths)))
                of_rule.needed.update(filter(None, (pattern(base.model, path) for path in reads.unknown)))
    return asked


def _specs(model: type[Section]) -> Iterator[tuple[LoadedSpec, bool]]:
    """The specs to run rules on, and whether to go on with typical values where one states nothing."""
    yield load_text(sound_text(), model=model), False
    yield load_text(tomli_w.dumps(example_data(model)), model=model), False
    yield load_text(tomli_w.dumps(example_data(model, values=False)), model=model), True
    yield load_text("", model=model), True


MOST_ANSWERS = 8
"""Longest list of words that is tried through for what else a rule would read."""


def _all_reads(model: type[Section], rule: Rule, view: View) -> Iterator[Reads]:
    """What a rule reads on a spec, and on the same with each other answer to the words and flags that it asked for."""
    first = _reads(rule, view)
    yield first
    for path in first.fields:
        facts = facts_at(model, path)
        if facts is None or path in view.changes or len(facts.options) > MOST_ANSWERS:
            continue  # a long list of words names things; it is no question that rules turn on
        answers = facts.options if facts.type == "word" else (True, False) if facts.type == "flag" else ()
        for answer in answers:
            yield _reads(rule, view.changed({path: Stated(answer)}))


def _reads(rule: Rule, view: View) -> Reads:
    together = Reads()
    try:
        for outcome in run_rule(rule, view):
            together.add(outcome.reads)
    except RuleBroke:
        pass  # typical values need not fit together
    return together


@functools.lru_cache(maxsize=20_000)
def pattern(model: type[Section], path: str) -> str | None:
    """A field path as the model writes it; None for one that is no plain field or list of plain values.

    >>> from swaplint.spec.model import Build
    >>> pattern(Build, "driveline.axles.rear.ratio"), pattern(Build, "driveline.gearbox.ratios[2]")
    ('driveline.axles.*.ratio', 'driveline.gearbox.ratios')
    """
    shape: type[Section] | None = model
    out, role = "", ""
    for key in path_key(path):
        if role == "parts":
            out, role = f"{out}.*", "part"
        elif isinstance(key, int):
            out += "[]" if role == "items" else ""
        else:
            member = members(shape).get(key) if shape is not None else None
            if member is None:
                return None
            out = f"{out}.{key}" if out else key
            shape, role = member.model, member.role
    return out if role in ("plain", "plain-list") else None


# -- examples ----------------------------------------------------------------------------------------------------
def example_data(model: type[Section], *, values: bool = True, path: str = "") -> dict[str, Any]:
    """A spec that has every part and list once, with each field at its typical value, or with no other field stated."""
    out: dict[str, Any] = {}
    for name, member in members(model).items():
        here = f"{path}.{name}" if path else name
        if member.facts is not None:
            if member.role == "plain-list":
                out[name] = [example_value(member.facts)]
            elif values and not _names_a_file(model, name):
                out[name] = example_value(member.facts)
            continue
        below = example_data(cast(type[Section], member.model), values=values, path=here)
        if member.role == "parts":
            out[name] = {example_name(here): below}
        else:
            out[name] = [below] if member.role == "items" else below
    return out


def _names_a_file(model: type[Section], name: str) -> bool:
    """Whether a field names a file beside the spec: an example of it would be looked for."""
    return (name == "sheet" and issubclass(model, Part)) or (name == "base" and model is Job)


def example_value(facts: FieldFacts) -> Any:
    """The typical value of a field as TOML data."""
    example = example_of(facts)
    return datetime.date.fromisoformat(example) if facts.type == "date" else example


def _example(facts: FieldFacts, path: str) -> Any:
    """The typical value of a field as TOML data, in units of the system in force."""
    return facts.typical_written(path) if facts.type == "measure" else example_value(facts)


def example_name(path: str) -> str:
    """A name for a named part: the first that the sound spec has there, if it has one."""
    node: Any = _sound_data()
    for key in path.split("."):
        if not isinstance(node, dict):
            return EXAMPLE_NAME
        node = node.get(key)
    return next(iter(node), EXAMPLE_NAME) if isinstance(node, dict) else EXAMPLE_NAME


@functools.cache
def _sound_data() -> dict[str, Any]:
    return edited_data({})


def _curve(path: str, example: Mapping[str, Any]) -> list[dict[str, Any]]:
    """A curve by its first, middle and last point in the sound spec, with the keys of an example: one point is none.

    Empty for a list that is no curve of measured values, and in inch-pound units, in which it is not written.
    """
    node: Any = _sound_data()
    for key in path.split("."):
        node = node.get(key) if isinstance(node, dict) else None
    points = node if isinstance(node, list) and len(node) >= 3 and not SHOWING.inch_pound else []
    kept = [{key: points[n].get(key) for key in example} for n in (0, len(points) // 2, -1) if points]
    measured = all(isinstance(v, str) and re.match(r"-?[0-9]", v) for point in kept for v in point.values())
    return kept if measured else []


def inline(value: Any) -> str:
    """A value as TOML writes it within a line.

    >>> inline([{"speed": "1500 r/min", "steps": 3}])
    '[{ speed = "1500 r/min", steps = 3 }]'
    """
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {inline(child)}" for key, child in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(inline, value)) + "]"
    return tomli_w.dumps({"v": value}).removeprefix("v = ").rstrip("\n")


# -- writing -----------------------------------------------------------------------------------------------------
class _Writer:
    """Writes the spec, section by section.

    Everything below a section that is not in a named part is written with dotted keys, so that each line can be
    uncommented by itself; the tables of named parts stand after them.
    """

    def __init__(self, model: type[Section], wanted: Wanted, stage: Stage, fuel: str | None) -> None:
        self.model, self.wanted, self.stage = model, wanted, stage
        self.stated: dict[str, Any] = {"build.format": FORMAT, "build.stage": stage}
        if fuel:
            self.stated[FUEL] = fuel
        if SHOWING.inch_pound:
            self.stated["build.units"] = SHOWING.system
        self.always = {*self.stated, "build.name"}
        self.lines: list[str] = []

    def text(self) -> str:
        """The whole file."""
        for name, member in members(self.model).items():
            if member.facts is not None or not (
                self.wanted.below(name) or any(a.startswith(f"{name}.") for a in self.always)
            ):
                continue
            if member.role == "part":
                self.lines.append("")
                self._say(f"## {member.description}")
                self.lines.append(f"[{name}]")
                self._section(cast(type[Section], member.model), name, "", name)
            else:
                self._table(member, name, name)
        return self._head() + "\n".join(self.lines) + "\n"

    def _head(self) -> str:
        when = "the plan stage, which is next" if self.stage == "idea" else "this stage"
        first = self.wanted.only_now and self.stage == "idea"
        if self.wanted.only_now:
            marks = (_SIZE if first else "") + _LEFT_OUT.format(when="the first decision" if first else when)
        else:
            marks = _MARKED.format(when=when) if self.wanted.now else ""
        mass = written_as(1810.0, "mass", "kg")
        return _HEAD.format(stage=self.stage, whole=_FIRST if first else "", mass=mass, marks=marks)

    def _section(self, model: type[Section], path: str, key: str, table: str) -> None:
        """The fields below a table: those with dotted keys, then the tables of named parts."""
        later: list[tuple[Member, str, str]] = []
        self._dotted(model, path, key, table, later)
        for member, at, header in later:
            self._table(member, at, header)

    def _dotted(
        self, model: type[Section], path: str, key: str, table: str, later: list[tuple[Member, str, str]]
    ) -> None:
        for name, member in members(model).items():
            here, dotted = f"{path}.{name}", f"{key}{name}"
            if member.facts is not None:
                if here in self.wanted.fields or here in self.always:
                    self._field(member, here, dotted)
            elif not self.wanted.below(here):
                continue
            elif member.role == "part":
                assert member.model is not None
                if not self.wanted.only_now:
                    self._say(f"## {dotted}: {member.description}")
                said = f"{here}.fitted" in self.wanted.fields or self.wanted.only_now
                if issubclass(member.model, Part) and not said:
                    self._field(members(member.model)["fitted"], f"{here}.fitted", f"{dotted}.fitted")
                self._dotted(member.model, here, f"{dotted}.", table, later)
            elif member.role == "parts":
                later.append((member, here, f"{table}.{dotted}"))
            else:
                self._items(member, here, dotted)

    def _field(self, member: Member, path: str, key: str) -> None:
        assert member.facts is not None
        facts = member.facts
        example = _example(facts, path)
        value = self.stated.get(path, [example] if member.role == "plain-list" else example)
        line = f"{'' if path in self.stated else '# '}{key} = {inline(value)}".ljust(COMMENT_COLUMN) + "  # "
        about, *rest = textwrap.wrap(self._about(facts, path), LONGEST_LINE - len(line), break_on_hyphens=False)
        self.lines += [line + about, *("##".ljust(len(line)) + more for more in rest)]

    def _about(self, facts: FieldFacts, path: str) -> str:
        marked = path in self.wanted.now and not self.wanted.only_now
        pieces = ["[now] " if marked else "", told(facts.description, path)]
        if facts.type == "word" and not all(option in facts.description for option in facts.options):
            pieces.append("; " + ", ".join(facts.options[:-1]) + f" or {facts.options[-1]}")
        if facts.where:
            pieces.append(f" ({facts.where})")
        return "".join(pieces)

    def _items(self, member: Member, path: str, key: str) -> None:
        """A list of parts without names, in one line, its fields explained above."""
        self._say(f"## {key}: {member.description}; a list, each entry with")
        example = self._item(cast(type[Section], member.model), f"{path}[]", "")
        # In one line, however long: what is uncommented line by line must be TOML at each step.
        self.lines.append(f"# {key} = {inline(_curve(path, example) or [example])}")

    def _say(self, text: str) -> None:
        """A comment, on as many lines as it takes; those after the first begin further in."""
        inside = len(text) - len(text[2:].lstrip(" "))
        further = "##".ljust(inside + 2)
        self.lines += textwrap.wrap(text, LONGEST_COMMENT, subsequent_indent=further, break_on_hyphens=False)

    def _item(self, model: type[Section], path: str, key: str) -> dict[str, Any]:
        out: dict[str, Any] = {}
        for name, member in members(model).items():
            here, dotted = f"{path}.{name}", f"{key}{name}"
            if member.facts is not None and here in self.wanted.fields:
                example = _example(member.facts, here)
                out[name] = [example] if member.role == "plain-list" else example
                self._say(f"##   {dotted}: {self._about(member.facts, here)}")
            elif member.model is not None and self.wanted.below(here):
                mark = {"parts": ".*", "items": "[]"}.get(member.role, "")
                below = self._item(member.model, here + mark, f"{dotted}.")
                out[name] = {EXAMPLE_NAME: below} if member.role == "parts" else [below] if mark else below
        return out

    def _table(self, member: Member, path: str, header: str) -> None:
        """An example of a named part, or of an item at the top of the spec, as a table."""
        model = cast(type[Section], member.model)
        if member.role == "parts":
            name = example_name(path)
            self.lines.append("")
            self._say(f"## {member.description}. One such block for each, with a name of its own:")
            self.lines.append(f"# [{header}.{name}]")
            self._section(model, f"{path}.*", "", f"{header}.{name}")
        else:
            self.lines.append("")
            self._say(f"## {member.description}. One such block for each:")
            self.lines.append(f"# [[{header}]]")
            self._section(model, f"{path}[]", "", header)
