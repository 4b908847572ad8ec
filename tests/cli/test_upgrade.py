"""`swaplint upgrade`: old names go, every other byte stays; and what other commands make of old names."""

from __future__ import annotations

import json
import shutil
import time
from pathlib import Path

import pytest
from calling import call
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.spec import renamed
from swaplint.spec.editing import rename
from swaplint.spec.toml_source import PathKey

SPECS = Path("specs")
OLD = b"""\xef\xbb\xbf# my swap\r
[build]\r
format = 1\r
\r
[vehicle.weights]  # off the plate\r
  gvwr = '7500 kg'\r
\r
[electrics]\r
base_voltage = "24 V" # two batteries\r
"""
NEW = OLD.replace(b"weights", b"mass").replace(b"base_voltage", b"nominal_voltage")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, and names that the model had before."""
    monkeypatch.setattr(
        renamed,
        "MOVED",
        {
            "vehicle.weights": "vehicle.mass",
            "electrics.base_voltage": "electrics.nominal_voltage",
            "driveline.boxes.strength": "driveline.gearbox.max_input_torque",
            "driveline.gearbox.strength": "driveline.gearbox.max_input_torque",
            "driveline.gearbox.tow_name": "vehicle.name",
        },
    )
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my.toml").write_bytes(OLD)
    return tmp_path


def test_the_spec_is_written_with_todays_names(here: Path) -> None:
    ran = call("upgrade", "my.toml")
    assert (ran.status, ran.out) == (0, b"")
    assert (here / "my.toml").read_bytes() == NEW
    assert ran.err.decode() == (
        "my.toml, line 5: vehicle.weights is called vehicle.mass now.\n"
        "my.toml, line 9: electrics.base_voltage is called electrics.nominal_voltage now.\n"
    )
    again = call("upgrade", "my.toml")
    assert (again.status, again.err) == (0, b"my.toml: nothing to rename.\n")
    assert (here / "my.toml").read_bytes() == NEW


def test_another_file_is_written_and_the_spec_stays(here: Path) -> None:
    assert call("upgrade", "my.toml", "-o", "new.toml").status == 0
    assert (here / "my.toml").read_bytes() == OLD
    assert (here / "new.toml").read_bytes() == NEW


def test_a_spec_whose_sections_all_have_old_names_is_found_in_a_folder(
    here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(renamed.MOVED, "wiring", "electrics")
    (here / "my.toml").write_text('[wiring]\nnominal_voltage = "24 V"\n', encoding="utf-8")
    result = call("upgrade", ".")
    assert result.status == 0, result.err
    assert b"passed over" not in result.err
    assert (here / "my.toml").read_text(encoding="utf-8").startswith("[electrics]")
    result = call("inspect", ".", "--format", "json")
    assert [spec["spec"] for spec in json.loads(result.out)["specs"]] == ["my.toml"]


def test_a_folder_with_one_spec_names_it(here: Path) -> None:
    assert call("upgrade", ".").status == 0
    assert (here / "my.toml").read_bytes() == NEW


def test_standard_input_goes_to_standard_output(here: Path) -> None:
    ran = call("upgrade", "-", stdin=OLD)
    assert (ran.status, ran.out) == (0, NEW)
    assert (here / "my.toml").read_bytes() == OLD
    assert call("upgrade", "-", stdin=NEW).out == NEW


@pytest.mark.parametrize(
    ("spec", "says"),
    [
        (OLD + b"nominal_voltage = '12 V'\n", "line 10, column 1: electrics.base_voltage is what electrics.nominal"),
        (b"[build\n", "is not valid TOML"),
        (b"[build]\nformat = 7\n[electrics]\nbase_voltage = '24 V'\n", "build.format 7 is not known"),
    ],
)
def test_what_cannot_be_upgraded_stays_as_it_is(here: Path, spec: bytes, says: str) -> None:
    (here / "my.toml").write_bytes(spec)
    ran = call("upgrade", "my.toml")
    assert ran.status == 2
    assert says in ran.err.decode()
    assert (here / "my.toml").read_bytes() == spec


def test_faults_of_the_call(here: Path) -> None:
    assert call("upgrade", "none.toml").status == 2
    both = call("upgrade", "my.toml", "--sheets-too", "-o", "x.toml")
    assert both.status == 2
    assert "--sheets-too writes the data sheets themselves" in both.err.decode()
    assert call("upgrade", "my.toml", "-o", "no/such/folder.toml").status == 2
    assert (here / "my.toml").read_bytes() == OLD


def test_wrong_values_do_not_keep_a_spec_from_being_upgraded(here: Path) -> None:
    (here / "my.toml").write_bytes(OLD.replace(b"7500 kg", b"7500 furlongs"))
    assert call("upgrade", "my.toml").status == 0
    assert (here / "my.toml").read_bytes() == NEW.replace(b"7500 kg", b"7500 furlongs")


def test_an_older_format_becomes_todays(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for module in ("swaplint.spec.formats", "swaplint.cli.upgrade"):
        monkeypatch.setattr(f"{module}.FORMAT", 2)
    assert call("upgrade", "my.toml").status == 0
    assert (here / "my.toml").read_bytes() == NEW.replace(b"format = 1", b"format = 2")
    (here / "my.toml").write_text("[build]\nformat = 1 # first\n")
    ran = call("upgrade", "my.toml")
    assert ran.err == b"my.toml: build.format is 2 now.\n"
    assert (here / "my.toml").read_text() == "[build]\nformat = 2 # first\n"


def test_hundreds_of_old_names_take_seconds(here: Path) -> None:
    loads = "".join(f"[electrics.loads.l{n}]\nold_a = '{n} A' # {n}\nold_b = 1\n" for n in range(390))
    (here / "my.toml").write_text(loads)
    renamed.MOVED.update({f"electrics.loads.*.old_{x}": f"electrics.loads.*.{x}" for x in "ab"})
    start = time.perf_counter()
    ran = call("upgrade", "my.toml")
    assert ran.status == 0
    assert time.perf_counter() - start < 10
    assert (here / "my.toml").read_text() == loads.replace("old_", "")
    assert ran.err.decode().endswith("my.toml: 750 more old names.\n")


# -- data sheets ---------------------------------------------------------------------------------------------------
SHEET = "# of the box\nstrength = '900 Nm'  # from memory\n"


def with_sheet(here: Path, sheet: str = SHEET) -> None:
    (here / "sheets").mkdir()
    (here / "sheets/box.toml").write_text(sheet)
    (here / "my.toml").write_text('[driveline.gearbox]\nsheet = "sheets/box.toml"\n')


def test_data_sheets_are_written_where_that_is_asked_for(here: Path) -> None:
    with_sheet(here)
    assert call("upgrade", "my.toml").err == b"my.toml: nothing to rename.\n"
    assert (here / "sheets/box.toml").read_text() == SHEET
    ran = call("upgrade", "my.toml", "--sheets-too")
    assert ran.status == 0
    assert ran.err.decode().endswith("sheets/box.toml, line 2: strength is called max_input_torque now.\n")
    assert (here / "sheets/box.toml").read_text() == SHEET.replace("strength", "max_input_torque")


def test_what_a_sheet_states_of_another_part_is_left_to_a_person(here: Path) -> None:
    with_sheet(here, "tow_name = 'Tender'\n")
    ran = call("upgrade", "my.toml", "--sheets-too")
    assert ran.status == 0
    assert "sheets/box.toml, line 1: tow_name is vehicle.name of the spec now" in ran.err.decode()
    assert (here / "sheets/box.toml").read_text() == "tow_name = 'Tender'\n"


def test_nothing_is_written_where_a_sheet_cannot_be_read(here: Path) -> None:
    (here / "my.toml").write_bytes(OLD + b'[engine]\nsheet = "none.toml"\n')
    assert call("upgrade", "my.toml", "--sheets-too").status == 2
    assert (here / "my.toml").read_bytes() == OLD + b'[engine]\nsheet = "none.toml"\n'


# -- the other commands --------------------------------------------------------------------------------------------
TOLD = "vehicle.weights is called vehicle.mass now; 'swaplint upgrade my.toml' rewrites it.\n"


def test_old_names_are_told_on_standard_error_and_change_nothing_else(here: Path) -> None:
    old = call("inspect", "my.toml", "--format", "json")
    assert old.err.decode().count(TOLD) == 1
    (here / "my.toml").write_bytes(NEW)
    new = call("inspect", "my.toml", "--format", "json")
    assert (old.status, new.err) == (new.status, b"")
    assert _but_for_places(old.out) == _but_for_places(new.out)


def _but_for_places(report: bytes) -> object:
    def without(node: object) -> object:
        if isinstance(node, dict):
            return {key: without(value) for key, value in node.items() if key not in ("line", "column", "sha256")}
        return [without(value) for value in node] if isinstance(node, list) else node

    return without(json.loads(report))


def test_each_spec_of_a_call_tells_of_its_own(here: Path) -> None:
    shutil.copy("my.toml", "other.toml")
    ran = call("inspect", "my.toml", "other.toml", "--format", "jsonl")
    assert ran.err.decode().count(" is called ") == 4
    assert "'swaplint upgrade other.toml' rewrites it" in ran.err.decode()


def test_size_study_and_worksheet_know_old_names(here: Path) -> None:
    size = call("size", "my.toml", "vehicle.weights.gvwr", "--format", "json")
    assert size.status == 0, size.err
    assert json.loads(size.out)["field"] == "vehicle.mass.gvwr"
    assert TOLD in size.err.decode()
    study = call("study", "my.toml", "--vary", "vehicle.weights.gvwr=7000 kg,7500 kg", "--format", "json")
    assert study.status == 0, study.err
    assert list(json.loads(study.out)["vary"]) == ["vehicle.mass.gvwr"]
    assert TOLD in call("worksheet", "my.toml").err.decode()


# -- any renamed fields of a whole spec ----------------------------------------------------------------------------
WHOLE = (SPECS / "tarnholt-tender.toml").read_bytes()
KEYS: list[PathKey] = [
    ("vehicle",),
    ("vehicle", "mass"),
    ("vehicle", "mass", "gvwr"),
    ("vehicle", "ledger"),
    ("electrics", "cables"),
    ("electrics", "nominal_voltage"),
    ("driveline", "gearbox"),
    ("driveline", "axles"),
    ("driveline", "tyres"),
    ("plumbing",),
    ("plumbing", "fuel"),
]


@given(st.lists(st.sampled_from(KEYS), min_size=1, max_size=4, unique=True), st.booleans())
@settings(max_examples=10, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_upgrade_undoes_any_renaming(here: Path, chosen: list[PathKey], crlf: bool) -> None:
    whole = WHOLE.replace(b"\n", b"\r\n") if crlf else WHOLE
    text, table = whole.decode(), {}
    for path in sorted(chosen, key=len, reverse=True):
        old = (*path[:-1], f"old_{path[-1]}")
        text = rename(text, path, old)
        table[".".join(map(str, old))] = ".".join(map(str, path))
    assert text.encode() != whole
    (here / "whole.toml").write_bytes(text.encode())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(renamed, "MOVED", dict(reversed(table.items())))
        ran = call("upgrade", "whole.toml")
    assert ran.status == 0, ran.err
    assert (here / "whole.toml").read_bytes() == whole


# -- names that are words: departures, [tables], the columns of a table ---------------------------------------------
WORDS = """[tables] # out of the spreadsheet
"electrics.leads" = "leads.csv"
[[deviations]]
rule = "power.old-id"     # as it was called
part = 'electrics.leads.starter'
reason = "electrics.leads stays here"
"""
LEADS = b'\xef\xbb\xbfname;"girth (mm2)";length (m);note\r\nstarter;50;1,2;"girth"\r\n'


@pytest.fixture
def worded(here: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A spec whose old names stand where no key does."""
    monkeypatch.setitem(renamed.MOVED, "electrics.leads", "electrics.cables")
    monkeypatch.setattr("swaplint.spec.renamed.former_names", _former_names)
    monkeypatch.setattr("swaplint.spec.renamed._has_former_names", lambda model: True)
    find, today = RuleBase.find, {"power.old-id": "power.circuit-drop"}

    def found(base: RuleBase, id: str) -> Rule | None:
        return find(base, today.get(id, id))

    monkeypatch.setattr(RuleBase, "find", found)
    (here / "my.toml").write_text(WORDS)
    (here / "leads.csv").write_bytes(LEADS)
    return here


