"""Tables of parts beside a spec: the same values as in the spec, with their places; and what is refused, and where."""

from __future__ import annotations

import contextlib
import hashlib
import os
import random
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.spec.layers import MOST_TABLES
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load_spec
from tests.spec.as_tables import as_table

SPECS = Path(__file__).parents[2] / "specs"
COLLECTIONS = (
    "electrics.cables",
    "vehicle.ledger",
    "supply",
    "electrics.loads",
    "electrics.grounds",
    "vehicle.mounts",
    "vehicle.clearances",
    "engine.service",
    "driveline.axles",
    "electrics.network.nodes",
)


def spec_of(folder: Path, table: str | bytes, *, of: str = "electrics.cables", rest: str = "") -> LoadedSpec:
    raw = table if isinstance(table, bytes) else table.encode()
    (folder / "table.csv").write_bytes(raw)
    (folder / "spec.toml").write_text(f'{rest}\n[tables]\n"{of}" = "table.csv"\n')
    return load_spec(str(folder / "spec.toml"))


def errors(folder: Path, table: str | bytes, **options: Any) -> list[tuple[str, int, int, str]]:
    with pytest.raises(SpecErrors) as caught:
        spec_of(folder, table, **options)
    return [(Path(error.file).name, error.line, error.column, error.what) for error in caught.value.errors]


def cable(spec: LoadedSpec, field: str) -> Any:
    stated = spec.stated(f"electrics.cables.starter.{field}")
    return None if stated is None else stated.value


# -- what a table states -------------------------------------------------------------------------------------------
SAME = {
    "as typed": "name,length,size,current,fused,bundled_with\nstarter,1.8 m,70 mm²,12.5 A,false,2\n",
    "the unit in the header": (
        "name,length (m),size [mm2],current (A),fused,bundled_with\nstarter,1.8,70,12.5,FALSE,2\n"
    ),
    "semicolons and decimal commas": (
        "cable;length (m);size;current;fused;bundled_with\r\nstarter;1,8;70 mm²;12,5 A;false;2\r\n"
    ),
    "tabs": "name\tlength\tsize\tcurrent\tfused\tbundled_with\nstarter\t1.8 m\t70 mm²\t12.5 A\tfalse\t2\n",
    "quotes and blank lines": (
        '\n"name","length","size","current","fused","bundled_with"\n\n'
        '"starter","1.8 m","70 mm²","12.5 A",false,2\n,,,,,\n'
    ),
    "columns and rows that a spreadsheet leaves": (
        "name,length,size,current,fused,bundled_with,,\nstarter,1.8 m,70 mm²,12.5 A,false,2,,\n,,,,,,,\n"
    ),
}


@pytest.mark.parametrize("how", SAME)
@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_same_table_however_it_is_saved(tmp_path: Path, how: str, code: str) -> None:
    spec = spec_of(tmp_path, SAME[how].encode(code))
    found = [cable(spec, name) for name in ("length", "size", "current", "fused", "bundled_with")]
    assert found == [pytest.approx(1.8), pytest.approx(70e-6), 12.5, False, 2]


def test_an_empty_cell_states_nothing(tmp_path: Path) -> None:
    spec = spec_of(tmp_path, "name,length,current\nstarter,1.8 m,\nearth\n")
    assert cable(spec, "current") is None
    assert list(spec.build.electrics.cables) == ["starter", "earth"]  # type: ignore[attr-defined]
    assert spec.stated("electrics.cables.earth.length") is None


def test_a_tolerance_and_how_it_is_known(tmp_path: Path) -> None:
    spec = spec_of(
        tmp_path, "name,length.basis,length (m),length.tol (%),current,current.tol\ns,measured,1.8,5,2 A,1 A\n"
    )
    stated = spec.stated("electrics.cables.s.length")
    assert stated is not None
    assert [stated.value, stated.tol] == pytest.approx([1.8, 0.09])
    assert stated.basis == "measured"
    current = spec.stated("electrics.cables.s.current")
    assert current is not None
    assert (current.value, current.tol) == (2.0, 1.0)
    assert spec.place("electrics.cables.s.length").column == len("s,measured,") + 1


