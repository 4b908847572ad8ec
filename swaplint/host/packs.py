"""Finding and checking rule packs.

Each pack is loaded, registered, asked and checked on its own: whatever is wrong with one costs only that one, and a
rule that is declared wrongly costs only itself.
"""

from __future__ import annotations

import functools
import importlib.util
import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple, TypeVar, cast

import pluggy
from pydantic import create_model

from swaplint.build.estimates import by_field
from swaplint.declare.figures import DeclaredFigure, check_figure
from swaplint.declare.listings import LISTS, Listing, check_listing
from swaplint.declare.quantities import Quantity, check_quantity
from swaplint.declare.rule import Edits, Rule, check_rule
from swaplint.declare.silence import Silence
from swaplint.declare.steps import Step, check_step
from swaplint.host.hooks import INTERFACE, PROJECT, Hooks, Pack
from swaplint.host.manners import MODULES
from swaplint.host.problems import Problem, code_place, first_line
from swaplint.host.signs import SIGNS, stops
from swaplint.host.strangers import STRANGERS, installed_packs
from swaplint.host.watch import BadManners, TookTooLong, code_of, time_limit
from swaplint.spec.fields import Section, part
from swaplint.spec.model import Build
from swaplint.spec.paths import path_key, without_conditions
from swaplint.spec.renamed import path_today
from swaplint.spec.shape import every_field, facts_at, members
from swaplint.spec.systems import SYSTEMS

PACK_SECONDS = 10.0
"""Longest time that a pack may take to load."""

_PACK_NAME = re.compile(r"[a-z][a-z0-9-]{0,40}")


_Declared = Quantity[Any] | DeclaredFigure | Listing | Step
_One = TypeVar("_One", DeclaredFigure, Listing, Step)
"""What a pack declares besides rules."""
_NAMES: dict[type, tuple[str, str]] = {
    Quantity: ("quantity", "quantities"),
    DeclaredFigure: ("figure", "figures"),
    Listing: ("listing", "listings"),
    Step: ("step", "steps"),
}
"""One of each and several, in words; one is its decorator, too."""


@dataclass(slots=True)
class LoadedPack:
    """A pack that was found, with what of it is sound."""

    name: str
    version: str
    built_in: bool
    rules: list[Rule] = field(default_factory=list)
    quantities: list[Quantity[Any]] = field(default_factory=list)
    figures: list[DeclaredFigure] = field(default_factory=list)
    listings: list[Listing] = field(default_factory=list)
    section: type[Section] | None = None
    sound: Edits = field(default_factory=dict)
    steps: list[Step] = field(default_factory=list)
    sheets: Path | None = None
    """The folder of data sheets that it brings."""


@dataclass(slots=True)
class RuleBase:
    """All packs that are loaded, and what went wrong on the way."""

    packs: list[LoadedPack] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    model: type[Section] = Build
    unread: set[str] = field(default_factory=set)
    """Sections of packs that could not be loaded: passed over in a spec, for want of anybody who knows their fields."""
    not_loaded: list[tuple[str, str | None]] = field(default_factory=list)
    """Packs that could not be loaded, by name, and rules of the others that were left out, each with its pack."""

    @property
    def rules(self) -> list[tuple[LoadedPack, Rule]]:
        """Every rule with its pack, sorted by id."""
        return sorted(((p, r) for p in self.packs for r in p.rules), key=lambda entry: entry[1].id)

    @property
    def quantities(self) -> list[tuple[LoadedPack, Quantity[Any]]]:
        """Every quantity with its pack, sorted by id."""
        return sorted(((p, q) for p in self.packs for q in p.quantities), key=lambda entry: entry[1].id)

    @property
    def steps(self) -> list[tuple[LoadedPack, Step]]:
        """Every step of the checklist with its pack, as declared."""
        return [(pack, step) for pack in self.packs for step in pack.steps]

    @property
    def listings(self) -> list[tuple[LoadedPack, Listing]]:
        """Every listing with its pack, by the list that it adds to, then by system, as declared."""
        lists, systems = list(LISTS), {name: at for at, name in enumerate(SYSTEMS)}
        every = ((p, one) for p in self.packs for one in p.listings)
        return sorted(
            every, key=lambda entry: (lists.index(entry[1].list), systems.get(entry[1].id.split(".")[0], len(systems)))
        )

    def find(self, id: str) -> Rule | None:
        """The rule with an id, or that had it before."""
        every = (rule for pack in self.packs for rule in pack.rules)
        return next((rule for rule in every if rule.id == id or id in rule.aliases), None)


