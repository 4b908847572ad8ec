"""Converting a DBC file, on an invented one written here; groups and addresses against the library cantools."""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path

import pytest

from swaplint.kit import __main__ as kit
from swaplint.kit.dbc import as_toml
from swaplint.spec.loading import load_text

cantools = pytest.importorskip("cantools")

# 0x0CF00400: priority 3, group 61444, source 0; 0x18FEEE00: priority 6, group 65262, source 0. In the file bit 31 marks
# 29-bit identifiers: 0x8CF00400 = 2364539904, 0x98FEEE00 = 2566843904.
DBC = """VERSION ""

NS_ :

BS_:

BU_: MOTOR DISPLAY

BO_ 2364539904 EEC1: 8 MOTOR
 SG_ EngineSpeed : 24|16@1+ (0.125,0) [0|8031.875] "rpm" DISPLAY
 SG_ Torque : 16|8@1+ (1,-125) [-125|125] "%" MOTOR

BO_ 2566843904 ET1: 8 MOTOR
 SG_ CoolantTemperature : 0|8@1+ (1,-40) [-40|210] "degC" DISPLAY

BO_ 291 Proprietary: 4 DISPLAY
 SG_ Button : 0|8@1+ (1,0) [0|255] "" MOTOR

BA_DEF_ "Baudrate" INT 1000 1000000;
BA_DEF_ BU_ "NmStationAddress" INT 0 255;
BA_DEF_ BO_ "GenMsgCycleTime" INT 0 65535;
BA_DEF_ BO_ "VFrameFormat" ENUM "StandardCAN","ExtendedCAN","reserved","J1939PG";
BA_DEF_ SG_ "SPN" INT 0 524287;
BA_DEF_DEF_ "Baudrate" 250000;
BA_DEF_DEF_ "NmStationAddress" 254;
BA_DEF_DEF_ "GenMsgCycleTime" 0;
BA_DEF_DEF_ "VFrameFormat" "StandardCAN";
BA_DEF_DEF_ "SPN" 0;
BA_ "Baudrate" 250000;
BA_ "NmStationAddress" BU_ DISPLAY 23;
BA_ "GenMsgCycleTime" BO_ 2364539904 20;
BA_ "GenMsgCycleTime" BO_ 2566843904 1000;
BA_ "VFrameFormat" BO_ 2364539904 3;
BA_ "VFrameFormat" BO_ 2566843904 3;
BA_ "SPN" SG_ 2364539904 EngineSpeed 190;
BA_ "SPN" SG_ 2364539904 Torque 513;
BA_ "SPN" SG_ 2566843904 CoolantTemperature 110;
"""


@pytest.fixture
def dbc(tmp_path: Path) -> Path:
    path = tmp_path / "example.dbc"
    path.write_text(DBC, encoding="utf-8")
    return path


def test_messages_become_fields_that_the_spec_accepts(dbc: Path) -> None:
    text = as_toml(dbc, "MOTOR")
    data = tomllib.loads(text)
    engine, display = data["engine"]["network"], data["electrics"]["network"]["nodes"]["DISPLAY"]
    assert [(m["group"], m.get("period"), m["parameters"]) for m in engine["sends"]] == [
        (61444, "20 ms", [190, 513]),
        (65262, "1000 ms", [110]),
    ]
    assert (engine["protocol"], engine["address"], engine["bit_rate"]) == ("SAE J1939", 0, "250 kbit/s")
    assert (display["address"], display["needs"]) == (23, [190, 110])
    assert (display["sends"][0]["group"], display["sends"][0]["bytes"]) == (0x123, 4)
    assert "period" not in display["sends"][0]
    loaded = load_text(text)
    stated = loaded.stated("engine.network.sends[1].period")
    assert stated is not None
    assert stated.value == pytest.approx(0.020)


def test_groups_agree_with_cantools(dbc: Path) -> None:
    database = cantools.database.load_file(str(dbc))
    for message in database.messages:
        if message.protocol == "j1939":
            unpacked = cantools.j1939.frame_id_unpack(message.frame_id)
            group = cantools.j1939.pgn_pack(
                unpacked.reserved, unpacked.data_page, unpacked.pdu_format, unpacked.pdu_specific
            )
            sends = tomllib.loads(as_toml(dbc, "MOTOR"))["engine"]["network"]["sends"]
            assert group in [sent["group"] for sent in sends]
            assert unpacked.source_address == 0


def test_what_cannot_be_converted_says_so(dbc: Path, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="has no device GEARBOX; it has MOTOR, DISPLAY"):
        as_toml(dbc, "GEARBOX")
    with pytest.raises(ValueError, match="cannot be read"):
        as_toml(tmp_path / "missing.dbc")
    wrong = tmp_path / "wrong.dbc"
    wrong.write_text("[build]\nformat = 1\n", encoding="utf-8")
    with pytest.raises(ValueError, match="is not a DBC file"):
        as_toml(wrong)


def test_without_the_library_it_names_the_extra(dbc: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cantools", None)
    with pytest.raises(ValueError, match=r"swaplint\[network\]"):
        as_toml(dbc)


def test_the_command_prints_toml_or_one_sentence(
    dbc: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["kit", "dbc", str(dbc), "--engine", "MOTOR"])
    assert kit.main() == 0
    out = capsys.readouterr()
    assert tomllib.loads(out.out)["engine"]["network"]["address"] == 0
    monkeypatch.setattr(sys, "argv", ["kit", "dbc", str(dbc), "--engine", "NOBODY"])
    assert kit.main() == 2
    out = capsys.readouterr()
    assert (out.out, out.err.count("\n")) == ("", 1)


def test_linting_a_spec_never_loads_the_library() -> None:
    import subprocess

    modules = "sys, swaplint.cli, swaplint.spec.loading, swaplint.inspecting.inspection"
    code = f"import {modules}; sys.exit('cantools' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