def test_fields_below_the_part(tmp_path: Path) -> None:
    spec = spec_of(tmp_path, "name,bolts.pieces,bolts.size,bracket.depth (mm)\nleft,4,M12,120\n", of="vehicle.mounts")
    assert spec.stated("vehicle.mounts.left.bolts.pieces").value == 4  # type: ignore[union-attr]
    assert spec.stated("vehicle.mounts.left.bracket.depth").value == pytest.approx(0.12)  # type: ignore[union-attr]
    assert spec.place("vehicle.mounts.left.bracket.depth")[1:] == (2, 12, 2, 15)


def test_a_list_has_no_names(tmp_path: Path) -> None:
    spec = spec_of(tmp_path, 'item,mass (kg),functions\nkit,468,"engine, starter"\nbox,"12,5",gearbox\n', of="supply")
    assert [line.mass.value for line in spec.build.supply] == [468.0, 12.5]  # type: ignore[attr-defined]
    assert [one.value for one in spec.build.supply[0].functions] == ["engine", "starter"]  # type: ignore[attr-defined]
    assert spec.place("supply[2].mass")[1:3] == (3, 5)
    assert Path(spec.place("supply[2].by").file).name == "table.csv"


def test_a_table_without_a_row_says_that_there_is_none(tmp_path: Path) -> None:
    assert spec_of(tmp_path, "name,length\n").build.electrics.cables == {}  # type: ignore[attr-defined]


def test_the_section_may_have_dotted_keys_and_a_part_of_several(tmp_path: Path) -> None:
    (tmp_path / "crew.csv").write_text("name,mass,x\ndriver,90 kg,1.4 m\n")
    (tmp_path / "cables.csv").write_text("name,length\nstarter,1.8 m\n")
    (tmp_path / "spec.toml").write_text(
        '[tables]\nelectrics.cables = "cables.csv"\nvehicle.load_cases.work.items = "crew.csv"\n'
        '[vehicle.load_cases.work]\nnose_load = "0 kg"\n'
    )
    spec = load_spec(str(tmp_path / "spec.toml"))
    assert cable(spec, "length") == 1.8
    assert spec.stated("vehicle.load_cases.work.items.driver.mass").value == 90  # type: ignore[union-attr]
    assert spec.stated("vehicle.load_cases.work.nose_load").value == 0  # type: ignore[union-attr]


def test_places_and_files(tmp_path: Path) -> None:
    spec = spec_of(tmp_path, "name,length,role\r\n\r\nstarter,1.8 m,starter\r\n")
    place = spec.place("electrics.cables.starter.length")
    assert (Path(place.file).name, *place[1:]) == ("table.csv", 3, 9, 3, 14)
    assert spec.act_place("electrics.cables.starter.length") == place
    assert spec.act_place("electrics.cables.starter.length", own=True) == place
    assert spec.act_place("electrics.cables.starter.size")[1:3] == (3, 1)
    assert [Path(file.label).name for file in spec.files()] == ["spec.toml", "table.csv"]
    assert spec.files()[1].sha256 == hashlib.sha256((tmp_path / "table.csv").read_bytes()).hexdigest()


def test_a_data_sheet_named_in_a_table(tmp_path: Path) -> None:
    (tmp_path / "lead.toml").write_text('insulation_temp = "125 degC"\n')
    spec = spec_of(tmp_path, "name,sheet,length\nstarter,lead.toml,1.8 m\n")
    assert cable(spec, "insulation_temp") == pytest.approx(398.15)
    assert spec.act_place("electrics.cables.starter.insulation_temp")[1:3] == (2, 9)
    assert errors(tmp_path, "name,sheet\nstarter,gone.toml\n") == [
        (
            "table.csv",
            2,
            9,
            "there is no data sheet 'gone.toml' in the spec's folder or in a folder given with --sheets",
        )
    ]