class _Manager(pluggy.PluginManager):
    """Looks in a pack's module for what can be a hook by its name, and not at all the rest that a module holds."""

    def parse_hookimpl_opts(self, plugin: object, name: str) -> Any:
        """What marks a hook's implementation; None for anything else."""
        return super().parse_hookimpl_opts(plugin, name) if hasattr(Hooks, name) else None


def load_rule_base(pack_files: Sequence[str] = (), *, installed: bool = True) -> RuleBase:
    """Load the installed packs and the packs in the files named."""
    base = RuleBase()
    manager = _Manager(PROJECT)
    manager.add_hookspecs(Hooks)
    taken: dict[str, str] = {}
    STRANGERS.origin.clear()
    if installed:
        for entry, version, built_in in installed_packs():
            from_where = _Origin(entry.name, f"pack {entry.name}", version, built_in)
            module = _loaded(base, from_where, lambda e=entry: e.load())
            if module is not None:
                _register(base, manager, module, from_where, taken)
    for name in pack_files:
        from_where = _Origin(Path(name).name, f"pack {name}", FROM_FILE, False)
        module = _loaded(base, from_where, lambda n=name: _import_file(n))
        if module is not None:
            stated = getattr(module, "__version__", "")
            if isinstance(stated, str) and stated:
                from_where = from_where._replace(version=stated)
            _register(base, manager, module, from_where, taken)
        else:
            base.unread.update(section_name(found) for found in _names_declared(name))
    base.model = _model_with_sections(base.packs)
    base.unread -= set(members(base.model))
    _check_paths(base)
    let_estimates_stand_in(base)
    _let_sheets_be_found(base)
    return base


class _Origin(NamedTuple):
    """Where a pack comes from."""

    name: str
    """What it is called until it says so itself: that of its entry point or file."""
    what: str
    """What it is to whoever watches over it: `pack NAME`, a file with its folders."""
    version: str
    built_in: bool


def _loaded(base: RuleBase, origin: _Origin, load: Any) -> Any:
    """The module of a pack; None where it cannot be loaded, or is set aside."""
    if origin.built_in:
        return _guarded(base, origin, load)
    why = STRANGERS.why_aside(origin.what)
    if why is not None:
        base.problems.append(Problem(f"the pack {why}; its results are missing", "pack", origin.name))
        base.not_loaded.append((origin.name, None))
        base.unread.add(section_name(Path(origin.name).stem))
        return None
    if SIGNS.watched:
        MODULES.begin()
    return _guarded(base, origin, load)


FROM_FILE = "unversioned"
"""The version of a pack that is loaded by its file and states none: there is nothing else to tell it by."""

_DECLARED = re.compile(r"""\bPack\(\s*(?:name\s*=\s*)?["']([a-z][a-z0-9-]*)["']""")


def _names_declared(name: str) -> list[str]:
    """The names that a file that cannot be imported declares packs by: its section of a spec is passed over too."""
    try:
        return _DECLARED.findall(Path(name).read_text(encoding="utf-8", errors="replace"))
    except (OSError, ValueError):  # there is no such file, or there can be none
        return []


class _Afresh(SourceFileLoader):
    """Reads a pack file as it stands, and leaves nothing beside it: what is compiled is told by second and size."""

    def path_stats(self, path: str | bytes) -> Mapping[str, Any]:
        """Tell of no time at which the file was changed, so that nothing compiled is taken or kept."""
        raise OSError(f"{path!r} is compiled each time")


def _import_file(name: str) -> ModuleType:
    path = Path(name)
    if not path.is_file():
        raise FileNotFoundError(f"there is no pack file {name}")
    module_name = "swaplint_pack_file_" + re.sub(r"\W", "_", path.stem)
    loader = _Afresh(module_name, str(path)) if path.suffix == ".py" else None
    spec = importlib.util.spec_from_file_location(module_name, path, loader=loader)
    if spec is None or spec.loader is None:
        raise ImportError(f"{name} is not a Python file")
    module = importlib.util.module_from_spec(spec)
    sys.modules[module_name] = module
    spec.loader.exec_module(module)
    return module


