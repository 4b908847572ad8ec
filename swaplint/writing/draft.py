"""Drafting a build spec: a file to fill in, with what the stage needs, or every field that chosen rules read.

Which fields those are `swaplint.writing.asked` finds out by running the rules.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.inspecting.results import due_passed
from swaplint.spec.editing.commented import answered
from swaplint.spec.facts import NO_LIMIT, FieldFacts
from swaplint.spec.fields import Part, Section
from swaplint.spec.job import Stage
from swaplint.spec.model import FORMAT
from swaplint.spec.paths import path_key
from swaplint.spec.schema import sheet_kinds
from swaplint.spec.shape import Member, every_field, members
from swaplint.spec.sheet_files import tables_of
from swaplint.spec.where import BRIEF_PLACES
from swaplint.units.output import written_as
from swaplint.units.prose import told
from swaplint.units.showing import SHOWING
from swaplint.writing.asked import Asked, asked_by, pattern
from swaplint.writing.examples import EXAMPLE_NAME, curve_example, example_name, example_shown, inline
from swaplint.writing.profile import NOTHING_KNOWN, Profile

COMMENT_COLUMN = 40
LONGEST_LINE = 120
"""Longer lines go on below: what runs off the screen is not read."""
NARROWEST_COMMENT = 40
"""A comment that would get less room than this beside its field stands above it."""
FIRST_SYSTEM = "gearing"
"""What is decided first: whether the engine suits gearbox, axles and tyres. All else is bought for that."""

_HEAD = """\
#:schema ./swaplint.schema.json
## A build spec to fill in, for the {stage} stage{whole}.
## 'swaplint fill THIS-FILE' asks for the fields, what most hangs on first. By hand: lines with one # are fields; put
## your value in the place of the example and delete the #. What is not known stays as it is. A value has its unit;
## one that is not certain: {{ value = "{mass}", tol = "3 %", basis = "assumed" }} (or catalogue, calculated, measured).
## A part that is not there: fitted = false. One with a data sheet: gearbox.sheet = "my-box.gearbox.toml".
{marks}"""
_FIRST = ": what it takes to choose gearbox, axle ratio and tyres"
_MARKED = "## Fields marked [now] are those that a rule needs at {when}.\n"
_LEFT_OUT = (
    "## Here stands what {when} needs: 'swaplint draft --more THIS-FILE --system NAME' adds all fields of\n"
    "## one system of the job, or with --stage STAGE what that stage needs.\n"
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
    profile: Profile = NOTHING_KNOWN,
    only_needed: bool = False,
    stopped: dict[str, str] | None = None,
) -> tuple[str, Wanted]:
    """A new spec as text, and the fields in it. Without `systems` it is for the rules of all of them.

    `stopped` takes the rules that did not come to an end, as in `asked_by`.
    """
    rules = [rule for _, rule in base.rules if not systems or rule.system in systems]
    if only_needed:
        rules = _of_stage(rules, stage)
    asked = asked_by(base, rules, profile.stated(), stopped=stopped)
    return draft_of(base, rules, asked, stage, profile, only_needed=only_needed)


def draft_of(
    base: RuleBase,
    rules: Iterable[Rule],
    asked: Mapping[str, Asked],
    stage: Stage,
    profile: Profile = NOTHING_KNOWN,
    *,
    only_needed: bool = False,
) -> tuple[str, Wanted]:
    """The same from what the rules are known to ask for.

    With `only_needed` it holds what the rules that are due cannot do without, and at the idea stage, where none is,
    what the first decision takes.
    """
    wanted = wanted_of(rules, asked, stage, only_needed=only_needed)
    wanted.fields.update(filter(None, (pattern(base.model, path) for path in profile.stated())))
    writer = Writer(base.model, wanted, profile.names(), brief=only_needed and stage == "idea")
    stated: dict[str, bool | str | int] = {"build.format": FORMAT, "build.stage": stage}
    if SHOWING.inch_pound:
        stated["build.units"] = SHOWING.system or ""
    text = _head(stage, wanted) + writer.text(("build.name", *stated))
    return answered(text, {path_key(path): value for path, value in {**stated, **profile.stated()}.items()}), wanted


_OF_A_MAKER = {"whose": "the maker's", "source": "the maker does", "more": ""}
_OF_A_PLACE = {
    "whose": "its documents'",
    "source": "they do",
    "more": (
        "## Each fact says how it is known and which document says so, by a name of your own under [documents.NAME];\n"
        "## without both it decides nothing. What you leave out is asked of the authority.\n"
    ),
}
_SHEET_HEAD = """\
## A data sheet to fill in: {words}. Lines with one # are fields: put {whose} value in the
## place of the example and delete the #; what {source} not state stays as it is. Lines with ## explain.
{more}## A spec that names this file takes from it what it leaves out:
##   {table}
##   sheet = "{name}"

