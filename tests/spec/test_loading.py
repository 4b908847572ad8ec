"""Loading a spec with its data sheets: which value wins, where each stands, and what is said of what cannot be read."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from swaplint.spec.fields import Part, Section, items, number, part, parts, text
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load_spec, load_text
from swaplint.spec.sheets import MAX_ALIKE, MAX_SHEETS_DEEP
from swaplint.spec.toml_source import SpecError


def write(folder: Path, **files: str) -> None:
    for name, content in files.items():
        target = folder / (name.replace("__", "/") + ".toml")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(content, encoding="utf-8")


def errors_of(path: Path | str) -> list[SpecError]:
    with pytest.raises(SpecErrors) as caught:
        load_spec(str(path))
    return list(caught.value.errors)


def text_errors(toml: str) -> list[SpecError]:
    with pytest.raises(SpecErrors) as caught:
        load_text(toml)
    return list(caught.value.errors)


def one(errors: list[SpecError]) -> SpecError:
    assert len(errors) == 1, [str(error) for error in errors]
    return errors[0]


def where(spec: LoadedSpec, path: str) -> tuple[str, int, int]:
    place = spec.place(path)
    return place.file, place.line, place.column


def act(spec: LoadedSpec, path: str) -> tuple[str, int]:
    place = spec.act_place(path)
    return place.file, place.line


def value(spec: LoadedSpec, path: str) -> object:
    stated = spec.stated(path)
    return None if stated is None else stated.value


# -- sheets ---------------------------------------------------------------------------------------------------------
SPEC = """\
[engine]
sheet = "e.toml"
cylinders = 6
speed.idle = "800 r/min"