def _guarded(base: RuleBase, origin: _Origin, load: Any) -> Any:
    try:
        return _limited(base, origin, load)
    except TookTooLong:
        what = f"the pack took longer than {PACK_SECONDS:g} s to load and was left out"
        base.problems.append(Problem(what, "pack", origin.name))
    except _NotLoaded as broke:
        base.problems.append(
            Problem(f"the pack could not be loaded: {broke.what}", "pack", origin.name, None, *broke.place)
        )
    base.not_loaded.append((origin.name, None))
    base.unread.add(section_name(Path(origin.name).stem))
    return None


class _NotLoaded(Exception):
    """A pack raised something while it was loaded."""

    def __init__(self, what: str, place: tuple[str | None, int | None]) -> None:
        super().__init__(what)
        self.what, self.place = what, place


def _limited(base: RuleBase, origin: _Origin, load: Any) -> Any:
    """What a pack's code comes to within its time. What it raises is put into words there, too: those are its code."""
    done: Any = None
    try:
        with time_limit(PACK_SECONDS) if origin.built_in else code_of(origin.what, PACK_SECONDS):
            try:
                done = load()
            except TookTooLong:
                raise
            except BaseException as error:
                if stops(error):
                    raise
                raise _NotLoaded(first_line(error), _innermost(error)) from None
    except BadManners as changed:
        base.problems.append(Problem(f"the pack {changed}", "pack", origin.name))
    return done


def _innermost(error: BaseException) -> tuple[str | None, int | None]:
    from swaplint.host.problems import short_file

    if isinstance(error, SyntaxError) and error.filename:
        return short_file(error.filename), error.lineno
    traceback, last = error.__traceback__, None
    while traceback is not None:
        name = traceback.tb_frame.f_code.co_filename
        if not name.startswith("<") and "importlib" not in name and "/swaplint/host/" not in name.replace("\\", "/"):
            last = (short_file(name), traceback.tb_lineno)
        traceback = traceback.tb_next
    return last or (None, None)


def _register(
    base: RuleBase, manager: pluggy.PluginManager, module: ModuleType, origin: _Origin, taken: dict[str, str]
) -> None:
    def register() -> Any:
        manager.register(module, origin.name)
        implementations = [h for h in manager.hook.swaplint_pack.get_hookimpls() if h.plugin is module]
        if not implementations:
            raise LookupError("it has no function swaplint_pack marked with @hookimpl")
        return implementations[0].function()

    before = len(base.not_loaded)
    pack = _guarded(base, origin, register)
    if pack is not None or len(base.not_loaded) == before:
        _guarded(base, origin, lambda: _admit(base, pack, origin, taken))


def _admit(base: RuleBase, pack: Any, origin: _Origin, taken: dict[str, str]) -> None:
    """Check a pack that its module returned, and take in what of it is sound."""
    name = origin.name
    wrong = _wrong_with(pack, base)
    if wrong:
        base.not_loaded.append((name, None))
        base.problems.append(Problem(wrong, "pack", name))
        declared = pack.name if isinstance(pack, Pack) and isinstance(pack.name, str) else name
        base.unread.update((section_name(Path(name).stem), section_name(declared)))
        return
    version = pack.version or origin.version or "0"
    loaded = LoadedPack(pack.name, version, origin.built_in, section=pack.section, sound=pack.sound, sheets=pack.sheets)
    for rule in pack.rules:
        problem = _wrong_with_rule(rule, pack.name, taken)
        if problem is None:
            loaded.rules.append(rule)
            taken.update(dict.fromkeys((rule.id, *rule.aliases), pack.name))
        else:
            base.problems.append(problem)
            base.not_loaded.append((pack.name, problem.rule))
    for quantity in pack.quantities:
        problem = _wrong_with_other(quantity, Quantity, check_quantity, pack.name, taken)
        if problem is None:
            loaded.quantities.append(quantity)
            taken[f"quantity {quantity.id}"] = pack.name
        else:
            base.problems.append(problem)
    _take(pack.steps, Step, check_step, loaded.steps, pack.name, base, taken)
    _take(pack.figures, DeclaredFigure, check_figure, loaded.figures, pack.name, base, taken)
    _take(pack.listings, Listing, check_listing, loaded.listings, pack.name, base, taken)
    if not origin.built_in:
        STRANGERS.origin.update({f"step {step.id}": origin.what for step in loaded.steps})
        STRANGERS.origin.update({f"listing {one.id}": origin.what for one in loaded.listings})
        STRANGERS.origin.update({f"rule {rule.id}": origin.what for rule in loaded.rules})
        STRANGERS.origin.update({f"quantity {quantity.id}": origin.what for quantity in loaded.quantities})
        STRANGERS.origin.update({f"figure {drawn.id}": origin.what for drawn in loaded.figures})
    base.packs.append(loaded)


