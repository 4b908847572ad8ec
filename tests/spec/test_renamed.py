"""Old names of fields: read as today's, at their own places, and told once."""

from __future__ import annotations

import re
import time
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.spec import fields, renamed
from swaplint.spec.editing import rename
from swaplint.spec.facts import FormerNames
from swaplint.spec.fields import LOOK, TAPE, Part, Section, items, measure, part, parts, text
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load, load_spec, load_text
from swaplint.spec.model import Build
from swaplint.spec.paths import path_text
from swaplint.spec.refusals import MOST
from swaplint.spec.renamed import former_names, notices, path_today
from swaplint.spec.shape import every_field, members
from swaplint.spec.toml_source import PathKey, read_bytes


class Tyre(Section):
    """A tyre."""

    make: str = text("who made it", typical="invented", where=LOOK, was=("maker",))


class Wheel(Part):
    """A wheel."""

    size: float = measure(
        "its diameter", "length", "mm", typical=600, plausible=(100, 2000), where=TAPE, was=("diameter", "dia")
    )
    width: float = measure("its width", "length", "mm", typical=90, plausible=(10, 500), where=TAPE)
    tyre: Tyre = part("its tyre", was=("rubber",))


class Load(Section):
    """What lies on it."""

    what: str = text("what it is", typical="hay", where=LOOK, was=("name",))


class Cart(Section):
    """A cart, for a model with former names."""

    wheels: dict[str, Wheel] = parts("the wheels", was=("rollers",))
    loads: list[Load] = items("what lies on it", was=("cargo",))
    drawbar: Wheel = part("a part with a sheet of its own")
    owner: Tyre = part("somebody")


def cart(toml: str) -> LoadedSpec:
    return load_text(toml, label="cart.toml", model=Cart)


def value(spec: LoadedSpec, path: str) -> object:
    stated = spec.stated(path)
    return None if stated is None else stated.written


def where(spec: LoadedSpec, path: str, *, want_key: bool = False) -> tuple[str, int, int]:
    place = spec.place(path, want_key=want_key)
    return place.file, place.line, place.column


def errors(toml: str) -> list[tuple[int, int, str]]:
    with pytest.raises(SpecErrors) as caught:
        cart(toml)
    return [(error.line, error.column, error.what) for error in caught.value.errors]


