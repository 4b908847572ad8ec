"""`swaplint handover`, run as a user runs it."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from calling import Ran, call

from swaplint.api import holds, needs_review
from swaplint.reports.handover_words import _says
from tests.core.tests_making import inspected, made

SPEC = """[build]
name = "Bench rig (invented)"
stage = "commission"
jurisdiction = "example state | light class"
[vehicle]
name = "Rig *one*"
[engine.speed]
idle = "800 r/min"
[engine.service.oil_filter]
interval = "service"
withdraw = "120 mm"
[engine.oil.fill]
volume = "7.5 L"
standards = ["API CK-4"]
[electrics.cables.cab]
role = "cab-feed"
start = "battery-positive"
end = "cab-fuses"
fuse = "60 A"
[driveline.speedometer]
fitted = false
[measured.oil]
date = "2026-05-31"
by = "A. Example"
instrument = "gauge no. 4"
idle_pressure = { value = "180 kPa", tol = "5 %" }
[measured.running]
lamps_tried = false
[measured.bus]
active_codes = ["SPN 100 FMI 3", "SPN 110 FMI 0"]
[measured.done.leak-look]
date = "2026-06-01"
note = "dry all over"
[[deviations]]
rule = "supply.needed-parts"
demand = "speedometer"
reason = "a bench has no road"
by = "B. Example, engineer"
date = "2026-05-01"
until = "2027-01-01"
"""
DAY = ("--on", "2026-06-15")


@pytest.fixture
def spec(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A small spec of a finished vehicle."""
    monkeypatch.setenv("COLUMNS", "80")
    path = tmp_path / "rig.toml"
    path.write_text(SPEC, encoding="utf-8")
    return str(path)


def text_of(ran: Ran) -> str:
    assert ran.status == 0, ran.err.decode()
    return ran.out.decode()


def test_the_sheet(spec: str) -> None:
    text = text_of(call("handover", spec, *DAY))
    lines, flowing = text.splitlines(), " ".join(text.split())
    assert max(map(len, lines)) <= 80
    headings = [line.split(" ─")[0] for line in lines if line.endswith("───")]
    assert headings == [
        "VEHICLE",
        "WHAT IT IS BUILT FOR, AND NOT FOR MORE",
        "WHAT STILL STANDS",
        "ACCEPTED DEPARTURES",
        "APPROVALS AND PAPERS",
        "MEASURED",
        "FLUIDS",
        "FUSES AND RELAYS",
        "SERVICE",
        "CAUTIONS",
        "SIGNATURES",
        "WHAT NO SPEC CAN SHOW",
        "FILES THAT THIS SHEET SPEAKS OF",
    ]
    assert "This sheet claims no approval." in flowing
    assert "180 kPa ± 9 kPa" in text
    assert "date: 2026-05-31; by: A. Example; instrument: gauge no. 4" in flowing
    assert "every warning lamp was seen to light and to go out no" in flowing
    assert "SPN 100 FMI 3, SPN 110 FMI 0" in flowing
    assert "leak-look 2026-06-01; dry all over" in flowing
    assert "the finished vehicle on the weighbridge" in flowing, "what was not measured is named"
    assert "engine oil API CK-4 7.5 L" in flowing
    assert "cab 60 A" in flowing
    assert "oil filter service" in flowing
    assert f"rig.toml: {hashlib.sha256(SPEC.encode()).hexdigest()}" in flowing


def test_that_there_are_no_fault_codes_is_a_reading(spec: str) -> None:
    path = Path(spec)
    path.write_text(SPEC.replace('["SPN 100 FMI 3", "SPN 110 FMI 0"]', "[]"), encoding="utf-8")
    flowing = " ".join(text_of(call("handover", spec, *DAY)).split())
    assert "active with the engine running; empty none" in flowing
    data: Any = json.loads(text_of(call("handover", spec, *DAY, "--format", "json")))
    assert data["measured"][2]["readings"][0]["value"] == []