def _wrong_with(pack: object, base: RuleBase) -> str | None:
    if not isinstance(pack, Pack):
        return f"its swaplint_pack returned a {type(pack).__name__} instead of a Pack"
    if not isinstance(pack.name, str) or not _PACK_NAME.fullmatch(pack.name):
        return f"{pack.name!r:.60} is not a name for a pack: lower-case letters, digits and hyphens"
    if pack.interface != INTERFACE:
        written_for = f"{pack.interface!r:.20}"
        return f"the pack was written for version {written_for} of the rule interface; this is version {INTERFACE}"
    if any(p.name == pack.name for p in base.packs):
        return f"another pack is called {pack.name!r} already"
    if not isinstance(pack.version, str) or not isinstance(pack.sound, Mapping):
        return "its version is no text, or its edits to the sound spec are no mapping"
    if not (pack.sheets is None or isinstance(pack.sheets, Path)):
        return "the folder of its data sheets is a Path"
    if not isinstance(pack.rules, Sequence) or not isinstance(pack.quantities, Sequence):
        return "its rules and quantities are not lists"
    if not isinstance(pack.steps, Sequence):
        return "its steps are no list"
    if not isinstance(pack.figures, Sequence):
        return "its figures are no list"
    if not isinstance(pack.listings, Sequence):
        return "its listings are no list"
    if pack.section is not None:
        name = section_name(pack.name)
        if not (isinstance(pack.section, type) and issubclass(pack.section, Section)):
            return "its section is not a Section model"
        if name in members(Build):
            return f"its section would be [{name}], which the build spec has already"
        if hasattr(Section, name):
            return f"its section would be [{name}], a name that no section can have"
        try:
            for _, member in every_field(pack.section):
                if member.facts is not None:
                    member.facts.typical_value(), member.facts.plausible_si()
            pack.section.model_validate({})
        except Exception as error:
            return f"its section is not sound: {first_line(error)}"
    return None


def _wrong_with_rule(rule: object, pack: str, taken: dict[str, str]) -> Problem | None:
    if not isinstance(rule, Rule):
        what = f"a {type(rule).__name__} is in the pack's rules, but is no rule: decorate it with @rule"
        return Problem(what, "rule", pack)
    try:
        check_rule(rule)
    except Exception as error:
        return _problem_at(rule, f"the rule is not declared soundly: {error}", pack)
    for id in (rule.id, *rule.aliases):
        if id in taken:
            return _problem_at(
                rule, f"the id {id} is taken already by the pack {taken[id]}; this rule was left out", pack
            )
    return None


def _problem_at(declared: Rule | _Declared, what: str, pack: str) -> Problem:
    """A problem with what a pack declares, and where that stands."""
    return Problem(what, "rule", pack, str(declared.id), *code_place(declared.function))


def _take(
    declared: Iterable[object],
    kind: type[_One],
    check: Callable[[Any], None],
    into: list[_One],
    pack: str,
    base: RuleBase,
    taken: dict[str, str],
) -> None:
    """Take what a pack declares beside its rules, as far as each is sound and its id is free; the rest is a problem."""
    for made in declared:
        problem = _wrong_with_other(made, kind, check, pack, taken)
        if problem is not None:
            base.problems.append(problem)
        elif isinstance(made, kind):
            into.append(made)
            taken[f"{_NAMES[kind][0]} {made.id}"] = pack