# -- spec and table, base and table --------------------------------------------------------------------------------
def test_parts_and_fields_may_stand_in_both(tmp_path: Path) -> None:
    rest = '[electrics.cables.starter]\nrole = "starter"\n[electrics.cables.earth]\nlength = "2 m"\n'
    spec = spec_of(tmp_path, "name,length\nstarter,1.8 m\nfan,3 m\n", rest=rest)
    assert (cable(spec, "length"), cable(spec, "role")) == (1.8, "starter")
    assert set(spec.build.electrics.cables) == {"starter", "earth", "fan"}  # type: ignore[attr-defined]
    assert Path(spec.place("electrics.cables.starter.length").file).name == "table.csv"
    assert Path(spec.place("electrics.cables.starter.role").file).name == "spec.toml"


def test_the_same_field_in_both_is_stated_twice(tmp_path: Path) -> None:
    rest = '[electrics.cables.starter]\nlength = "1.8 m"\n'
    assert errors(tmp_path, "name,length\nstarter,1.8 m\n", rest=rest) == [
        (
            "table.csv",
            2,
            9,
            "electrics.cables.starter.length is stated here and in line 2 of the spec: keep one of them",
        )
    ]
    rest = '[[supply]]\nitem = "kit"\n'
    assert errors(tmp_path, "item\nbox\n", of="supply", rest=rest) == [
        ("table.csv", 1, 1, "supply stands in line 1 of the spec, too: keep one of them")
    ]


def test_a_variant_over_a_base_with_tables(tmp_path: Path) -> None:
    spec_of(tmp_path, "name,length,role\nstarter,1.8 m,starter\nfan,2 m,fan\n")
    (tmp_path / "long.csv").write_text("name,length\nstarter,2.6 m\n")
    (tmp_path / "variant.toml").write_text(
        '[build]\nbase = "spec.toml"\n[tables]\n"electrics.cables" = "long.csv"\n'
        '[electrics.cables.fan]\nlength = "3 m"\n'
    )
    spec = load_spec(str(tmp_path / "variant.toml"))
    assert (cable(spec, "length"), cable(spec, "role")) == (2.6, "starter")
    assert spec.stated("electrics.cables.fan.length").value == 3.0  # type: ignore[union-attr]
    assert Path(spec.place("electrics.cables.starter.length").file).name == "long.csv"
    assert Path(spec.place("electrics.cables.starter.role").file).name == "table.csv"
    assert Path(spec.act_place("electrics.cables.starter.role", own=True).file).name == "variant.toml"