@pytest.fixture
def moved(monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """A table of moves of its own, to be filled in."""
    table: dict[str, str] = {}
    monkeypatch.setattr(renamed, "MOVED", table)
    return table


OLD = """\
[rollers.left]
diameter = "600 mm"
rubber = { maker = "A" }

[[cargo]]
name = "hay"
[[cargo]]
what = "straw"
"""
NEW = OLD.replace("rollers", "wheels").replace("diameter", "size")
NEW = NEW.replace("rubber", "tyre").replace("maker", "make").replace("cargo", "loads").replace("name", "what")


# -- another name in the same section ---------------------------------------------------------------------------------
def test_old_names_mean_the_same() -> None:
    assert cart(OLD).build == cart(NEW).build
    assert value(cart(OLD), "wheels.left.size") == "600 mm"


def test_places_are_those_of_the_old_names() -> None:
    spec = cart(OLD)
    assert where(spec, "wheels.left.size") == ("cart.toml", 2, 12)
    assert where(spec, "wheels.left.size", want_key=True) == ("cart.toml", 2, 1)
    assert where(spec, "wheels.left.tyre.make") == ("cart.toml", 3, 20)
    assert where(spec, "loads[1].what") == ("cart.toml", 6, 8)
    assert where(spec, "loads[2].what") == ("cart.toml", 8, 8)
    assert spec.act_place("wheels.left.width").line == 1


def test_a_wrong_value_is_told_at_its_place() -> None:
    assert [(line, column) for line, column, _ in errors(OLD.replace("600 mm", "600 kg"))] == [(2, 12)]


@pytest.mark.parametrize(
    ("first", "second", "line"),
    [("size", "dia", 3), ("dia", "size", 3), ("diameter", "dia", 3)],
)
def test_two_names_of_one_field_are_refused_at_the_second(first: str, second: str, line: int) -> None:
    [(where, column, what)] = errors(f'[wheels.left]\n{first} = "600 mm"\n{second} = "600 mm"\n')
    assert (where, column) == (line, 1)
    assert "both are stated, here and in line 2: keep one of them" in what
    assert "wheels.left.size" in what


def test_a_name_that_is_a_field_today_is_no_old_name() -> None:
    class Swapped(Section):
        a: str = text("one", typical="x", where=LOOK, was=("b",))
        b: str = text("other", typical="x", where=LOOK)

    assert former_names(Swapped) == {}


@pytest.mark.parametrize(
    "declare",
    [
        lambda was: fields.measure("x", "length", "mm", typical=1, plausible=None, where=TAPE, was=was),
        lambda was: fields.number("x", typical=1, plausible=None, where=TAPE, was=was),
        lambda was: fields.count("x", typical=1, plausible=None, where=TAPE, was=was),
        lambda was: fields.flag("x", typical=True, where=TAPE, was=was),
        lambda was: fields.word("x", "a", "b", typical="a", where=TAPE, was=was),
        lambda was: fields.text("x", typical="a", where=TAPE, was=was),
        lambda was: fields.day("x", typical="2026-01-01", where=TAPE, was=was),
        lambda was: fields.part("x", was=was),
        lambda was: fields.parts("x", was=was),
        lambda was: fields.items("x", was=was),
        lambda was: fields.numbers("x", typical=[1], plausible=None, where=TAPE, was=was),
        lambda was: fields.words("x", typical="a", where=TAPE, was=was),
        lambda was: fields.counts("x", typical=1, plausible=None, where=TAPE, was=was),
    ],
)
def test_every_kind_of_field_may_have_had_another_name(declare: object) -> None:
    info = declare(("before",))  # type: ignore[operator]
    assert [entry.names for entry in info.metadata if isinstance(entry, FormerNames)] == [("before",)]
    assert info.description == "x"


# -- data sheets ------------------------------------------------------------------------------------------------------
def with_sheet(folder: Path, spec: str, sheet: str) -> LoadedSpec:
    (folder / "wheel.toml").write_text(sheet, encoding="utf-8")
    (folder / "cart.toml").write_text(spec, encoding="utf-8")
    return load_spec(str(folder / "cart.toml"), model=Cart)


def test_old_names_in_a_data_sheet(tmp_path: Path) -> None:
    spec = with_sheet(
        tmp_path, '[rollers.a]\nsheet = "wheel.toml"\n', '[document]\ntitle = "T"\n[rubber]\nmaker = "A"\n'
    )
    assert value(spec, "wheels.a.tyre.make") == "A"
    place = spec.place("wheels.a.tyre.make")
    assert (Path(place.file).name, place.line, place.column) == ("wheel.toml", 4, 9)
    assert (spec.act_place("wheels.a.tyre.make").line, spec.act_place("wheels.a.tyre.make").column) == (2, 9)
    document = spec.document("wheels.a.tyre.make")
    assert document is not None
    assert document.title == "T"


@pytest.mark.parametrize(("own", "sheets"), [("size", "dia"), ("dia", "size"), ("dia", "diameter")])
def test_the_spec_wins_over_its_sheet_under_any_name(tmp_path: Path, own: str, sheets: str) -> None:
    spec = with_sheet(
        tmp_path, f'[drawbar]\nsheet = "wheel.toml"\n{own} = "1 m"\n', f'{sheets} = "2 m"\nwidth = "9 cm"\n'
    )
    assert value(spec, "drawbar.size") == "1 m"
    assert value(spec, "drawbar.width") == "9 cm"
    assert spec.place("drawbar.size").line == 3


def test_two_names_in_a_sheet_are_told_once_however_many_parts_use_it(tmp_path: Path) -> None:
    both = '[wheels.a]\nsheet = "wheel.toml"\n[wheels.b]\nsheet = "wheel.toml"\n'
    with pytest.raises(SpecErrors) as caught:
        with_sheet(tmp_path, both, 'size = "1 m"\ndia = "1 m"\n')
    [error] = caught.value.errors
    assert (Path(error.file).name, error.line, error.column) == ("wheel.toml", 2, 1)


# -- another section --------------------------------------------------------------------------------------------------
def test_a_field_of_every_part_moves(moved: dict[str, str]) -> None:
    moved["hubs.*.bore"] = "wheels.*.size"
    spec = cart('[hubs.left]\nbore = "600 mm"\n[wheels.left]\nwidth = "9 cm"\n[hubs.right]\nbore = "500 mm"\n')
    assert [value(spec, f"wheels.{name}.size") for name in ("left", "right")] == ["600 mm", "500 mm"]
    assert where(spec, "wheels.right.size") == ("cart.toml", 6, 8)
    assert where(spec, "wheels.left.width") == ("cart.toml", 4, 9)
    assert "hubs" not in spec.file.data, "a table that is known no more and has been emptied is gone"


def test_a_part_moves_and_its_fields_are_renamed_there(moved: dict[str, str]) -> None:
    moved["tow.bar"] = "drawbar"
    spec = cart('[tow.bar]\ndia = "600 mm"\n[tow.bar.rubber]\nmaker = "A"\n')
    assert value(spec, "drawbar.size") == "600 mm"
    assert where(spec, "drawbar.tyre.make") == ("cart.toml", 4, 9)
    assert [(line, old, new) for line, old, new in spec.file.told()][:2] == [  # type: ignore[attr-defined]
        (1, "tow.bar", "drawbar"),
        (2, "tow.bar.dia", "drawbar.size"),
    ]


def test_what_moved_twice_is_taken_on(moved: dict[str, str]) -> None:
    moved["first.bore"] = "second.bore"
    moved["second.bore"] = "drawbar.size"
    spec = cart('[first]\nbore = "600 mm"\n')
    assert value(spec, "drawbar.size") == "600 mm"
    assert where(spec, "drawbar.size") == ("cart.toml", 2, 8)
    assert path_today(Cart, "first.bore") == "drawbar.size"


def test_both_the_old_and_the_new_path_are_refused_at_the_second(moved: dict[str, str]) -> None:
    moved["owner.girth"] = "drawbar.size"
    [(line, column, what)] = errors('[drawbar]\nsize = "1 m"\n[owner]\ngirth = "1 m"\n')
    assert (line, column) == (4, 1)
    assert what.startswith(
        "owner.girth is what drawbar.size was called before, and both are stated, here and in line 2"
    )


def test_an_item_of_a_list_moves(moved: dict[str, str]) -> None:
    moved["loads.*.label"] = "loads.*.what"
    assert value(cart('[[loads]]\nwhat = "hay"\n[[loads]]\nlabel = "straw"\n'), "loads[2].what") == "straw"
    assert path_today(Cart, "loads[2].label") == "loads[2].what"


def test_a_sheet_may_state_what_is_outside_its_part_now(tmp_path: Path, moved: dict[str, str]) -> None:
    moved["drawbar.brand"] = "owner.make"
    moved["drawbar.girth"] = "drawbar.size"
    sheet = 'girth = "1 m"\nbrand = "B"\n'
    spec = with_sheet(tmp_path, '[drawbar]\nsheet = "wheel.toml"\n', sheet)
    assert (value(spec, "drawbar.size"), value(spec, "owner.make")) == ("1 m", "B")
    assert spec.place("drawbar.size").line == 1
    place = spec.place("owner.make")
    assert (Path(place.file).name, place.line, place.column) == ("wheel.toml", 2, 9)
    assert spec.act_place("owner.make").line >= 1
    own = with_sheet(tmp_path, '[drawbar]\nsheet = "wheel.toml"\n[owner]\nmake = "C"\n', sheet)
    assert value(own, "owner.make") == "C"
    told = notices(own.files())
    assert any("brand is owner.make of the spec now" in line and "by hand" in line for line in told)


def test_what_cannot_be_moved_is_told_of(moved: dict[str, str]) -> None:
    moved["old.x"] = "drawbar.size"
    told = errors('drawbar = 5\n[old]\nx = "1 m"\n')
    assert any("drawbar takes a table" in what for _, _, what in told)


# -- notices ----------------------------------------------------------------------------------------------------------
def test_old_names_are_told_once_for_all_alike_parts() -> None:
    spec = cart('[wheels.a]\nwidth = "9 cm"\ndia = "1 m"\n[wheels.b]\ndia = "1 m"\n')
    assert notices(spec.files()) == [
        "cart.toml, line 3: wheels.a.dia is called wheels.a.size now; 'swaplint upgrade cart.toml' rewrites it."
    ]
    assert notices(cart(NEW).files()) == []


def test_notices_of_sheets_and_standard_input(tmp_path: Path) -> None:
    spec = with_sheet(tmp_path, '[drawbar]\nsheet = "wheel.toml"\n', 'dia = "1 m"\n')
    [told] = notices(spec.files())
    assert told.endswith(f"dia is called size now; 'swaplint upgrade {spec.label} --sheets-too' rewrites it.")
    piped = load(read_bytes(b'[drawbar]\ndia = "1 m"\n', "standard input"), tmp_path, model=Cart)
    [told] = notices(piped.files())
    assert "'swaplint upgrade -' rewrites it" in told


def test_many_old_names_are_counted() -> None:
    spec = cart(OLD + '[drawbar]\ndia = "1 m"\n[owner]\nmaker = "B"\n')
    told = notices(spec.files())
    assert len(told) == renamed.MOST_TOLD + 1
    assert told[-1] == "cart.toml: 2 more old names."


def test_many_old_names_are_read_in_no_time() -> None:
    listed = "".join(f'{{ name = "{n}" }},' for n in range(390))
    both = "".join(f'{{ name = "{n}", what = "x" }},' for n in range(9000))
    start = time.perf_counter()
    spec = cart(f"cargo = [{listed}]\n")
    assert spec.place("loads[390].what").line == 1
    assert len(errors(f"cargo = [{both}]\n")) <= MOST + 1
    assert time.perf_counter() - start < 10


# -- paths that calls and packs name ----------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("path", "today"),
    [
        ("rollers.left.diameter", "wheels.left.size"),
        ("rollers.*.rubber.maker", "wheels.*.tyre.make"),
        ("rollers.*[diameter=600].width", "wheels.*[size=600].width"),
        ("wheels.diameter.dia", "wheels.diameter.size"),
        ("cargo[3].name", "loads[3].what"),
        ("cargo[].name", "loads[].what"),
        ("hubs.*[role=front].bore", "wheels.*[role=front].size"),
        ("hubs.x.bore", "wheels.x.size"),
        ("no.such.field", "no.such.field"),
        ("", ""),
        ("..", ".."),
    ],
)
def test_paths_are_put_into_todays_names(moved: dict[str, str], path: str, today: str) -> None:
    moved["hubs.*.bore"] = "wheels.*.size"
    assert path_today(Cart, path) == today