def _former_names(model: type) -> dict[str, str]:
    return {"girth": "size"} if model.__name__ == "Cable" else {}


def test_departures_and_tables_go_by_todays_names(worded: Path) -> None:
    ran = call("upgrade", "my.toml", "--sheets-too")
    assert ran.status == 0, ran.err
    assert (worded / "my.toml").read_text() == (
        WORDS.replace('"electrics.leads" =', '"electrics.cables" =')
        .replace("power.old-id", "power.circuit-drop")
        .replace("electrics.leads.starter", "electrics.cables.starter")
    )
    assert (worded / "leads.csv").read_bytes() == LEADS.replace(b'"girth (mm2)"', b'"size (mm2)"')
    told = ran.err.decode().splitlines()
    assert told == [
        "my.toml, line 4: power.old-id is called power.circuit-drop now.",
        "my.toml, line 5: electrics.leads.starter is called electrics.cables.starter now.",
        "my.toml, line 2: electrics.leads is called electrics.cables now.",
        "leads.csv, line 1: girth is called size now.",
    ]
    again = call("upgrade", "my.toml", "--sheets-too")
    assert again.err == b"my.toml: nothing to rename.\n"


def test_a_table_stays_where_only_the_spec_is_asked_for(worded: Path) -> None:
    assert call("upgrade", "my.toml").status == 0
    assert (worded / "leads.csv").read_bytes() == LEADS


