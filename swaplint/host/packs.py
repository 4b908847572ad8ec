"""Finding and checking rule packs.

Each pack is loaded, registered, asked and checked on its own: whatever is wrong with one costs only that one, and a
rule that is declared wrongly costs only itself.
"""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple, TypeVar, cast

import pluggy
from pydantic import create_model

from swaplint.declare.figures import DeclaredFigure, check_figure
from swaplint.declare.listings import Listing, check_listing
from swaplint.declare.quantities import Quantity, check_quantity
from swaplint.declare.rule import Rule, check_rule
from swaplint.declare.steps import Step, check_step
from swaplint.host.hooks import INTERFACE, PROJECT, Hooks, Pack
from swaplint.host.manners import MODULES
from swaplint.host.named_fields import check_named_fields, let_estimates_stand_in, let_sheets_be_found
from swaplint.host.problems import Problem, first_line
from swaplint.host.rule_base import LoadedPack as LoadedPack
from swaplint.host.rule_base import RuleBase as RuleBase
from swaplint.host.rule_base import problem_at
from swaplint.host.signs import SIGNS, stops
from swaplint.host.strangers import STRANGERS, installed_packs
from swaplint.host.watch import BadManners, TookTooLong, code_of, time_limit
from swaplint.spec.fields import Section, part
from swaplint.spec.model import Build
from swaplint.spec.shape import every_field, members

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
    check_named_fields(base)
    let_estimates_stand_in(base)
    let_sheets_be_found(base)
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
        return problem_at(rule, f"the rule is not declared soundly: {error}", pack)
    for id in (rule.id, *rule.aliases):
        if id in taken:
            return problem_at(
                rule, f"the id {id} is taken already by the pack {taken[id]}; this rule was left out", pack
            )
    return None


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
        return problem_at(made, f"the {name} is not declared soundly: {error}", pack)
    if f"{name} {made.id}" in taken:
        owner = taken[f"{name} {made.id}"]
        what = f"the {name} id {made.id} is taken already by the pack {owner}; this one was left out"
        return problem_at(made, what, pack)
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