PACK = """
from swaplint.api import *
from swaplint.api import fields

class Own(Section):
    reach: float = fields.measure("how far", "length", "mm", typical=100, plausible=(1, 1000), where=fields.TAPE,
                                  was=("range",))

@rule("fit.reach", level="error", due="plan", adjust=["my_pack.range"], about="my_pack.range",
      sources=[sheet("my_pack.range").giving("limit", "the reach")],
      bad=[{"my_pack.range": "10 mm"}], good=[{"my_pack.range": "200 mm"}])
def reach(build):
    '''Does it reach?

    Computes: nothing, it compares.
    Limit: a hand.
    Remedy: a longer one.
    Cannot tell: whether it bends.
    Consequence: it does not reach.
    '''
    return at_least(build.my_pack.reach, 0.1, "length", "the reach")

@hookimpl
def swaplint_pack():
    return Pack("my-pack", interface=INTERFACE, rules=[reach], section=Own, sound={"my_pack.range": "150 mm"})
"""


def test_a_pack_may_name_fields_by_their_old_names(tmp_path: Path) -> None:
    (tmp_path / "my_pack.py").write_text(PACK, encoding="utf-8")
    base = load_rule_base([str(tmp_path / "my_pack.py")], installed=False)
    assert [problem.what for problem in base.problems] == []
    [rule] = [rule for _, rule in base.rules]
    assert (rule.adjust, rule.about, rule.sources[0].field) == (("my_pack.reach",), *["my_pack.reach"] * 2)
    assert (rule.bad, rule.good) == (({"my_pack.reach": "10 mm"},), ({"my_pack.reach": "200 mm"},))
    assert base.packs[0].sound == {"my_pack.reach": "150 mm"}