def _wrong_with_other(
    made: object, kind: type[_Declared], check: Callable[[Any], None], pack: str, taken: dict[str, str]
) -> Problem | None:
    """What is wrong with a quantity, a figure or a step that a pack declares."""
    name, several = _NAMES[kind]
    if not isinstance(made, kind):
        what = f"a {type(made).__name__} is in the pack's {several}, but is none: decorate it with @{name}"
        return Problem(what, "rule", pack)
    try:
        check(made)
    except Exception as error:
        return _problem_at(made, f"the {name} is not declared soundly: {error}", pack)
    if f"{name} {made.id}" in taken:
        owner = taken[f"{name} {made.id}"]
        what = f"the {name} id {made.id} is taken already by the pack {owner}; this one was left out"
        return _problem_at(made, what, pack)
    return None


def section_name(pack: str) -> str:
    """The spec section of a pack's own fields."""
    return pack.replace("-", "_")


def _model_with_sections(packs: Sequence[LoadedPack]) -> type[Section]:
    sections = {section_name(p.name): p.section for p in packs if p.section is not None}
    if not sections:
        return Build
    fields: dict[str, Any] = {
        name: (model, part(f"fields of the rule pack {name}")) for name, model in sections.items()
    }
    return cast(type[Section], create_model("Build", __base__=Build, **fields))


# -- field paths that rules name --------------------------------------------------------------------------------
def _check_paths(base: RuleBase) -> None:
    for pack in base.packs:
        sound = []
        pack.sound = _edits_today(base.model, pack.sound)
        for rule in (_rule_today(base.model, rule) for rule in pack.rules):
            what = _wrong_with_paths(base.model, rule)
            if what:
                base.problems.append(_problem_at(rule, what, pack.name))
                base.not_loaded.append((pack.name, rule.id))
            else:
                sound.append(rule)
        pack.rules = sound
        for quantity in pack.quantities:
            quantity.silence = _silence_today(base.model, quantity.silence)
            quantity.stands_in_for = path_today(base.model, quantity.stands_in_for)
            wrong = next((path for path in quantity.silence.fields if not _is_field(base.model, path)), None)
            if wrong is not None:
                what = f"the quantity names the field {wrong:.200}, which the build spec does not have"
                base.problems.append(_problem_at(quantity, what, pack.name))
        pack.steps = [_step_today(base.model, step) for step in pack.steps]
        for step in list(pack.steps):
            wrong = next((path for path in _paths_of_step(step) if not _is_field(base.model, path)), None)
            if wrong is not None:
                what = f"the step names the field {wrong:.200}, which the build spec does not have; it was left out"
                base.problems.append(_problem_at(step, what, pack.name))
                pack.steps.remove(step)
        wrong_ones = {q.id: what for q in pack.quantities if (what := _wrong_with_field(base.model, q))}
        base.problems += [_problem_at(q, wrong_ones[q.id], pack.name) for q in pack.quantities if q.id in wrong_ones]
        pack.quantities = [quantity for quantity in pack.quantities if quantity.id not in wrong_ones]


def _wrong_with_field(model: type[Section], quantity: Quantity[Any]) -> str:
    """What is wrong with the field that an estimate stands in for, as a sentence; empty where nothing is."""
    path = quantity.stands_in_for
    facts = facts_at(model, path) if path and _is_field(model, path) else None
    if path and facts is None:
        return f"the quantity stands in for {path:.200}, which is no field of the build spec"
    if facts is not None and (facts.type not in ("measure", "number") or facts.kind_name != quantity.kind):
        takes = facts.kind.words if facts.kind is not None else "a number without a unit"
        return f"the quantity stands in for {path:.200}, which takes {takes}"
    return ""


def let_estimates_stand_in(base: RuleBase) -> None:
    """Tell the model of the build spec which quantities stand in for its fields: every view of a build asks there."""
    estimates = [quantity for _, quantity in base.quantities if quantity.stands_in_for]
    if estimates:
        _own_model(base).estimates = by_field([*estimates])


def _own_model(base: RuleBase) -> type[Section]:
    """The model of the build spec, which is this rule base's alone."""
    if base.model is Build:
        base.model = cast(type[Section], create_model("Build", __base__=Build))
    return base.model