def test_a_table_in_the_shop_s_folder(tmp_path: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    shop = tmp_path_factory.mktemp("shop")
    spec_of(tmp_path, "name,length\nstarter,1.8 m\n")
    (tmp_path / "table.csv").rename(shop / "table.csv")
    spec = load_spec(str(tmp_path / "spec.toml"), sheet_folders=[shop])
    assert cable(spec, "length") == 1.8
    assert spec.place("electrics.cables.starter.length").file == (shop / "table.csv").as_posix()


# -- what is refused -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("table", "line", "column", "what"),
    [
        ("name,lenght\nstarter,1 m\n", 1, 6, "'lenght' is no field of a part of this table; did you mean 'length'?"),
        ("name,Length\nstarter,1 m\n", 1, 6, "did you mean 'length'?"),
        ("name,length,length\nstarter,1 m,1 m\n", 1, 13, "names length a second time, as column 2 does"),
        ("name,length,length (m)\nstarter,1 m,1\n", 1, 13, "names length a second time, as column 2 does"),
        ("name,length,,role\nstarter,1 m,,starter\n", 1, 13, "is a column without a name"),
        ("name,length (kg)\nstarter,1\n", 1, 6, "the unit of column 'length': "),
        ("name,length (gal)\nstarter,1\n", 1, 6, "the unit of column 'length': "),
        ("name,bundled_with (m)\nstarter,1\n", 1, 6, "'bundled_with' takes no unit, and its column says 'm'"),
        ("name,role.tol\nstarter,1\n", 1, 6, "'role.tol' has no tol: only numbers have"),
        ("length,role\n1 m,starter\n", 1, 1, "the first column holds the names of the parts, and 'length' is a field"),
        ("name,length\n,1 m\n", 2, 1, "has no name for the part of this row"),
        ("name,length\nstarter,1 m\nstarter,2 m\n", 3, 1, "'starter' is the part of line 2 already"),
        ("name,length\nfront left,1 m\n", 2, 1, "'front left' is not a name for a part"),
        ("name,length\nstarter,1\n", 2, 9, "electrics.cables.starter.length: "),
        ("name,length\nstarter,1 kg\n", 2, 9, "electrics.cables.starter.length: "),
        ('name,length\nstarter,"1,250 m"\n', 2, 9, "electrics.cables.starter.length: "),
        ("name,bundled_with\nstarter,two\n", 2, 9, "takes a whole number, like 0, not 'two'"),
        ("name,fused\nstarter,oui\n", 2, 9, "takes true or false, not 'oui'"),
        ("name,role\nstarter,startr\n", 2, 9, "did you mean 'starter'?"),
        ("name,length.tol\nstarter,1 %\n", 2, 9, "as a table it has value, tol and basis only"),
        ("name,length\nstarter,1 m,2 m\n", 2, 13, "has 3 cells in this row, and 2 columns in the first"),
        ('name,length\nstarter,"1 m\n', 2, 9, "has a double quote that is never closed"),
        ("", 1, 1, "is empty"),
        ("name,length\n" + "".join(f"c{n},1 m\n" for n in range(500)), 1, 1, "has 500 entries; more than 400"),
    ],
)
def test_a_fault_in_a_table_is_told_at_its_cell(tmp_path: Path, table: str, line: int, column: int, what: str) -> None:
    found = errors(tmp_path, table)
    assert found[0][:3] == ("table.csv", line, column)
    assert what in found[0][3]
    assert len(found) == 1


def test_many_faults_are_told_up_to_a_bound(tmp_path: Path) -> None:
    found = errors(tmp_path, "name,length\n" + ",1 m\n" * 4000)
    assert 1 < len(found) <= 20


@pytest.mark.parametrize(
    ("section", "line", "what"),
    [
        ('"electrics.cable" = "t.csv"', 2, "'electrics.cable' is no table or list of alike parts; did you mean"),
        ('"electrics" = "t.csv"', 2, "is no table or list of alike parts"),
        ('"electrics.cables.starter" = "t.csv"', 2, "is no table or list of alike parts"),
        ('"build.name" = "t.csv"', 2, "is no table or list of alike parts"),
        ('"electrics.cables" = 5', 2, 'takes the name of a CSV file, like "cables.csv", not 5'),
        ('"electrics.cables" = ["a.csv"]', 2, "takes the name of a CSV file"),
        ('"electrics.cables" = "gone.csv"', 2, "there is no table 'gone.csv'"),
        ('"electrics.cables" = "../t.csv"', 2, "the table '../t.csv' lies outside the spec's folder"),
        ('"electrics.cables" = "/etc/passwd"', 2, "lies outside the spec's folder"),
        ('"electrics.cables" = "link.csv"', 2, "lies outside the spec's folder"),
        ('"electrics.cables" = ""', 2, "is not a file name"),
        ('"a b\\u0007" = "t.csv"', 2, "is no table or list"),
    ],
)
def test_what_tables_cannot_name(tmp_path: Path, section: str, line: int, what: str) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "t.csv").write_text("name,length\n")
    (inside / "t.csv").write_text("name,length\n")
    os.symlink(tmp_path / "t.csv", inside / "link.csv")
    (inside / "s.toml").write_text(f"[tables]\n{section}\n")
    with pytest.raises(SpecErrors) as caught:
        load_spec(str(inside / "s.toml"))
    (error,) = caught.value.errors
    assert (Path(error.file).name, error.line) == ("s.toml", line)
    assert what in error.what
    assert error.what.isprintable()