# -- what the model declares ------------------------------------------------------------------------------------------
def faults(model: type[Section]) -> list[str]:
    """What is wrong with the former names that a model and the table of moves declare."""
    out: list[str] = []
    sections, pending = set(), [model]
    while pending:
        section = pending.pop()
        if section in sections:
            continue
        sections.add(section)
        pending += [member.model for member in members(section).values() if member.model is not None]
        every = [
            name
            for info in section.model_fields.values()
            for m in info.metadata
            if isinstance(m, FormerNames)
            for name in m.names
        ]
        out += [f"{section.__name__}.{name} is a field" for name in every if name in section.model_fields]
        out += [f"{section.__name__}.{name} is two fields" for name in every if every.count(name) > 1]
    known = {path.replace("[]", ".*") for path, _ in every_field(model)}
    for old, new in renamed.MOVED.items():
        today = path_today(model, old)
        if not any(path == today or path.startswith(f"{today}.") for path in known):
            out.append(f"{new} is no field")
        if any(path == old or path.startswith(f"{old}.") for path in known):
            out.append(f"{old} is a field")
        if old.count("*") != new.count("*"):
            out.append(f"{old} and {new} have not the same stars")
    return out


def test_what_the_model_declares_is_sound() -> None:
    assert faults(Build) == []