def test_old_and_new_words_say_the_same(worded: Path) -> None:
    options = ("inspect", "my.toml", "--rule", "power.circuit-drop", "--format", "json", "--no-remedies")
    old = call(*options)
    assert call("upgrade", "my.toml", "--sheets-too").status == 0
    assert _but_for_places(call(*options).out) == _but_for_places(old.out)


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ("name;girth (mm2);größe\n".encode("cp1252"), "is no UTF-8 text, so rename it by hand"),
        (None, "leads.csv"),
    ],
)
def test_nothing_is_written_where_a_table_cannot_be(worded: Path, table: bytes | None, says: str) -> None:
    (worded / "leads.csv").unlink() if table is None else (worded / "leads.csv").write_bytes(table)
    ran = call("upgrade", "my.toml", "--sheets-too")
    assert ran.status == 2
    assert says in ran.err.decode()
    assert (worded / "my.toml").read_text() == WORDS


def test_odd_departures_and_tables_are_left_as_they_are(worded: Path) -> None:
    for odd in ("deviations = 7\n", "deviations = [1, {rule = 2, part = []}]\n", "tables = 'x'\n"):
        (worded / "my.toml").write_text(odd)
        assert call("upgrade", "my.toml").status == 0
        assert (worded / "my.toml").read_text() == odd