def test_tables_that_are_no_table(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_text('tables = "cables.csv"\n')
    with pytest.raises(SpecErrors, match="tables takes a table"):
        load_spec(str(tmp_path / "s.toml"))


def test_no_more_tables_than_a_bound(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_text("[tables]\n" + "".join(f'"x{n}" = "t.csv"\n' for n in range(15_000)))
    begin = time.process_time()
    with pytest.raises(SpecErrors) as caught:
        load_spec(str(tmp_path / "s.toml"))
    assert time.process_time() - begin < 3.0
    assert len(caught.value.errors) == MOST_TABLES + 1
    assert f"more than {MOST_TABLES} tables are not read" in str(caught.value)


@pytest.mark.parametrize("name", [".", "pipe", "device", "huge", "binary", "many", "wide", "deep"])
def test_a_file_that_is_no_table_ends_at_once(tmp_path: Path, name: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "device").symlink_to("/dev/zero")
    (tmp_path / "huge").write_text("name,length\n" + "a,1 m\n" * 200_000)
    (tmp_path / "binary").write_bytes(b"PK\x03\x04" + bytes(range(256)) * 50)
    (tmp_path / "many").write_text("name\n" + "\n".join(f"a{n}" for n in range(20_000)))
    (tmp_path / "wide").write_text("name," * 80_000)
    (tmp_path / "deep").write_text("name," + ".".join(["a"] * 40_000) + "\nx,1\n")
    (tmp_path / "s.toml").write_text(f'[tables]\n"electrics.cables" = "{name}"\n')
    begin = time.process_time()
    with pytest.raises(SpecErrors) as caught:
        load_spec(str(tmp_path / "s.toml"))
    assert time.process_time() - begin < 3.0
    assert all(len(error.what) < 600 for error in caught.value.errors)


@settings(max_examples=120, deadline=None)
@given(
    text=st.text(alphabet='name,length;\t\r\n".=-+()[]1 mäß²\x00\u2028ÿ', max_size=60), of=st.sampled_from(COLLECTIONS)
)
def test_no_text_raises_anything_but_a_spec_error(text: str, of: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("any")
    with contextlib.suppress(SpecErrors):
        spec_of(folder, text.encode("utf-8", "replace"), of=of)


# -- any spec, in two ----------------------------------------------------------------------------------------------
@settings(max_examples=10, deadline=None)
@given(name=st.sampled_from(["tarnholt-tender.toml", "skerrivar-van.toml"]), seed=st.integers(0, 10**9))
def test_any_collection_as_a_table_says_the_same(
    name: str, seed: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder, dice = tmp_path_factory.mktemp("split"), random.Random(seed)
    whole = load_spec(str(SPECS / name))
    data = tomllib.loads((SPECS / name).read_text())
    data["tables"] = {}
    for number, path in enumerate(dice.sample(COLLECTIONS, 6)):
        *above, last = path.split(".")
        node = data
        for key in above:
            node = node.get(key, {})
        parts = node.get(last)
        if not parts:
            continue
        taken: Any = parts
        if isinstance(parts, dict):
            taken = {}
            for part, fields in parts.items():
                gone = [key for key in fields if dice.random() < 0.7 and _fits_a_row(fields[key])]
                taken[part] = {key: fields.pop(key) for key in gone}
        elif all(_fits_a_row(value) for line in parts for value in line.values()):
            del node[last]
        else:
            continue
        (folder / f"{number}.csv").write_text(as_table(taken), newline="")
        data["tables"][path] = f"{number}.csv"
    (folder / "spec.toml").write_text(tomli_w.dumps(data))
    spec = load_spec(str(folder / "spec.toml"), sheet_folders=[SPECS, SPECS / "sheets"])
    assert spec.build.model_dump() == whole.build.model_dump()


def _fits_a_row(value: object) -> bool:
    """No list of tables has room in a cell, and no empty list or table."""
    if isinstance(value, dict):
        return bool(value) and all(_fits_a_row(below) for below in value.values())
    return not isinstance(value, list) or (bool(value) and not any(isinstance(one, dict | list) for one in value))