def test_faults_are_found(moved: dict[str, str]) -> None:
    class Wrong(Section):
        a: str = text("one", typical="x", where=LOOK, was=("b", "c"))
        b: str = text("other", typical="x", where=LOOK, was=("c",))

    moved.update({"a": "b", "x.*": "b", "y": "z"})
    assert sorted(set(faults(Wrong))) == [
        "Wrong.b is a field",
        "Wrong.c is two fields",
        "a is a field",
        "x.* and b have not the same stars",
        "z is no field",
    ]


# -- a spec with old names is inspected as one with today's -----------------------------------------------------------
SPEC = Path("specs/tarnholt-tender.toml")


@pytest.fixture(scope="module")
def base() -> RuleBase:
    return load_rule_base()


def told(base: RuleBase, text: str) -> list[object]:
    """What is found in a spec: findings have no lines."""
    spec = load(read_bytes(text.encode(), SPEC.as_posix()), SPEC.parent)
    inspection, problems = inspect(base, spec, None)
    assert inspection.findings
    return [*(replace(finding, rule=None) for finding in inspection.findings), *problems]


def stated_keys(text: str) -> list[PathKey]:
    """The keys of fields and parts in a spec that could have had another name: not the names of parts."""
    found: list[PathKey] = []

    def walk(model: type[Section], raw: object, path: PathKey) -> None:
        for name, member in members(model).items():
            if not isinstance(raw, dict) or name not in raw:
                continue
            below, here = raw[name], (*path, name)
            found.append(here)
            if member.model is None:
                continue
            if member.role == "part":
                walk(member.model, below, here)
            else:
                pairs = below.items() if member.role == "parts" else enumerate(below)
                for key, value in pairs:
                    walk(member.model, value, (*here, key))

    walk(Build, read_bytes(text.encode(), "x").data, ())
    return found


@pytest.mark.thorough
@given(st.data())
@settings(max_examples=8)
def test_a_spec_with_old_names_is_inspected_as_one_with_todays(base: RuleBase, data: st.DataObject) -> None:
    sound = SPEC.read_text(encoding="utf-8")
    keys = stated_keys(sound)
    chosen = data.draw(st.lists(st.sampled_from(keys), min_size=1, max_size=6, unique=True))
    # What lies within another is renamed first, so that each path speaks of the text as it is.
    chosen.sort(key=len, reverse=True)
    old_text, table = sound, {}
    for number, path in enumerate(chosen):
        elsewhere = data.draw(st.booleans()) and not any(isinstance(key, int) for key in path)
        old = (f"gone_{number}", "old") if elsewhere else (*path[:-1], f"old_{number}")
        old_text = rename(old_text, path, old)
        table[path_text(old)] = path_text(path)
    table = dict(reversed(table.items()))  # the last that was renamed is the first to be found again
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(renamed, "MOVED", {_starred(old): _starred(new) for old, new in table.items()})
        old_file = load(read_bytes(old_text.encode(), "x"), SPEC.parent).file
        assert len(old_file.told(every=True)) >= len(chosen)  # type: ignore[attr-defined]
        found = told(base, old_text)
    assert found == told(base, sound)


def _starred(path: str) -> str:
    """A path as a pattern: an item's number is a star, the names of parts stay."""
    return path if "[" not in path else re.sub(r"\[\d+\]", ".*", path)


def test_the_check_above_would_see_a_difference(base: RuleBase) -> None:
    sound = SPEC.read_text(encoding="utf-8")
    assert told(base, sound) != told(base, sound.replace('gvwr = "7500 kg"', 'gvwr = "7400 kg"'))