def test_an_accepted_departure_stands_with_who_signed_for_it(spec: str) -> None:
    flowing = " ".join(text_of(call("handover", spec, *DAY)).split())
    standing, _, after = flowing.partition("ACCEPTED DEPARTURES")
    accepted = after.partition("MEASURED")[0]
    assert "supply.needed-parts" not in standing
    assert "supply.needed-parts" in accepted
    assert "until 2027-01-01, by B. Example, engineer on 2026-05-01: a bench has no road (line 34)" in accepted
    later = " ".join(call("handover", spec, "--on", "2027-06-15").out.decode().split())
    assert "ERROR supply.needed-parts" in later.partition("ACCEPTED DEPARTURES")[0], "it has run out"


def test_markdown(spec: str) -> None:
    text = text_of(call("handover", spec, *DAY, "--format", "markdown"))
    assert text.startswith("# Bench rig (invented)\n\nHand-over sheet of ")
    assert "| vehicle | Rig \\*one\\* |" in text, "what a spec names means nothing to Markdown"
    assert "| rules of | example state \\| light class |" in text
    assert "| engine oil | API CK-4 | 7.5 L |" in text
    assert "## What no spec can show" in text


def test_the_data(spec: str) -> None:
    data: Any = json.loads(text_of(call("handover", spec, *DAY, "--format", "json")))
    assert data["stage"] == "commission"
    assert data["on"] == "2026-06-15"
    assert data["claims"].startswith("This sheet claims no approval.")
    assert data["files"][0]["sha256"] == hashlib.sha256(SPEC.encode()).hexdigest()
    oil, running, bus = data["measured"]
    assert running["readings"][0]["value"] is False
    assert (oil["trial"], oil["date"], oil["by"], oil["conditions"]) == (
        "measured.oil",
        "2026-05-31",
        "A. Example",
        None,
    )
    (reading,) = oil["readings"]
    assert (reading["value"], reading["unit"], reading["tol"]) == (180, "kPa", 9)
    assert bus["readings"][0]["value"] == ["SPN 100 FMI 3", "SPN 110 FMI 0"]
    assert "weighing" in data["not_measured"]
    assert data["done"] == [
        {"step": "leak-look", "field": "measured.done.leak-look", "date": "2026-06-01", "note": "dry all over"}
    ]
    (accepted,) = data["accepted"]
    assert (accepted["rule"], accepted["by"]) == ("supply.needed-parts", "B. Example, engineer")
    standing = {(finding["rule"], finding["demand"]) for finding in data["standing"]}
    assert (accepted["rule"], accepted["demand"]) not in standing
    assert ("supply.needed-parts", "alternator") in standing, "another demand of the rule is still owed"
    oils = data["lists"]["fluids"]["rows"]
    assert [row["cells"]["fill"]["value"] for row in oils if row["listing"] == "supply.engine-oil"] == [7.5]
    for row in data["lists"]["use"]["rows"]:
        assert row["part"] == row["cells"]["what"]["value"], "a line is called by its name in every run"


def test_a_spec_that_states_nothing(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("", encoding="utf-8")
    text = text_of(call("handover", str(path), *DAY))
    for says in ("Build without a name", "Nothing was measured.", "Nothing that fails was accepted by anybody."):
        assert says in text
    assert "VEHICLE" not in text
    assert "No rule of the level error passed." in text


def test_what_cannot_be_read(tmp_path: Path) -> None:
    ran = call("handover", "there-is-none.toml")
    assert (ran.status, ran.out) == (2, b"")
    path = tmp_path / "rig.toml"
    path.write_text("", encoding="utf-8")
    for option in ("--policy", "--deviations"):
        ran = call("handover", str(path), option, "there-is-none-either.toml")
        assert (ran.status, ran.out) == (2, b"")
        assert b"there-is-none-either.toml" in ran.err


def test_what_is_left_to_a_person_says_what_decides_it_and_a_fail_does_not() -> None:
    rules = (
        made("fit.looked-at", lambda _: needs_review("It may rub. Or not.")),
        made("fit.no", lambda _: holds(False, "It rubs. Always.")),
    )
    inspection, _ = inspected("", *rules, stage="plan")
    said = {finding.kind: _says(finding) for finding in inspection.findings}
    assert said == {"review": "It may rub. A person must look.", "fail": "It rubs."}
