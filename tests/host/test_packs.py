"""Rule packs: whatever is wrong with one costs only that one, and what is wrong is said with its place."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import textwrap
from pathlib import Path
from typing import Any

import pytest

import swaplint.host.packs
from swaplint.host.named_fields import path_exists
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Inspection
from swaplint.spec.loading import load_text
from swaplint.spec.model import Build
from swaplint.spec.shape import every_field

HEAD = '''
from swaplint.api import *

DOC = """Is it as it should be?

Computes: nothing of use.
Limit: an invented limit.
Consequence: nothing to mind.
Remedy: change it.
Cannot tell: anything else.
"""

def made(id="fit.acme", function=lambda build: holds(build.engine.cylinders == 4.0), **more):
    function.__doc__ = more.pop("doc", DOC)
    more = {"level": "error", "due": "quote", "sources": [practice("invented").giving("limit")], "about": "engine",
            "bad": [{"engine.cylinders": 5}], "good": [{"engine.cylinders": 4}], **more}
    return rule(id, **more)(function)

GOOD = made()

def pack(*rules, **more):
    more = {"interface": INTERFACE, **more}
    return Pack(more.pop("name", "acme"), rules=[GOOD, *rules], **more)

'''
FIRST = HEAD.count("\n") + 1
"""The first line of a test's own."""
SPEC = "engine.cylinders = 4\n"


def pack_file(folder: Path, body: str, name: str = "acme.py", head: str = HEAD) -> str:
    path = folder / name
    path.write_text(head + textwrap.dedent(body), encoding="utf-8")
    return str(path)


def hook(returns: str, before: str = "") -> str:
    return textwrap.dedent(before) + f"\n@hookimpl\ndef swaplint_pack():\n    return {returns}\n"


def loaded(folder: Path, body: str, **more: Any) -> RuleBase:
    return load_rule_base([pack_file(folder, body, **more)], installed=False)


def only_problem(base: RuleBase) -> Problem:
    assert len(base.problems) == 1, base.problems
    return base.problems[0]


def ids(base: RuleBase) -> list[str]:
    return [rule.id for _, rule in base.rules]


def inspected(base: RuleBase, toml: str = SPEC) -> tuple[Inspection, list[Problem]]:
    return inspect(base, load_text(toml, label="s.toml", model=base.model))


# -- a pack that is sound ------------------------------------------------------------------------------------
def test_a_sound_pack(tmp_path: Path) -> None:
    base = loaded(tmp_path, hook('pack(version="3.1")'))
    assert not base.problems
    assert [(p.name, p.version, p.built_in) for p in base.packs] == [("acme", "3.1", False)]
    assert ids(base) == ["fit.acme"]
    inspection, problems = inspected(base)
    assert not problems
    assert [f.kind for f in inspection.findings] == ["pass"]


def test_a_pack_file_is_read_as_it_stands_and_nothing_is_left_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where it was saved again within the same second and is as long as before."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    for version in ("3.1", "3.2"):
        base = loaded(tmp_path, hook(f'pack(version="{version}")'))
        os.utime(tmp_path / "acme.py", (1e9, 1e9))
        assert [pack.version for pack in base.packs] == [version]
        assert [entry.name for entry in tmp_path.iterdir()] == ["acme.py"]


def test_the_built_in_packs_are_sound() -> None:
    base = load_rule_base()
    assert not base.problems
    assert all(pack.built_in for pack in base.packs)
    assert len(ids(base)) == len(set(ids(base))) > 10
    assert ids(base) == sorted(ids(base))


def test_a_rule_is_found_by_its_old_name(tmp_path: Path) -> None:
    base = loaded(tmp_path, hook('pack(made("fit.new", aliases=["fit.old"]))'))
    found = base.find("fit.old")
    assert found is not None
    assert found.id == "fit.new"
    assert base.find("fit.none") is None


def test_problems_are_said_in_the_order_of_the_packs(tmp_path: Path) -> None:
    files = [pack_file(tmp_path, "1/0", name=f"{name}.py") for name in ("zeta", "alpha")]
    base = load_rule_base(files, installed=False)
    assert [problem.pack for problem in base.problems] == ["zeta.py", "alpha.py"]