[driveline.gearbox]
sheet = "g.toml"
"""
ENGINE = """\
cylinders = 4
model = "from the sheet"
[document]
title = "Invented data"
revision = "3"
date = 2026-01-31
[speed]
idle = "700 r/min"
rated = "2600 r/min"
[[torque_curve]]
speed = "1000 r/min"
torque = "300 Nm"
"""


@pytest.fixture
def spec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> LoadedSpec:
    write(tmp_path, s=SPEC, e=ENGINE, g="ratios = [4.0,\n 2.0]\n")
    monkeypatch.chdir(tmp_path)
    return load_spec("s.toml")


def test_sheet_fills_what_the_spec_leaves_out_and_the_spec_wins(spec: LoadedSpec) -> None:
    assert value(spec, "engine.cylinders") == 6.0
    assert value(spec, "engine.model") == "from the sheet"
    assert value(spec, "driveline.gearbox.ratios[2]") == 2.0
    assert value(spec, "engine.sheet") == "e.toml"
    assert sorted(spec.sheets) == ["e.toml", "g.toml"]


def test_a_table_is_filled_field_by_field(spec: LoadedSpec) -> None:
    idle, rated = spec.stated("engine.speed.idle"), spec.stated("engine.speed.rated")
    assert idle is not None and rated is not None  # noqa: PT018
    assert (idle.written, rated.written) == ("800 r/min", "2600 r/min")


def test_every_value_remembers_where_it_stands(spec: LoadedSpec) -> None:
    assert where(spec, "engine.cylinders") == ("s.toml", 3, 13)
    assert where(spec, "engine.speed.idle") == ("s.toml", 4, 14)
    assert where(spec, "engine.speed.rated") == ("e.toml", 9, 9)
    assert where(spec, "engine.torque_curve[1].torque") == ("e.toml", 12, 10)
    assert where(spec, "driveline.gearbox.ratios[2]") == ("g.toml", 2, 2)
    assert spec.place("driveline.gearbox.ratios[2]").end_column == 5


def test_the_builder_can_act_where_the_sheet_is_named(spec: LoadedSpec) -> None:
    assert act(spec, "engine.cylinders") == ("s.toml", 3)
    assert act(spec, "engine.speed.idle") == ("s.toml", 4)
    assert act(spec, "engine.speed.rated") == ("s.toml", 2)
    assert act(spec, "engine.torque_curve[1].torque") == ("s.toml", 2)
    assert act(spec, "driveline.gearbox.ratios[1]") == ("s.toml", 7)


def test_a_missing_field_is_placed_at_the_nearest_table(spec: LoadedSpec) -> None:
    assert where(spec, "engine.displacement") == ("s.toml", 1, 2)
    assert act(spec, "engine.displacement") == ("s.toml", 1)
    assert where(spec, "driveline.tyres.speed_symbol") == ("s.toml", 6, 2)
    assert act(spec, "vehicle.mass.gvwr") == ("s.toml", 1)
    assert act(spec, "") == ("s.toml", 1)


def test_the_document_behind_a_value(spec: LoadedSpec) -> None:
    assert str(spec.document("engine.speed.rated")) == "Invented data, revision 3, 2026-01-31"
    assert spec.document("engine.cylinders") is None
    assert spec.document("engine.displacement") is None
    # a sheet that states no document is cited by its name
    assert str(spec.document("driveline.gearbox.ratios[1]")) == "g.toml"


def test_a_sheet_may_rest_on_another_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(
        tmp_path,
        s='[engine]\nsheet = "a/one.toml"\n',
        a__one='sheet = "two.toml"\ncylinders = 4\n',
        a__two='# the family\ncylinders = 8\nstrokes = 4\n[speed]\nidle = "700 r/min"\n',
    )
    monkeypatch.chdir(tmp_path)
    spec = load_spec("s.toml")
    assert (value(spec, "engine.cylinders"), value(spec, "engine.strokes")) == (4.0, 4.0)
    assert where(spec, "engine.cylinders") == ("a/one.toml", 2, 13)
    assert where(spec, "engine.strokes") == ("a/two.toml", 3, 11)
    assert where(spec, "engine.speed.idle") == ("a/two.toml", 5, 8)
    assert act(spec, "engine.strokes") == ("s.toml", 2)
    assert act(spec, "engine.speed.idle") == ("s.toml", 2)


class Bolt(Section):
    size: float = number("size", typical=10, plausible=(1, 50), where="a look")


class Inner(Part):
    width: float = number("width", typical=2, plausible=(1, 9), where="a look")
    bolts: list[Bolt] = items("bolts")


class Outer(Part):
    length: float = number("length", typical=2, plausible=(1, 9), where="a look")
    inner: Inner = part("a part in the part")
    many: dict[str, Inner] = parts("several")


class Toy(Section):
    outer: Outer = part("a part")
    name: str = text("a name", typical="x", where="a look")


def test_a_part_in_a_sheet_may_have_a_sheet_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(
        tmp_path,
        s='name = "x"\n[outer]\nsheet = "outer.toml"\n[outer.many.b]\nwidth = 5\n',
        outer='length = 3\ninner.sheet = "inner.toml"\n[many.a]\nsheet = "inner.toml"\nwidth = 4\n'
        '[many.b]\nsheet="inner.toml"',
        inner="width = 2\n[[bolts]]\nsize = 8\n",
    )
    monkeypatch.chdir(tmp_path)
    spec = load_spec("s.toml", model=Toy)
    assert [value(spec, f"outer.{p}") for p in ("length", "inner.width", "many.a.width", "many.b.width")] == [
        3,
        2,
        4,
        5,
    ]
    assert value(spec, "outer.many.b.bolts[1].size") == 8.0
    assert where(spec, "outer.inner.width") == ("inner.toml", 1, 9)
    assert where(spec, "outer.many.a.width") == ("outer.toml", 5, 9)
    assert where(spec, "outer.many.b.width") == ("s.toml", 5, 9)
    assert where(spec, "outer.many.b.bolts[1].size") == ("inner.toml", 3, 8)
    for path in ("outer.inner.width", "outer.many.a.width", "outer.length"):
        assert act(spec, path) == ("s.toml", 3)


def test_a_sheet_that_several_parts_name_is_the_same_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(
        tmp_path,
        s='[driveline.axles]\nfront.sheet = "axle.toml"\nrear.sheet = "axle.toml"\nrear.ratio = 3.9\n',
        axle="driven = true\nratio = 4.1\n",
    )
    monkeypatch.chdir(tmp_path)
    spec = load_spec("s.toml")
    assert value(spec, "driveline.axles.front.ratio") == 4.1
    assert value(spec, "driveline.axles.rear.ratio") == 3.9
    assert act(spec, "driveline.axles.front.ratio") == ("s.toml", 2)
    assert act(spec, "driveline.axles.rear.driven") == ("s.toml", 3)
    assert list(spec.sheets) == ["axle.toml"]


@pytest.mark.parametrize(
    ("files", "circle"),
    [
        ({"a": 'sheet = "a.toml"'}, "a.toml → a.toml"),
        ({"a": 'sheet = "b.toml"', "b": 'sheet = "a.toml"'}, "a.toml → b.toml → a.toml"),
        (
            {"a": 'sheet = "b.toml"', "b": 'sheet = "c.toml"', "c": '\n\nsheet = "b.toml"'},
            "b.toml → c.toml → b.toml",
        ),
    ],
)
def test_sheets_in_a_circle(tmp_path: Path, files: dict[str, str], circle: str) -> None:
    write(tmp_path, s='[engine]\nsheet = "a.toml"\n', **files)
    error = one(errors_of(tmp_path / "s.toml"))
    assert circle in error.what
    assert error.file.endswith("/a.toml" if len(files) == 1 else "/b.toml" if len(files) == 2 else "/c.toml")
    assert error.line == (3 if len(files) == 3 else 1)


def test_a_spec_that_is_its_own_sheet(tmp_path: Path) -> None:
    write(tmp_path, s='[engine]\nsheet = "s.toml"\n')
    error = errors_of(tmp_path / "s.toml")[0]
    assert "has no field 'engine'" in error.what


def test_sheets_stacked_too_deep(tmp_path: Path) -> None:
    chain = {f"n{i}": f'sheet = "n{i + 1}.toml"' for i in range(MAX_SHEETS_DEEP + 2)}
    write(tmp_path, s='[engine]\nsheet = "n0.toml"\n', **chain)
    assert str(MAX_SHEETS_DEEP) in one(errors_of(tmp_path / "s.toml")).what


def test_a_missing_sheet(tmp_path: Path) -> None:
    write(tmp_path, s='[engine]\n  sheet = "none.toml"\n')
    error = one(errors_of(tmp_path / "s.toml"))
    assert "there is no data sheet 'none.toml'" in error.what
    assert (error.line, error.column) == (2, 11)


@pytest.mark.parametrize("name", ["", "\\u0000", "x" * 301, ".", "a/../..", "\\n"])
def test_a_sheet_name_that_names_no_sheet(tmp_path: Path, name: str) -> None:
    (tmp_path / "here").mkdir()
    write(tmp_path, here__s=f'[engine]\nsheet = "{name}"\n')
    error = errors_of(tmp_path / "here" / "s.toml")[0]
    assert error.what
    assert "\n" not in error.what
    assert "\0" not in error.what


def test_sheets_outside_the_folder_are_not_read(tmp_path: Path) -> None:
    write(tmp_path, secret="cylinders = 4\n", here__inside="cylinders = 4\n")
    os.symlink(tmp_path / "secret.toml", tmp_path / "here" / "link.toml")
    os.symlink(tmp_path, tmp_path / "here" / "up")
    for name in (
        "../secret.toml",
        str(tmp_path / "secret.toml"),
        "link.toml",
        "up/secret.toml",
        "/etc/hostname",
        "/dev/zero",
    ):
        write(tmp_path, here__s=f'[engine]\nsheet = "{name}"\n')
        error = one(errors_of(tmp_path / "here" / "s.toml"))
        assert "outside the spec's folder" in error.what, name
        assert error.line == 2
    write(tmp_path, here__s=f'[engine]\nsheet = "{tmp_path / "here" / "inside.toml"}"\n')
    assert value(load_spec(str(tmp_path / "here" / "s.toml")), "engine.cylinders") == 4.0


def test_a_sheet_that_is_no_plain_file(tmp_path: Path) -> None:
    (tmp_path / "folder.toml").mkdir()
    os.mkfifo(tmp_path / "pipe.toml")
    for name, words in (("folder.toml", "is a folder"), ("pipe.toml", "not a regular file")):
        write(tmp_path, s=f'[engine]\nsheet = "{name}"\n')
        error = one(errors_of(tmp_path / "s.toml"))
        assert words in error.what
        assert error.file.endswith(name)


def test_sheet_folders_given_by_the_caller(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(
        tmp_path,
        here__s='[engine]\nsheet = "e.toml"\n',
        lib__e='sheet = "more/f.toml"\n',
        lib__more__f="cylinders = 4\n",
    )
    assert "no data sheet" in one(errors_of(tmp_path / "here" / "s.toml")).what
    spec = load_spec(str(tmp_path / "here" / "s.toml"), sheet_folders=[tmp_path / "lib"])
    assert value(spec, "engine.cylinders") == 4.0
    assert sorted(spec.sheets) == [f"{tmp_path}/lib/e.toml", f"{tmp_path}/lib/more/f.toml"]
    monkeypatch.chdir(tmp_path / "here")
    spec = load_spec("s.toml", sheet_folders=[Path("../lib")])
    assert sorted(spec.sheets) == ["../lib/e.toml", "../lib/more/f.toml"]  # what is named is found from here
    assert spec.place("engine.cylinders").file == "../lib/more/f.toml"


def test_sheet_folders_of_one_name_are_told_apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(
        tmp_path,
        s='[engine]\nsheet = "e.toml"\n[driveline.gearbox]\nsheet = "g.toml"\n',
        a__lib__e="cylinders = 4\n",
        b__lib__e="ratios = [4.0]\n",
        b__lib__g='sheet = "e.toml"\n',
    )
    monkeypatch.chdir(tmp_path)
    spec = load_spec("s.toml", sheet_folders=[Path("a/lib"), Path("b/lib")])
    assert sorted(spec.sheets) == ["a/lib/e.toml", "b/lib/e.toml", "b/lib/g.toml"]


def test_the_spec_folder_comes_before_the_sheet_folders(tmp_path: Path) -> None:
    write(tmp_path, here__s='[engine]\nsheet = "e.toml"\n', here__e="cylinders = 3\n", lib__e="cylinders = 4\n")
    spec = load_spec(str(tmp_path / "here" / "s.toml"), sheet_folders=[tmp_path / "lib"])
    assert value(spec, "engine.cylinders") == 3.0


def test_an_error_in_a_sheet_points_into_the_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(
        tmp_path,
        s='[engine]\nsheet = "e.toml"\n[driveline.gearbox]\nsheet = "g.toml"\n',
        e='cylinders = 4\n[speed]\nidle = 700\nratd = "1 r/min"\n',
        g="ratios = [4.0\n",
    )
    monkeypatch.chdir(tmp_path)
    found = [(e.file, e.line, e.column) for e in errors_of("s.toml")]
    assert found == [("e.toml", 3, 8), ("e.toml", 4, 1), ("g.toml", 1, 14)]


def test_a_sheet_need_not_be_right_where_the_spec_overrides_it(tmp_path: Path) -> None:
    write(tmp_path, s='[engine]\nsheet = "e.toml"\ncylinders = 4\n', e='cylinders = "many"\n')
    assert value(load_spec(str(tmp_path / "s.toml")), "engine.cylinders") == 4.0


def test_a_sheet_of_tables_for_a_field_is_an_error_at_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(
        tmp_path,
        s='[engine]\nsheet = "e.toml"\n[engine.speed]\nidle = "700 r/min"\n',
        e="speed = 3\n[torque]\nlaunch = {}\n",
    )
    monkeypatch.chdir(tmp_path)
    error = one(errors_of("s.toml"))
    assert (error.file, error.line) == ("e.toml", 3)


def test_many_parts_that_name_one_large_sheet_end_promptly(tmp_path: Path) -> None:
    write(
        tmp_path,
        big="ratio = 4\n" + "".join(f"k{i} = 1\n" for i in range(30_000)),
        s="".join(f'[driveline.axles.a{i}]\nsheet = "big.toml"\n' for i in range(MAX_ALIKE)),
    )
    started = time.process_time()
    errors = errors_of(tmp_path / "s.toml")
    assert time.process_time() - started < 12.0
    assert any("data sheets come to more than" in error.what for error in errors)


# -- what cannot be read ----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("toml", "line", "column", "parts"),
    [
        ("[engine]\ncylindres = 4\n", 2, 1, ["engine has no field 'cylindres'", "did you mean 'cylinders'?"]),
        ("[Engine]\ncylinders = 4\n", 1, 2, ["the spec has no field 'Engine'", "did you mean 'engine'?"]),
        ("[driveline.speed-limiter]\n", 1, 12, ["did you mean 'speed_limiter'?"]),
        ('[vehicle.mass]\nGVWR = "1 kg"\n', 2, 1, ["did you mean 'gvwr'?"]),
        ("[driveline.axles.rear]\nratoi = 4\n", 2, 1, ["driveline.axles.rear has no field", "did you mean 'ratio'?"]),
        (
            "[driveline.axles.engine]\nratoi = 4\n",
            2,
            1,
            ["driveline.axles.engine has no field", "did you mean 'ratio'?"],
        ),
        ("zzzzzz = 1\n", 1, 1, ["the spec has no field 'zzzzzz'", "it has build, vehicle"]),
        ('"" = 1\n', 1, 1, ["the spec has no field ''"]),
        ('[engine]\n"" = 1\n', 2, 1, ["engine has no field ''"]),
        ('[engine]\n"a.b" = 1\n', 2, 1, ["has no field 'a.b'"]),
        ('[engine]\n"a[0]" = 1\n', 2, 1, ["has no field 'a[0]'"]),
        ('[engine]\n"[key]" = 1\n', 2, 1, ["engine has no field '[key]'"]),
        ('[engine]\n"\\u001b[31m" = 1\n', 2, 1, ["engine has no field"]),
        ("vehicle.mass.gvwr = 1810\n", 1, 21, ["vehicle.mass.gvwr", "1810 has no unit", "a mass", '"3000 kg"']),
        ('[vehicle.mass]\ngvwr = "4,5 kg"\n', 2, 8, ["write 4.5"]),
        ('[vehicle.mass]\ngvwr = "9 mm"\n', 2, 8, ["a mass"]),
        ('[vehicle.mass]\ngvwr = { value = "9 kg", tol = "3 mm" }\n', 2, 8, ["vehicle.mass.gvwr", "tol"]),
        ("[driveline.gearbox]\nratios = [1.0, 'x']\n", 2, 16, ["driveline.gearbox.ratios[2]: takes a number"]),
        ("[driveline.gearbox]\nratios = 1.0\n", 2, 10, ["a list, like"]),
        ("engine = 3\n", 1, 10, ["engine takes a table, not 3"]),
        ("[[engine]]\n", 1, 3, ["engine takes a table, not"]),
        ("supply = 3\n", 1, 10, ["supply takes a list, not 3"]),
        ("[supply]\n", 1, 2, ["supply takes a list, not"]),
        ("driveline.axles = [1]\n", 1, 19, ["driveline.axles takes a table"]),
        ("driveline.axles.rear = 4.1\n", 1, 24, ["driveline.axles.rear takes a table, not 4.1"]),
        ("[[supply]]\nitem = 'a'\n[[supply]]\nitem = 3\n", 4, 8, ["supply[2].item"]),
        ("[[supply]]\nitm = 'a'\n", 2, 1, ["supply[1] has no field 'itm'", "did you mean 'item'?"]),
        ("[build]\nformat = 2\n", 2, 10, ["format 2 is not known", "format 1"]),
        ("[build]\nstage = 'plann'\n", 2, 9, ["did you mean 'plan'?"]),
        ('[driveline.axles."rear left"]\nratio = 4\n', 1, 18, ["'rear left' is not a name for a part", "rear-left"]),
        ('[driveline.axles]\n"a.b".ratio = 4\n', 2, 1, ["'a.b' is not a name for a part"]),
        ('[driveline.axles.""]\nratio = 4\n', 1, 18, ["is not a name for a part"]),
        ('[driveline.axles."x[0]"]\nratio = "4"\n', 1, 18, ["is not a name for a part"]),
        ("[engine]\nsheet = 3\n", 2, 9, ["engine.sheet: takes a text"]),
        ("[engine]\nfitted = 'no'\n", 2, 10, ["engine.fitted: takes true or false"]),
    ],
)
def test_error_has_its_place_and_its_words(toml: str, line: int, column: int, parts: list[str]) -> None:
    error = text_errors(toml)[0]
    assert (error.line, error.column) == (line, column), error.what
    for piece in parts:
        assert piece in error.what
    assert error.what.isprintable()
    assert len(error.what) < 400


@pytest.mark.parametrize(
    "toml", ["engine = {}", "supply = {}", "build.format = {}", "engine.cylinders = {}", "zz = {}"]
)
def test_an_integer_of_thousands_of_digits_is_an_error_in_words(toml: str) -> None:
    for huge in ("0x" + "f" * 6000, f"[0x{'f' * 6000}]"):
        for error in text_errors(toml.format(huge)):
            assert "int_max_str_digits" not in error.what


def test_all_errors_are_listed_in_the_order_of_the_file() -> None:
    errors = text_errors("vehicle.mass.gvwr = 1\n[engine]\ncylindres = 4\nstrokes = 'x'\n")
    assert [error.line for error in errors] == [1, 3, 4]


def test_tens_of_thousands_of_errors_end_promptly() -> None:
    started = time.process_time()
    text_errors("".join(f"k{i} = 1\n" for i in range(20_000)))
    text_errors("[driveline.axles]\n" + "".join(f'"k {i}" = {{ ratio = "x" }}\n' for i in range(7_000)))
    text_errors("[driveline.gearbox]\nratios = [" + "'x'," * 45_000 + "]")
    text_errors("supply = [" + "{item=3}," * 25_000 + "]")
    assert time.process_time() - started < 8.0


@pytest.mark.parametrize(
    ("toml", "path", "line"),
    [
        ("\n[driveline.axles]\n" + "".join(f"a{i}.ratio = 4\n" for i in range(MAX_ALIKE + 1)), "driveline.axles", 2),
        ("[[supply]]\nitem = 'x'\n" * (MAX_ALIKE + 1), "supply", 1),
        (f"[driveline.gearbox]\nratios = {[1.0] * (MAX_ALIKE + 1)}\n", "driveline.gearbox.ratios", 2),
    ],
)
def test_more_alike_things_than_any_build_has_are_refused(toml: str, path: str, line: int) -> None:
    """Each rule looks at each of them, or at each pair: some hundred thousand would take minutes."""
    error = one(text_errors(toml))
    assert f"{path} has {MAX_ALIKE + 1} entries" in error.what
    assert error.line == line


# -- what is stated ---------------------------------------------------------------------------------------------------
def test_stated_looks_up_only_plain_fields() -> None:
    spec = load_text("[engine]\ncylinders = 4\n[[supply]]\nitem = 'a'\n[driveline.gearbox]\nratios = [4.0]\n")
    assert value(spec, "engine.cylinders") == 4.0
    assert value(spec, "supply[1].item") == "a"
    for path in (
        "engine",
        "supply",
        "supply[2].item",
        "engine.nothing",
        "driveline.gearbox.ratios",
        "engine.cylinders.x",
    ):
        assert spec.stated(path) is None
    assert value(spec, "driveline.gearbox.ratios[1]") == 4.0
    assert spec.stated("driveline.gearbox.ratios[2]") is None


def test_not_fitted_is_a_statement() -> None:
    spec = load_text("[driveline.transfer]\nfitted = false\n")
    assert value(spec, "driveline.transfer.fitted") is False


def test_an_empty_spec_is_a_spec() -> None:
    assert load_text("").stated("engine.cylinders") is None


def test_standard_input(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, e="cylinders = 4\n")
    monkeypatch.chdir(tmp_path)
    spec = load_spec("-", stdin=b'[engine]\nsheet = "e.toml"\n')
    assert value(spec, "engine.cylinders") == 4.0
    assert where(spec, "engine.cylinders")[0] == "e.toml"
    assert act(spec, "engine.cylinders") == ("standard input", 2)


def test_sections_of_packs_that_could_not_be_loaded_are_passed_over(tmp_path: Path) -> None:
    write(tmp_path, s="[acme]\nload = 3\n[engine]\ncylinders = 4\n")
    assert "acme" in one(errors_of(tmp_path / "s.toml")).what
    assert value(load_spec(str(tmp_path / "s.toml"), unread={"acme"}), "engine.cylinders") == 4.0