def _let_sheets_be_found(base: RuleBase) -> None:
    """Tell the model of the build spec in which folders the data sheets of packs stand."""
    folders = {f"{pack.name}-sheets": pack.sheets for pack in base.packs if pack.sheets is not None}
    if folders:
        _own_model(base).sheet_folders = folders


_NOT_CHOSEN = {
    "measured": "is measured and follows from what is built",
    "wish": "is the owner's wish",
    "plate": "is on the plate or for the authority to say",
}


def _wrong_with_paths(model: type[Section], rule: Rule) -> str:
    """What is wrong with the fields that a rule names, as a sentence; empty where nothing is."""
    for path in _paths(rule):
        if not _is_field(model, path):
            return f"the rule names the field {path:.200}, which the build spec does not have"
    for path in rule.adjust:
        facts = facts_at(model, without_conditions(path))
        if facts is not None and facts.nature != "choice":
            return f"the rule's `adjust` names {path:.200}, which {_NOT_CHOSEN[facts.nature]}: no builder chooses it"
    return ""


def _rule_today(model: type[Section], rule: Rule) -> Rule:
    """The rule with today's names of the fields that it names; the rule itself where it uses no others."""
    if all(path_today(model, path) == path for path in _paths(rule)):
        return rule
    return replace(
        rule,
        adjust=tuple(path_today(model, path) for path in rule.adjust),
        about=path_today(model, rule.about),
        sources=tuple(replace(source, field=path_today(model, source.field)) for source in rule.sources),
        bad=tuple(_edits_today(model, edits) for edits in rule.bad),
        good=tuple(_edits_today(model, edits) for edits in rule.good),
        silence=_silence_today(model, rule.silence),
    )


def _step_today(model: type[Section], step: Step) -> Step:
    """The step with today's names of the fields that it names; the step itself where it uses no others."""
    if all(path_today(model, path) == path for path in _paths_of_step(step)):
        return step
    sources = tuple(replace(source, field=path_today(model, source.field)) for source in step.sources)
    example = tuple(_edits_today(model, dict(step.example)).items())
    write, *also = (path_today(model, path) for path in (step.write, *step.also))
    return replace(step, write=write, also=tuple(also), sources=sources, example=example)


def _paths_of_step(step: Step) -> list[str]:
    named = (step.write, *step.also, *(source.field for source in step.sources), *(path for path, _ in step.example))
    return [path for path in named if path]


def _silence_today(model: type[Section], silence: Silence) -> Silence:
    return Silence(
        tuple((path_today(model, path), why) for path, why in silence.without),
        tuple(
            (path_today(model, path), tuple(path_today(model, o) for o in others)) for path, others in silence.instead
        ),
    )


def _edits_today(model: type[Section], edits: Edits) -> Edits:
    return {path_today(model, path): value for path, value in edits.items()}


@functools.lru_cache(maxsize=4096)
def _is_field(model: type[Section], path: str) -> bool:
    try:
        path = without_conditions(path)
        if "[" in path or "]" in path or ".." in path:
            path_key(_ALL_ITEMS.sub("[1]", path))
    except ValueError:
        return False
    return path_exists(model, path)


def _paths(rule: Rule) -> Iterable[str]:
    yield from rule.adjust
    if rule.about:
        yield rule.about
    for source in rule.sources:
        if source.field:
            yield source.field
    for edits in (*rule.bad, *rule.good):
        yield from edits
    yield from rule.silence.fields


_ALL_ITEMS = re.compile(r"\[\*?\]")
_INDEX = re.compile(r"\[(\d+|\*)?\]$")


def path_exists(model: type[Section], path: str) -> bool:
    """Whether a field path exists in a model; `*` or any name stands for a part's name, `[3]` or `[]` for an item."""
    shape: type[Section] | None = model
    want_name = False
    for piece in path.split("."):
        if want_name:
            want_name = False
            continue
        if shape is None:
            return False
        bare = _INDEX.sub("", piece) if piece.endswith("]") else piece
        member = members(shape).get(bare)
        if member is None or (bare != piece and member.role not in ("items", "plain-list")):
            return False
        shape = member.model
        want_name = member.role == "parts"
    return True