@pytest.mark.parametrize(
    ("field", "words"),
    [
        ("plumbing.cooling.air.rated.flow", "is measured and follows from what is built"),
        ("build.design.cruise_speed", "is the owner's wish"),
        ("vehicle.mass.gvwr", "is on the plate or for the authority to say"),
    ],
)
def test_a_rule_adjusts_only_what_a_builder_chooses(field: str, words: str, tmp_path: Path) -> None:
    base = loaded(tmp_path, hook(f'pack(made("fit.new", adjust=["engine.cylinders", "{field}"]))'))
    assert base.find("fit.new") is None
    (problem,) = base.problems
    assert f"names {field}, which {words}: no builder chooses it" in problem.what
    assert (problem.about, problem.rule) == ("rule", "fit.new")


def test_what_settles_a_field_is_told_from_its_place_unless_it_says_so() -> None:
    nature = {path: member.facts.nature for path, member in every_field(Build) if member.facts is not None}
    assert nature["plumbing.fuel.supply.bore"] == "choice"
    assert nature["driveline.tyres.pressure_front"] == "choice"  # the owner keeps it, and can keep another
    assert nature["plumbing.fuel.tank.low_level_lamp"] == "choice"
    assert nature["plumbing.cooling.air.rated.flow"] == "measured"
    assert nature["build.duty.terrain"] == "wish"
    assert nature["vehicle.mass.gvwr"] == "plate"


# -- a pack that cannot be loaded ----------------------------------------------------------------------------
NOT_LOADED = {
    "import-error": ("import a_module_that_does_not_exist\n", "ModuleNotFoundError", 0),
    "syntax-error": ("def broken(:\n", "SyntaxError", 0),
    "exits": ("import sys\nsys.exit(0)\n", "SystemExit", 1),
    "raises": ("raise RuntimeError('no')\n", "RuntimeError: no", 0),
    "no-words": ("class E(Exception):\n    def __str__(self): raise E\nraise E\n", "E", 2),
    "generator-exit": ("raise GeneratorExit\n", "GeneratorExit", 0),
    "recursion": ("def f(): f()\nf()\n", "RecursionError", 0),
    "no-hook": ("x = 1\n", "no function swaplint_pack", None),
    "hook-without-mark": ("def swaplint_pack():\n    return pack()\n", "no function swaplint_pack", None),
    "hook-with-argument": ("@hookimpl\ndef swaplint_pack(more): return pack()\n", "swaplint_pack", None),
    "hook-is-no-function": ("swaplint_pack = hookimpl(pack())\n", "", None),
    "hook-raises": (hook("1/0"), "ZeroDivisionError", 3),
    "returns-none": (hook("None"), "NoneType instead of a Pack", None),
    "returns-text": (hook("'acme'"), "str instead of a Pack", None),
    "returns-class": (hook("Pack"), "type instead of a Pack", None),
    "is-a-generator": ("@hookimpl\ndef swaplint_pack(): yield pack()\n", "generator instead of a Pack", None),
    "wrong-interface": (hook("pack(interface=1)"), "version 1 of the rule interface; this is version 2", None),
    "interface-text": (hook("pack(interface='1')"), "version '1'", None),
    "interface-odd": (
        hook("pack(interface=Odd())", "class Odd:\n    def __repr__(self): 1/0"),
        "ZeroDivisionError",
        None,
    ),
    "name-odd": (hook("pack(name='Acme Corp')"), "'Acme Corp' is not a name for a pack", None),
    "name-none": (hook("pack(name=None)"), "None is not a name", None),
    "name-empty": (hook("pack(name='')"), "is not a name", None),
    "name-path": (hook("pack(name='../x')"), "is not a name", None),
    "version-number": (hook("pack(version=3)"), "version is no text", None),
    "rules-none": (hook("Pack('acme', INTERFACE, rules=None)"), "not lists", None),
    "rules-one": (hook("Pack('acme', INTERFACE, rules=GOOD)"), "not lists", None),
    "sound-list": (hook("pack(sound=[1])"), "sound spec", None),
    "section-dict": (hook("pack(section={})"), "not a Section model", None),
    "section-instance": (hook("pack(section=Part())"), "not a Section model", None),
    "section-taken": (hook("pack(name='engine', section=Part)"), "[engine], which the build spec has already", None),
    "section-reserved": (hook("pack(name='copy', section=Part)"), "a name that no section can have", None),
    "section-untyped": (hook("pack(section=Own)", "class Own(Section):\n    n: int = 3"), "not sound", None),
    "section-deep": (
        hook(
            "pack(section=Own)", "class A(Section):\n    n: int = 3\nclass Own(Section):\n    a: A = fields.part('x')"
        ),
        "not sound",
        None,
    ),
    "section-unit": (
        hook(
            "pack(section=Own)",
            "class Own(Section):\n    n: float = fields.measure('', 'mass', 'mm', typical=1, plausible=None, where='')",
        ),
        "not sound",
        None,
    ),
    "section-endless": (
        hook("pack(section=Own)", "class Own(Section):\n    own: 'Own' = fields.part('x')\nOwn.model_rebuild()"),
        "not sound",
        None,
    ),
}