"""


def sheet_draft(model: type[Section], kind: str, name: str) -> str:
    """A data sheet as text, with every field of its kind of part."""
    part = sheet_kinds(model)[kind]
    table = next(tables_of(part, model), "[engine]")
    # Paths begin with the place of such a part, by which examples are found.
    at = table.strip("[]")
    fields = {f"{at}.{path}" for path, _ in every_field(part)} - {f"{at}.fitted", f"{at}.sheet"}
    writer = Writer(model, Wanted(fields, only_now=True), {})
    writer.section(part, at, "")
    words = kind.replace("-", " ")
    name = re.split(r"[\\/]", name)[-1] if name != "-" else f"my.{kind}.toml"
    head = _SHEET_HEAD.format(words=words, table=table, name=name, **_OF_A_PLACE if kind == "place" else _OF_A_MAKER)
    return head + "\n".join(writer.lines).lstrip("\n") + "\n"


_SELDOM = ("driveline.front_tyres.",)
"""What few builds have, and say so by stating it: on the first day nothing waits for it."""


def wanted_of(rules: Iterable[Rule], asked: Mapping[str, Asked], stage: Stage, *, only_needed: bool) -> Wanted:
    """The fields that a draft holds for some rules."""
    wanted = Wanted(only_now=only_needed)
    for rule in _of_stage(rules, stage) if only_needed else rules:
        of_rule = asked[rule.id]
        wanted.fields |= of_rule.needed | set(filter(_turns_it, of_rule.fields)) if only_needed else of_rule.fields
        if due_passed(_looked_ahead(stage), rule.due):
            wanted.now |= asked[rule.id].needed
    if only_needed and stage == "idea":
        wanted.fields = {path for path in wanted.fields if not path.startswith(_SELDOM)}
    return wanted


def _head(stage: Stage, wanted: Wanted) -> str:
    when = "the plan stage, which is next" if stage == "idea" else "this stage"
    first = wanted.only_now and stage == "idea"
    if wanted.only_now:
        marks = (_SIZE if first else "") + _LEFT_OUT.format(when="the first decision" if first else when)
    else:
        marks = _MARKED.format(when=when) if wanted.now else ""
    mass = written_as(1810.0, "mass", "kg")
    return _HEAD.format(stage=stage, whole=_FIRST if first else "", mass=mass, marks=marks)


def _turns_it(path: str) -> bool:
    """Whether a rule's answer turns on a field that it can do without.

    Common practice stands in for what the engine maker would state and the owner wants, and nothing for a part that is
    not fitted. Of several parts, such as places of the work beside the highest one, nothing is needed.
    """
    return "*" not in path and (path.startswith(("engine.speed.", "build.design.")) or path.endswith(".fitted"))


def _looked_ahead(stage: Stage) -> Stage:
    """The stage whose answers a draft is for: no rule is due at the idea stage, so it looks to the next."""
    return "plan" if stage == "idea" else stage


def _of_stage(rules: Iterable[Rule], stage: Stage) -> list[Rule]:
    """The rules that are due, or at the idea stage those that the first decision hangs on."""
    due = [rule for rule in rules if due_passed(_looked_ahead(stage), rule.due)]
    first = [rule for rule in due if rule.system == FIRST_SYSTEM] if stage == "idea" else []
    return first or due


# -- writing -----------------------------------------------------------------------------------------------------
class Writer:
    """Writes fields to fill in, section by section.

    Everything below a section that is not in a named part is written with dotted keys, so that each line can be
    uncommented by itself; the tables of named parts stand after them.
    """

    def __init__(
        self, model: type[Section], wanted: Wanted, names: Mapping[str, Sequence[str]], *, brief: bool = False
    ) -> None:
        """`names` holds the names of parts, by their collection; a brief text says of a field what fits on its line."""
        self.model, self.wanted, self.names, self.brief = model, wanted, names, brief
        self.always: set[str] = set()
        self.lines: list[str] = []

    def text(self, always: Iterable[str] = ()) -> str:
        """A whole spec, with some fields whatever else is wanted."""
        self.always = set(always)
        for name, member in members(self.model).items():
            if member.facts is not None or not (
                self.wanted.below(name) or any(a.startswith(f"{name}.") for a in self.always)
            ):
                continue
            if member.role == "part":
                self.lines.append("")
                self.say(f"## {member.description}")
                self.lines.append(f"[{name}]")
                self.section(cast(type[Section], member.model), name, name)
            else:
                self._table(member, name, name)
        return "\n".join(self.lines) + "\n"

    def section(self, model: type[Section], path: str, table: str) -> None:
        """The fields below a table: those with dotted keys, then the tables of named parts."""
        later: list[tuple[Member, str, str]] = []
        self._dotted(model, path, "", table, later)
        for member, at, header in later:
            self._table(member, at, header)

    def _dotted(
        self, model: type[Section], path: str, key: str, table: str, later: list[tuple[Member, str, str]]
    ) -> None:
        for name, member in members(model).items():
            here, dotted = f"{path}.{name}", f"{key}{name}"
            if member.facts is not None:
                if here in self.wanted.fields or here in self.always:
                    self.field(member, here, dotted)
            elif not self.wanted.below(here):
                continue
            elif member.role == "part":
                assert member.model is not None
                if not self.wanted.only_now:
                    self.say(f"## {dotted}: {member.description}")
                said = f"{here}.fitted" in self.wanted.fields or self.wanted.only_now
                if issubclass(member.model, Part) and not said:
                    self.field(members(member.model)["fitted"], f"{here}.fitted", f"{dotted}.fitted")
                self._dotted(member.model, here, f"{dotted}.", table, later)
            elif member.role == "parts" or not self._items(member, here, dotted):
                later.append((member, here, f"{table}.{dotted}".lstrip(".")))

    def field(self, member: Member, path: str, key: str) -> None:
        """One field as a line that is commented out, with what it means beside it, or above it where that is long."""
        assert member.facts is not None
        facts = member.facts
        example = example_shown(facts, path)
        line = (
            f"# {key} = {inline([example] if member.role == 'plain-list' else example)}".ljust(COMMENT_COLUMN) + "  # "
        )
        about, room = self._about(facts, path), LONGEST_LINE - len(line)
        if len(about) > room and self.brief:
            about = self._about(facts, path, first_words_only=True)
        if room < NARROWEST_COMMENT:
            self.say(f"## {key}: {about}")
            self.lines.append(line.removesuffix("  # ").rstrip())
            return
        first, *rest = textwrap.wrap(about, room, break_on_hyphens=False)
        self.lines += [line + first, *("##".ljust(len(line)) + more for more in rest)]

    def _about(self, facts: FieldFacts, path: str, *, first_words_only: bool = False) -> str:
        marked = path in self.wanted.now and not self.wanted.only_now
        meaning = told(facts.description, path)
        if first_words_only:
            meaning = re.split("[;:]", meaning)[0]
        pieces = ["[now] " if marked else "", meaning]
        if facts.type == "word" and not all(option in facts.description for option in facts.options):
            pieces.append("; " + ", ".join(facts.options[:-1]) + f" or {facts.options[-1]}")
        if facts.limit:
            pieces.append(f'; "{NO_LIMIT}" if its maker sets none')
        if facts.where:
            pieces.append(f" ({BRIEF_PLACES.get(facts.where, facts.where)})")
        return "".join(pieces)

    def _items(self, member: Member, path: str, key: str) -> bool:
        """A list of parts without names, in one line, its fields explained above; False where no line takes it."""
        before = len(self.lines)
        self.say(f"## {key}: {member.description}; a list, each entry with")
        example = self._item(cast(type[Section], member.model), f"{path}[]", "")
        if self.brief:
            del self.lines[before:]
            self.say(f"## {key}: {member.description}; a list, each entry with {', '.join(example)}")
        points = curve_example(path, example) or [example]
        # In one line: what is uncommented line by line must be TOML at each step.
        for shown in (points, [points[0], points[-1]], [example]):
            line = f"# {key} = {inline(shown)}"
            if len(line) <= LONGEST_LINE:
                self.lines.append(line)
                return True
        del self.lines[before:]
        return False

    def say(self, text: str) -> None:
        """A comment, on as many lines as it takes; those after the first begin further in."""
        inside = len(text) - len(text[2:].lstrip(" "))
        further = "##".ljust(inside + 2)
        self.lines += textwrap.wrap(text, LONGEST_LINE, subsequent_indent=further, break_on_hyphens=False)

    def _item(self, model: type[Section], path: str, key: str) -> dict[str, Any]:
        out: dict[str, Any] = {}
        for name, member in members(model).items():
            here, dotted = f"{path}.{name}", f"{key}{name}"
            if member.facts is not None and here in self.wanted.fields:
                example = example_shown(member.facts, here)
                out[name] = [example] if member.role == "plain-list" else example
                self.say(f"##   {dotted}: {self._about(member.facts, here)}")
            elif member.model is not None and self.wanted.below(here):
                mark = {"parts": ".*", "items": "[]"}.get(member.role, "")
                below = self._item(member.model, here + mark, f"{dotted}.")
                out[name] = {EXAMPLE_NAME: below} if member.role == "parts" else [below] if mark else below
        return out

    def _table(self, member: Member, path: str, header: str) -> None:
        """An example of a named part, or each of those that are known, or an item of a list, as a table."""
        model = cast(type[Section], member.model)
        self.lines.append("")
        if member.role != "parts":
            self.say(f"## {member.description}. One such block for each:")
            self.lines.append(f"# [[{header}]]")
            self.section(model, f"{path}[]", header)
            return
        names = self.names.get(path, ())
        self.say(f"## {member.description}. One such block for each, with a name of its own:")
        for number, name in enumerate(names or (example_name(path),)):
            if number:
                self.lines.append("")
            self.lines.append(f"# [{header}.{name}]")
            self.section(model, f"{path}.*", f"{header}.{name}")