@pytest.mark.parametrize("name", NOT_LOADED)
def test_a_pack_that_cannot_be_loaded_costs_only_itself(name: str, tmp_path: Path) -> None:
    body, words, line = NOT_LOADED[name]
    other = pack_file(tmp_path, hook("pack(name='other')"), name="other.py")
    base = load_rule_base([pack_file(tmp_path, body), other], installed=False)
    problem = only_problem(base)
    assert (problem.about, problem.pack, problem.rule) == ("pack", "acme.py", None)
    assert words in problem.what
    assert "\n" not in problem.what
    assert str(tmp_path) not in problem.what
    if line is not None:
        assert problem.file is not None
        assert problem.file.endswith("acme.py")
        assert problem.line == FIRST + line
    assert [p.name for p in base.packs] == ["other"]
    assert inspected(base)[0].findings[0].kind == "pass"


@pytest.mark.parametrize(
    "body",
    ["while True: pass\n", "import time\ntime.sleep(60)\n", hook("f()", "def f():\n    while True: pass")],
)
def test_a_pack_that_never_ends_is_left_out(body: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(swaplint.host.packs, "PACK_SECONDS", 0.2)
    problem = only_problem(loaded(tmp_path, body))
    assert (problem.about, problem.pack) == ("pack", "acme.py")
    assert "longer than 0.2 s" in problem.what


@pytest.mark.parametrize("name", ["none.py", ".", "notes.txt", "a\0b"])
def test_a_file_that_is_no_pack(name: str, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("no code")
    base = load_rule_base([str(tmp_path / name)], installed=False)
    assert only_problem(base).about == "pack"


def test_a_second_pack_of_the_same_name_is_left_out(tmp_path: Path) -> None:
    files = [pack_file(tmp_path, hook("pack()"), name="one.py"), pack_file(tmp_path, hook("pack()"), name="two.py")]
    base = load_rule_base(files, installed=False)
    problem = only_problem(base)
    assert (problem.pack, problem.what) == ("two.py", "another pack is called 'acme' already")
    assert len(base.packs) == 1


def test_two_files_of_the_same_name(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    files = [
        pack_file(tmp_path / "a", hook("pack(name='one')"), name="x.py"),
        pack_file(tmp_path / "b", hook("Pack('two', 1, rules=[made('fit.two')])"), name="x.py"),
    ]
    base = load_rule_base(files, installed=False)
    assert len(base.packs) + len(base.problems) == 2
    assert all(problem.about == "pack" for problem in base.problems)


def test_what_a_pack_prints_goes_to_standard_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    loaded(tmp_path, "print('at import')\n" + hook("print('in the hook') or pack()"))
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == "at import\nin the hook\n"


# -- a rule that is declared wrongly -------------------------------------------------------------------------
BAD_RULES = {
    "no-rule": ("'fit.x'", "a str is in the pack's rules"),
    "function": ("len", "is no rule"),
    "id-one-word": ("made('acme')", "is not a rule id"),
    "id-capital": ("made('fit.Acme')", "is not a rule id"),
    "id-space": ("made('fit.a b')", "is not a rule id"),
    "id-none": ("made(None)", "is not a rule id"),
    "id-newline": ("made('fit.acme\\n')", "is not a rule id"),
    "id-unknown-system": ("made('colour.acme')", "'colour' is not a system"),
    "id-taken-in-the-pack": ("made('fit.acme')", "the id fit.acme is taken already by the pack acme"),
    "alias-taken": ("made('fit.two', aliases=['fit.acme'])", "fit.acme is taken already"),
    "alias-malformed": ("made('fit.two', aliases=['old'])", "alias 'old' is not a rule id"),
    "alias-number": ("made('fit.two', aliases=[3])", "as texts"),
    "changed-no-version": ("made('fit.two', changed={'soon': 'It looks at more.'})", "`changed` names versions"),
    "changed-no-sentence": ("made('fit.two', changed={'1.0': 3})", "each with a sentence"),
    "level": ("made('fit.two', level='fatal')", "level 'fatal' is not one of"),
    "due": ("made('fit.two', due='never')", "due stage 'never' is not one of"),
    "no-source": ("made('fit.two', sources=[])", "cites at least one source"),
    "source-text": ("made('fit.two', sources=['a book'])", "cites at least one source"),
    "source-that-gives-nothing": ("made('fit.two', sources=[practice('invented')])", "gives nothing"),
    "source-without-field": ("made('fit.two', sources=[sheet(None)])", "path of a field"),
    "cautions": ("made('fit.two', cautions=[3])", "cautions are lines of text"),
    "no-docstring": ("made('fit.two', lambda b: None, doc=None)", "starts with the question"),
    "no-question": ("made('fit.two', lambda b: None, doc='It is.\\n\\nComputes: a')", "ending in '?'"),
    "paragraphs-missing": (
        "made('fit.two', lambda b: None, doc='Is it?\\n\\nComputes: a\\nLimit: b\\nConsequence: d\\nRemedy: c')",
        "lacks the paragraphs Cannot tell:",
    ),
    "no-examples": ("made('fit.two', bad=[], good=[])", "at least one bad and one good example"),
    "examples": ("made('fit.two', bad=['engine'])", "a mapping from field path"),
    "no-subject": ("made('fit.two', about='')", "which field its findings point at"),
    "each": ("made('fit.two', each=3)", "`each` is a function"),
    "fallbacks": ("made('fit.two', fallbacks=[3])", "fallbacks are declared with Practice"),
    "without-no-sentence": ("made('fit.two', without={'engine.cylinders': 'because'})", "says of 'engine.cylinders'"),
    "without-number": ("made('fit.two', without={'engine.cylinders': 3})", "says of 'engine.cylinders' in a sentence"),
    "without-unknown": ("made('fit.two', without={'engine.x': 'No such engine has one.'})", "the field engine.x"),
    "instead-of-nothing": ("made('fit.two', instead={'engine.cylinders': ()})", "name fields as texts"),
    "instead-unknown": ("made('fit.two', instead={'engine.cylinders': 'engine.y'})", "the field engine.y"),
    "instead-and-without": (
        "made('fit.two', without={'engine.bore': 'All have the same.'}, instead={'engine.bore': 'engine.stroke'})",
        "engine.bore stands in `without` and in `instead`",
    ),
    "unknown-about": ("made('fit.two', about='engine.cylindres')", "the field engine.cylindres, which the build spec"),
    "unknown-adjust": ("made('fit.two', adjust=['plumbing.nothing'])", "plumbing.nothing"),
    "adjust-text": ("made('fit.two', adjust='engine.cylinders')", "the field e,"),
    "adjust-number": ("made('fit.two', adjust=[3])", "as texts"),
    "malformed-path": ("made('fit.two', about='driveline.gearbox.ratios[0]')", "ratios[0]"),
    "malformed-name": ("made('fit.two', about='driveline.axles.a]b.ratio')", "a]b"),
    "unknown-source-field": ("made('fit.two', sources=[sheet('engine.nothing')])", "engine.nothing"),
    "unknown-example-field": ("made('fit.two', bad=[{'engine.nothing': 1}])", "engine.nothing"),
}


@pytest.mark.parametrize("name", BAD_RULES)
def test_a_rule_that_is_declared_wrongly_costs_only_itself(name: str, tmp_path: Path) -> None:
    made, words = BAD_RULES[name]
    base = loaded(tmp_path, hook(f"pack({made}, made('fit.last'))"))
    problem = only_problem(base)
    assert (problem.about, problem.pack) == ("rule", "acme")
    assert words in problem.what
    if not made.startswith(("'", "len")):
        assert problem.file is not None
        assert problem.file.endswith("acme.py")
        assert problem.line is not None
    assert ids(base) == ["fit.acme", "fit.last"]
    assert [f.kind for f in inspected(base)[0].findings] == ["pass", "pass"]


def test_the_ids_of_built_in_rules_are_taken(tmp_path: Path) -> None:
    base = load_rule_base([pack_file(tmp_path, hook("pack(made('gearing.cruise-rpm'))"))])
    problem = only_problem(base)
    assert "gearing.cruise-rpm is taken already by the pack gearing" in problem.what
    rule = base.find("gearing.cruise-rpm")
    assert rule is not None
    assert rule.function.__module__.startswith("swaplint_rules")
    assert "fit.acme" in ids(base)


def test_stars_and_items_in_paths(tmp_path: Path) -> None:
    base = loaded(
        tmp_path,
        hook(
            "pack(made('fit.two', about='driveline.axles.*.ratio'), made('fit.three', about='supply[].item'),"
            " made('fit.four', about='engine.torque_curve[*].torque'),"
            " made('fit.five', about='driveline.gearbox.ratios[5]'))"
        ),
    )
    assert not base.problems
    inspection, problems = inspected(base, SPEC + "[[supply]]\nitem = 'x'\n")
    assert not problems
    assert {f.rule.id: f.subject for f in inspection.findings} == {
        "fit.acme": "engine",
        "fit.two": "driveline.axles",
        "fit.three": "supply",
        "fit.four": "engine.torque_curve",
        "fit.five": "driveline.gearbox.ratios[5]",
    }


BAD_QUANTITIES = {
    "none": ("[3]", "a int is in the pack's quantities"),
    "id": ("[q('acme')]", "is not a quantity id"),
    "kind": ("[q('fit.x', 'weight', 'kg')]", "'weight' is not a kind of quantity"),
    "unit": ("[q('fit.x', 'mass', 'mm')]", "mm"),
    "unit-alone": ("[q('fit.x', '', 'kg')]", "names its kind"),
    "twice": ("[q('fit.x'), q('fit.x')]", "taken already"),
    "no-formula": ("[q('fit.x', formula='')]", "states its formula"),
    "no-title": ("[q('fit.x', doc=None)]", "needs a docstring"),
    "no-source": ("[q('fit.x', sources=[])]", "its formula and its sources"),
    "source-that-gives-nothing": (
        "[q('fit.x', sources=[practice('invented')])]",
        "'invented' gives nothing; say which",
    ),
    "without": ("[q('fit.x', without={'engine.cylinders': 'because'})]", "says of 'engine.cylinders' in a sentence"),
    "without-unknown": ("[q('fit.x', instead={'engine.x': 'engine.cylinders'})]", "the field engine.x"),
}


@pytest.mark.parametrize("name", BAD_QUANTITIES)
def test_a_quantity_that_is_declared_wrongly_costs_only_itself(name: str, tmp_path: Path) -> None:
    made, words = BAD_QUANTITIES[name]
    q = """
    def q(id, kind='', unit='', formula='x', doc='A number.', sources=[practice('invented').giving('formula')], **more):
        def f(build): return 1.0
        f.__doc__ = doc
        return quantity(id, kind, unit, formula=formula, sources=sources, **more)(f)
    """
    base = loaded(tmp_path, hook(f"pack(quantities={made})", q))
    problem = only_problem(base)
    assert problem.pack == "acme"
    assert words in problem.what
    assert ids(base) == ["fit.acme"]


@pytest.mark.parametrize("returns", ["float('nan')", "float('inf')", "'3'", "None", "True", "[1.0]", "1/0", "10**400"])
def test_a_quantity_that_returns_nonsense_costs_the_rules_that_use_it(returns: str, tmp_path: Path) -> None:
    before = f'''
    @quantity("fit.odd", formula="none", sources=[practice("invented").giving("formula")])
    def odd(build):
        """A number."""
        return {returns}
    '''
    base = loaded(tmp_path, hook("pack(made('fit.user', lambda b: at_most(odd(b), 1.0)), quantities=[odd])", before))
    assert not base.problems
    inspection, (problem,) = inspected(base)
    assert [f.rule.id for f in inspection.findings] == ["fit.acme"]
    assert (problem.about, problem.pack, problem.rule) == ("rule", "acme", "fit.user")
    assert problem.file is not None
    assert problem.file.endswith("acme.py")


# -- fields of a pack's own ----------------------------------------------------------------------------------
OWN = '''
class Hoist(Part):
    """An invented hoist."""
    load: float = fields.measure("load", "mass", "kg", typical=500, plausible=(1, 5000), where=fields.LOOK)
    rated: float = fields.measure("rated load", "mass", "kg", typical=600, plausible=(1, 5000), where=fields.LOOK)

HOIST = made("fit.hoist", lambda b: at_most(section_of(b, Hoist).load, section_of(b, Hoist).rated),
             about="lift_shop.load", adjust=["lift_shop.load"], sources=[sheet("lift_shop.rated")],
             bad=[{"lift_shop.load": "700 kg"}], good=[{"lift_shop.load": "100 kg"}])
'''


@pytest.fixture
def own(tmp_path: Path) -> RuleBase:
    return loaded(tmp_path, hook("pack(HOIST, name='lift-shop', section=Hoist)", OWN))


@pytest.mark.parametrize(
    ("toml", "kind", "unknown"),
    [
        ("lift_shop.load = '800 kg'\nlift_shop.rated = '500 kg'\n", "fail", ()),
        ("lift_shop.load = '400 kg'\nlift_shop.rated = '500 kg'\n", "pass", ()),
        ("lift_shop.load = '400 kg'\n", "open", ("lift_shop.rated",)),
        ("", "open", ("lift_shop.load", "lift_shop.rated")),
        ("lift_shop.fitted = false\n", "notApplicable", ()),
    ],
)
def test_a_rule_reads_the_section_of_its_pack(own: RuleBase, toml: str, kind: str, unknown: tuple[str, ...]) -> None:
    assert not own.problems
    inspection, problems = inspected(own, toml + SPEC)
    assert not problems
    found = {f.rule.id: f for f in inspection.findings}["fit.hoist"]
    assert (found.kind, found.unknown) == (kind, unknown)
    if found.found is not None:
        assert (found.quantity, found.unit) == ("mass", "kg")


def test_the_section_of_a_pack_is_checked_like_any_other(own: RuleBase) -> None:
    from swaplint.spec.loading import SpecErrors

    with pytest.raises(SpecErrors, match="did you mean 'load'") as caught:
        load_text("[lift_shop]\nlod = '3 kg'\n", model=own.model)
    assert caught.value.errors[0].line == 2
    with pytest.raises(SpecErrors, match="no field 'lift_shop'"):
        load_text("[lift_shop]\n")
    assert path_exists(own.model, "lift_shop.load")
    assert not path_exists(Build, "lift_shop.load")


def test_the_section_of_a_pack_that_did_not_load_is_passed_over(tmp_path: Path) -> None:
    base = loaded(tmp_path, hook("pack(HOIST, name='lift-shop', section=Hoist, interface=9)", OWN), name="lift-shop.py")
    assert base.unread == {"lift_shop"}
    base = loaded(tmp_path, hook("pack(interface=9)") + "1/0", name="engine.py")
    assert base.unread == set()  # a section of the build spec itself is always read


# -- the whole command, and packs that are installed ---------------------------------------------------------
def run(folder: Path, *arguments: str, path: Path | None = None) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(path) if path else ""}
    return subprocess.run(
        [sys.executable, "-c", _MAIN, *arguments],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


_MAIN = "import sys; from swaplint.cli import main; sys.exit(main())"


def test_a_broken_rule_in_a_whole_run(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_text(SPEC)
    body = hook(
        "pack(made('fit.broken', broken), made('supply.slow', slow))",
        """
        def broken(build):
            print("chatter")
            raise RuntimeError("\\x1b[31mred")
        def slow(build):
            while True: pass
        """,
    )
    pack_file(tmp_path, body)
    alone = run(tmp_path, "inspect", "s.toml", "--format", "json")
    ran = run(tmp_path, "inspect", "s.toml", "--pack", "acme.py", "--format", "json")
    assert ran.returncode == 3
    data, before = json.loads(ran.stdout), json.loads(alone.stdout)
    results = [r for r in data["specs"][0]["results"] if r["rule"] != "fit.acme"]
    assert results == before["specs"][0]["results"]  # everything else is reported as before
    assert [(p["pack"], p["rule"], p["file"], p["line"]) for p in data["problems"]] == [
        ("acme", "fit.broken", "acme.py", FIRST + 3),
        ("acme", "supply.slow", "acme.py", FIRST + 4),
    ]
    assert "chatter" in ran.stderr
    assert f"pack acme rule fit.broken: acme.py, line {FIRST + 3}" in ran.stderr
    assert "\x1b" not in ran.stderr


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A folder as pip leaves one behind: a package with its metadata."""
    folder = tmp_path / "site"
    folder.mkdir()
    return folder


def install(site: Path, name: str, entry_points: str, body: str) -> None:
    module = name.replace("-", "_")
    (site / module).mkdir()
    pack_file(site / module, body, name="__init__.py")
    info = site / f"{module}-2.5.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 2.5\n")
    (info / "entry_points.txt").write_text(entry_points)


def test_an_installed_pack(tmp_path: Path, site: Path) -> None:
    (tmp_path / "s.toml").write_text(SPEC)
    install(site, "acme-rules", "[swaplint]\nacme = acme_rules\n", hook("pack()"))
    ran = run(tmp_path, "inspect", "s.toml", "--format", "json", path=site)
    data = json.loads(ran.stdout)
    assert {"name": "acme", "version": "2.5"} in data["tool"]["packs"]
    assert data["tool"]["packs"][-1]["name"] == "acme"  # the built-in ones come first
    assert [r["kind"] for r in data["specs"][0]["results"] if r["rule"] == "fit.acme"] == ["pass"]
    assert data["problems"] == []


NOT_INSTALLED_WELL = {
    "exits": ("exits_rules", "raise SystemExit\n"),
    "breaks": ("breaks_rules", "import os\nos.environ['NOTHING_OF_THE_KIND']\n"),
    "deeper": ("deeper_rules.nothing", hook("pack()")),
    "without": ("without_rules:nothing", hook("pack()")),
    "rule": ("rule_rules:GOOD", hook("pack()")),
    "words": ("not a module", hook("pack()")),
    "empty": ("", hook("pack()")),
}
"""Installed packs that do not load, by name: the entry point and the module that it should name."""


def test_installed_packs_that_do_not_load_cost_themselves_alone(tmp_path: Path, site: Path) -> None:
    """All in one call, and beside them one that loads but takes the id of a built-in rule."""
    sections = "".join(f"[{name}]\nload = 3\n" for name in NOT_INSTALLED_WELL)
    (tmp_path / "s.toml").write_text(SPEC + sections)
    for name, (entry, body) in NOT_INSTALLED_WELL.items():
        install(site, f"{name}-rules", f"[swaplint]\n{name} = {entry}\n", body)
    install(site, "aaa", "[swaplint]\naaa = aaa\n", hook("Pack('aaa', INTERFACE, rules=[made('gearing.cruise-rpm')])"))
    ran = run(tmp_path, "inspect", "s.toml", "--format", "json", path=site)
    assert ran.returncode == 3, ran.stderr
    data = json.loads(ran.stdout)
    told = [(problem["pack"], problem["rule"]) for problem in data["problems"]]
    assert sorted(told, key=str) == [
        ("aaa", "gearing.cruise-rpm"),
        *((name, None) for name in sorted(NOT_INSTALLED_WELL)),
    ]
    results = data["specs"][0]["results"]
    assert len(results) > 10
    assert any(result["rule"] == "gearing.cruise-rpm" for result in results)
    assert "Traceback" not in ran.stderr


# -- what is declared of the wrong kind --------------------------------------------------------------------------
def test_an_unknown_kind_of_field_is_told_in_a_sentence(tmp_path: Path) -> None:
    section = """
    class Acme(Section):
        "Fields of acme."
        height: float = fields.measure("a height", "lenght", "mm", typical=3, plausible=(1, 5), where=fields.TAPE)
    """
    problem = only_problem(loaded(tmp_path, hook("pack(section=Acme)", section)))
    assert "'a height': 'lenght' is not a kind of value; did you mean 'length'?" in problem.what
    assert "KeyError" not in problem.what


HOSE = """
@quantity("fit.acme-hose", "{kind}", "{unit}", formula="its length", sources=[practice("invented").giving("formula")])
def hose(build):
    "Hose that it takes."
    return build.plumbing.fuel.supply.length

def judged(build):
    return at_most(hose(build), 3.0)

JUDGED = made("fit.acme-judged", judged)
"""


@pytest.mark.parametrize(
    ("kind", "unit", "says"),
    [
        ("foo", "kg", "the quantity fit.acme-hose is not declared soundly: 'foo' is no kind of value"),
        ("mass", "kg", "returned plumbing.fuel.supply.length, which is a length and not a mass"),
    ],
)
def test_a_quantity_of_the_wrong_kind_is_told_in_a_sentence(tmp_path: Path, kind: str, unit: str, says: str) -> None:
    base = loaded(tmp_path, hook("pack(JUDGED, quantities=[hose])", HOSE.format(kind=kind, unit=unit)))
    _, problems = inspected(base, "[plumbing.fuel.supply]\nlength = '4 m'\n")
    told = [problem.what for problem in problems]
    assert len(told) == 1
    assert says in told[0]
    assert not any("KeyError" in problem.what for problem in [*base.problems, *problems])


def test_a_quantity_of_the_right_dimension_is_taken(tmp_path: Path) -> None:
    base = loaded(tmp_path, hook("pack(JUDGED, quantities=[hose])", HOSE.format(kind="length", unit="mm")))
    inspection, problems = inspected(base, "[plumbing.fuel.supply]\nlength = '4 m'\n")
    assert problems == []
    assert [f.kind for f in inspection.findings if f.rule.id == "fit.acme-judged"] == ["fail"]


# -- packs that are loaded by their file ---------------------------------------------------------------------------
@pytest.mark.parametrize(("stated", "version"), [("", "unversioned"), ("__version__ = '1.4'", "1.4")])
def test_a_pack_file_has_the_version_that_it_states(tmp_path: Path, stated: str, version: str) -> None:
    base = loaded(tmp_path, hook("pack()", stated))
    assert [pack.version for pack in base.packs] == [version]


@pytest.mark.parametrize("broken", ["1/0", "def ("])
def test_the_section_of_a_pack_file_that_cannot_be_imported_is_passed_over(tmp_path: Path, broken: str) -> None:
    body = hook("Pack('lift-shop', interface=INTERFACE, section=None)") + broken
    base = loaded(tmp_path, body, name="some_file.py")
    assert len(base.problems) == 1
    assert "lift_shop" in base.unread
