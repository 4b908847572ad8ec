"""`swaplint fill` as a person runs it: asked, in the call, and through a table."""

from __future__ import annotations

import csv
import io
import json
import os
import stat
import tomllib
from pathlib import Path

import pytest
from calling import Ran, call, terminal

from swaplint.cli.program import COMMANDS
from swaplint.spec import renamed

SPEC = """\
#:schema ./swaplint.schema.json
## an invented van, half written
[build]
stage = "idea"   # as yet
design.cruise_speed = "85 km/h"
[engine]
# fuel_type = "diesel"           # what it burns (data sheet)
speed.cruise_low = "1600 r/min"
speed.cruise_high = "2300 r/min"

[driveline]
# gearbox.kind = "manual"        # how it is shifted (look)
gearbox.ratios = [4.8, 2.6, 1.5, 1.0, 0.78]
transfer.high = 1.0
tyres.overall_diameter = "728 mm"
tyres.construction = "radial"

[driveline.axles.rear]
driven = true
"""
RATIO = "driveline.axles.rear.ratio"


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    Path("van.toml").write_bytes(SPEC.encode())


def text() -> str:
    return Path("van.toml").read_bytes().decode()


def fill(*words: str, stdin: str = "") -> Ran:
    return call("fill", "van.toml", *words, stdin=stdin.encode())


def said(ran: Ran) -> str:
    return " ".join((ran.out + ran.err).decode().split())


def test_the_command_is_listed() -> None:
    assert "fill" in COMMANDS


# -- answers in the call -------------------------------------------------------------------------------------------
def test_an_answer_takes_the_place_of_its_line_and_says_what_it_decides() -> None:
    ran = fill(f"{RATIO}=4.1")
    assert ran.status == 0
    assert text() == SPEC + "ratio = 4.1\n"
    # n = 0.78·4.1·(85/3.6)/(2π·0.353 m)·60 = 2040 r/min, in the cruise band
    assert f"Written: {RATIO} = 4.1; " in said(ran)
    assert "gearing.cruise-rpm" in said(ran)
    assert fill("driveline.gearbox.kind=automatic").status == 0
    assert 'gearbox.kind = "automatic"       # how it is shifted (look)\n' in text()


def test_a_fail_is_said_with_its_numbers() -> None:
    assert "1 fails: gearing.cruise-rpm (" in said(fill(f"{RATIO}=5.5"))


def test_several_answers_are_written_together_or_none() -> None:
    ran = fill("engine.fuel_type=petrol", "vehicle.mass.gvwr=3500 kg", f"{RATIO}=41")
    assert ran.status == 2
    assert text() == SPEC
    assert "1.5 to 15" in said(ran)
    assert "Nothing was written." in said(ran)
    assert fill("engine.fuel_type=petrol", "vehicle.mass.gvwr=3500 kg", f"{RATIO}=4.1").status == 0
    data = tomllib.loads(text())
    assert data["engine"]["fuel_type"] == "petrol"
    assert data["vehicle"] == {"mass": {"gvwr": "3500 kg"}}


def test_a_star_stands_for_all_alike_parts() -> None:
    assert fill("driveline.axles=front").status == 0
    assert fill("driveline.axles.*.ratio=4.1").status == 0
    axles = tomllib.loads(text())["driveline"]["axles"]
    assert axles == {"rear": {"driven": True, "ratio": 4.1}, "front": {"ratio": 4.1}}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["x"], "'x' is no answer; one looks like 'vehicle.mass.gvwr=3500 kg'"),
        (["vehicle.mas.gvwr=3500 kg"], "did you mean 'vehicle.mass.gvwr'?"),
        (["vehicle.mass.gvwr="], "vehicle.mass.gvwr is empty"),
        ([f"{RATIO}=4.1", f"{RATIO}=4.2"], "is answered twice, and not alike"),
        ([f"{RATIO}=4.1", "--questions", "q.csv"], "do not go together"),
        (["--part", "rear"], "go with --remedy"),
        (["--replace"], "--replace goes with --questions"),
        (["--from", "none.csv"], "none.csv: cannot be read: No such file or directory."),
        (["--from", "."], "is a folder; name a table with answers"),
        (["--remedy", "gearing.cruise"], "did you mean 'gearing.cruise-rpm'?"),
        (["--remedy", "gearing.cruise-rpm"], "does not fail here: there is nothing to mend"),
        (["--system", "gears"], "'gears' is not a system"),
    ],
)
def test_a_wrong_call_ends_in_a_sentence_and_writes_nothing(words: list[str], says: str) -> None:
    ran = fill(*words)
    assert ran.status == 2
    assert says in said(ran)
    assert text() == SPEC
    assert sorted(os.listdir()) == ["van.toml"]


def test_standard_input_is_no_file_to_write() -> None:
    ran = call("fill", "-", "engine.cylinders=4", stdin=SPEC.encode())
    assert ran.status == 2
    assert "name it" in said(ran)


def test_an_answer_that_makes_the_spec_unreadable_is_refused() -> None:
    ran = fill("driveline.gearbox.sheet=box.toml")
    assert ran.status == 2
    assert "could then not be read: there is no data sheet 'box.toml'" in said(ran)
    assert text() == SPEC


def test_a_spec_with_old_names_is_upgraded_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(renamed.MOVED, "vehicle.axle_gap", "vehicle.wheelbase")
    old = '[vehicle]\naxle_gap = "2900 mm"\n'
    Path("van.toml").write_text(old, encoding="utf-8")
    ran = fill("engine.cylinders=4")
    assert ran.status == 2
    assert "'swaplint upgrade'" in said(ran)
    assert text() == old


def test_a_value_of_a_data_sheet_gets_its_own_in_the_spec() -> None:
    Path("six.toml").write_text('cylinders = 6\nfuel_type = "diesel"\n', encoding="utf-8")
    Path("van.toml").write_text('[engine]\nsheet = "six.toml"\n', encoding="utf-8")
    assert fill("engine.cylinders=5").status == 0
    assert text() == '[engine]\nsheet = "six.toml"\ncylinders = 5\n'
    assert Path("six.toml").read_text(encoding="utf-8") == 'cylinders = 6\nfuel_type = "diesel"\n'


def test_the_mode_of_the_file_and_its_link_stay() -> None:
    Path("van.toml").chmod(0o640)
    os.rename("van.toml", "real.toml")
    os.symlink("real.toml", "van.toml")
    assert fill(f"{RATIO}=4.1").status == 0
    assert Path("van.toml").is_symlink()
    assert stat.S_IMODE(Path("real.toml").stat().st_mode) == 0o640
    assert sorted(os.listdir()) == ["real.toml", "van.toml"]


# -- asked -----------------------------------------------------------------------------------------------------------
def test_asks_in_the_order_of_what_is_worth_finding_out_next() -> None:
    report = json.loads(call("inspect", "van.toml", "--format", "json", "--gate", "never").out)
    order = [ask["field"] for ask in report["specs"][0]["ask_next"]]
    asked = [
        line.split("   ")[0] for line in fill(stdin="\n" * 5).out.decode().splitlines() if "questions left" in line
    ]
    assert asked[:5] == order[:5]


def test_a_question_says_meaning_place_unit_usual_value_and_what_waits() -> None:
    ran = fill("--rule", "gearing.cruise-rpm", "--rule", "gearing.crawl", stdin="")
    shown = ran.out.decode()
    assert ran.status == 0
    first = shown.split("\n\n")[0].strip().splitlines()
    assert first[0].endswith("questions left")
    assert any(line.startswith("  from     ") for line in first)
    assert any(line.startswith("  takes    ") for line in first)
    assert any(line.startswith("  for      ") for line in first)
    assert max(map(len, shown.splitlines())) < 80


def test_refuses_and_asks_again_goes_back_skips_and_stops() -> None:
    words = ["--rule", "gearing.cruise-rpm"]
    ran = fill(*words, stdin="four\n4,1\n41\nskip\nback\n4.1\n")
    assert ran.status == 0
    shown = said(ran)
    assert "takes a number" in shown
    assert "(write 4.1)" in shown
    assert "put ! behind it if it is meant" in shown
    assert "1 answer written to van.toml" in shown
    assert tomllib.loads(text())["driveline"]["axles"]["rear"]["ratio"] == 4.1
    assert fill(*words, stdin="stop\n150 km/h\n").status == 0
    assert "150" not in text()


def test_back_asks_for_what_was_answered_and_shows_it() -> None:
    fill("--rule", "gearing.cruise-rpm", stdin="4.1\nback\n4.3\n")
    assert "ratio = 4.3\n" in text()


def test_works_on_a_terminal() -> None:
    seen = terminal("fill", "van.toml").decode()
    assert "questions left" in seen
    assert text() == SPEC


def test_a_file_that_somebody_else_changes_meanwhile_keeps_their_change(monkeypatch: pytest.MonkeyPatch) -> None:
    from swaplint.cli import answering

    real = answering._heard

    def heard() -> str | None:
        Path("van.toml").write_text(text().replace("as yet", "by now"), encoding="utf-8")
        return real()

    monkeypatch.setattr(answering, "_heard", heard)
    fill("--rule", "gearing.cruise-rpm", stdin="4.1\n")
    assert "# by now" in text()
    assert "ratio = 4.1" in text()


# -- tables ----------------------------------------------------------------------------------------------------------
def questions() -> list[list[str]]:
    assert fill("--questions", "walk.csv").status == 0
    return list(csv.reader(io.StringIO(Path("walk.csv").read_text(encoding="utf-8-sig"), newline="")))


def answered(rows: list[list[str]], answers: dict[str, str], encoding: str = "utf-8-sig", delimiter: str = ",") -> Ran:
    """A table filled in with another program, and read back."""
    for row in rows[1:]:
        row[-1] = answers.get(row[0], "")
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=delimiter).writerows(rows)
    Path("walk.csv").write_bytes(out.getvalue().encode(encoding, "replace"))
    return fill("--from", "walk.csv")


def test_the_table_of_questions_says_what_a_clipboard_needs() -> None:
    rows = questions()
    columns = ["field", "what it is", "where to find it", "unit or kind", "typical"]
    columns += ["what waits for it", "whom to ask", "answer"]
    assert rows[0] == columns
    by_field = {row[0]: row for row in rows[1:]}
    row = by_field["vehicle.mass.gvwr"]
    assert row[1].startswith("Highest mass that the laden vehicle may have")
    assert row[2:5] == ["the vehicle's plate or registration papers", "kg", "3000 kg"]
    assert row[6:] == ["owner", ""]
    assert by_field[RATIO][3] == "a number"
    assert fill("--questions", "walk.csv").status == 2  # is there already
    assert fill("--questions", "walk.csv", "--replace").status == 0
    assert fill("--questions", "van.toml", "--replace").status == 2
    assert text() == SPEC


@pytest.mark.parametrize(
    ("encoding", "delimiter"),
    [("utf-8-sig", ","), ("utf-8", ";"), ("utf-16", "\t"), ("cp1252", ";")],
)
def test_answers_come_back_from_any_spreadsheet(encoding: str, delimiter: str) -> None:
    answers = {
        RATIO: "4,1",
        "vehicle.mass.gvwr": "3.499,5 kg ± 1,5 %, measured",
        "engine.torque_curve": "700 r/min, 180,5 Nm; 2200 r/min, 340 Nm",
        "driveline.drivetrain.efficiency": "90 %",
        "engine.fuel_type": "petrol",
    }
    ran = answered(questions(), answers, encoding, delimiter)
    assert ran.status == 0, ran.err
    data = tomllib.loads(text())
    assert data["driveline"]["axles"]["rear"]["ratio"] == 4.1
    assert data["vehicle"]["mass"]["gvwr"] == {"value": "3499.5 kg", "tol": "1.5 %", "basis": "measured"}
    assert data["engine"]["torque_curve"][0] == {"speed": "700 r/min", "torque": "180.5 Nm"}
    assert data["driveline"]["drivetrain"]["efficiency"] == "90 %"
    assert 'fuel_type = "petrol"             # what it burns (data sheet)\n' in text()
    assert ("was read as Windows-1252 text" in said(ran)) == (encoding == "cp1252")


def test_a_number_that_can_be_read_in_two_ways_is_refused_unless_the_table_shows_its_decimal_mark() -> None:
    ran = answered(questions(), {RATIO: "4,125"}, "utf-8", ";")
    assert ran.status == 2
    assert "as 4.125 or as 4125" in said(ran)
    assert text() == SPEC
    rows = questions_again()
    assert answered(rows, {RATIO: "4,125", "vehicle.aero.drag_coefficient": "0,45"}, "utf-8", ";").status == 0
    assert "ratio = 4.125\n" in text()


def questions_again() -> list[list[str]]:
    os.unlink("walk.csv")
    return questions()


def test_a_wrong_answer_in_a_table_is_named_by_its_place_and_nothing_is_written() -> None:
    rows = questions()
    number = next(n for n, row in enumerate(rows) if row[0] == RATIO)
    ran = answered(rows, {RATIO: "four", "vehicle.mass.gvwr": "3500 kg"})
    assert ran.status == 2
    assert f"walk.csv, line {number + 1}, column " in ran.err.decode()
    assert text() == SPEC


def test_a_table_needs_its_two_columns() -> None:
    Path("walk.csv").write_text("field,value\na,b\n", encoding="utf-8")
    assert "has no column 'answer'" in said(fill("--from", "walk.csv"))
    Path("walk.csv").write_text(f"Answer,field\n4.1,{RATIO}\n4.2,{RATIO}\n", encoding="utf-8")
    assert f"answers {RATIO} again; line 2 has an answer" in said(fill("--from", "walk.csv"))
    Path("walk.csv").write_text(f"Answer,field\n4.1,{RATIO}\n", encoding="utf-8")
    assert fill("--from", "walk.csv").status == 0


def test_what_a_spreadsheet_would_run_is_written_harmless() -> None:
    Path("van.toml").write_text('[driveline.axles."-x"]\ndriven = true\n', encoding="utf-8")
    rows = questions()
    assert all(not cell.startswith(("=", "+", "-", "@", "\t", "\r")) for row in rows for cell in row)


# -- remedies --------------------------------------------------------------------------------------------------------
def test_a_remedy_is_written_and_mends() -> None:
    assert fill(f"{RATIO}=5.5").status == 0
    ran = fill("--remedy", "gearing.cruise-rpm")
    assert ran.status == 0
    assert f"{RATIO} is " in ran.err.decode()
    report = json.loads(call("inspect", "van.toml", "--format", "json", "--gate", "never").out)
    kinds = {r["kind"] for r in report["specs"][0]["results"] if r["rule"] == "gearing.cruise-rpm"}
    assert "fail" not in kinds
    before, after = (SPEC + "ratio = 5.5\n").splitlines(), text().splitlines()
    assert sum(one != other for one, other in zip(before, after, strict=True)) == 1


def test_a_remedy_keeps_the_tolerance_of_the_value() -> None:
    assert fill(f"{RATIO}=5.5 ± 1 %").status == 0
    assert fill("--remedy", "gearing.cruise-rpm").status == 0
    ratio = tomllib.loads(text())["driveline"]["axles"]["rear"]["ratio"]
    assert ratio["tol"] == "1 %"
    assert ratio["value"] < 5.5


# -- nobody knows --------------------------------------------------------------------------------------------------
VARIANT = '[build]\nbase = "van.toml"   # the first one\n'


def test_what_a_base_states_is_made_unknown_again() -> None:
    assert fill(f"{RATIO}=4.1").status == 0
    Path("second.toml").write_text(VARIANT, "utf-8")
    one = ("fill", "second.toml")
    ran = call(*one, f"{RATIO}=unknown", "driveline.transfer=unknown", "vehicle.wheelbase=unknown")
    assert ran.status == 0, said(ran)
    written = Path("second.toml").read_text("utf-8")
    assert written.startswith(VARIANT)
    unknown = {"unknown": True}
    assert tomllib.loads(written)["driveline"] == {"axles": {"rear": {"ratio": unknown}}, "transfer": unknown}
    assert "vehicle" not in written
    rule = ("inspect", "second.toml", "--rule", "gearing.cruise-rpm", "--format", "json", "--gate", "never")
    assert RATIO in json.loads(call(*rule).out)["specs"][0]["results"][0]["unknown"]
    # a value takes its place again; and in the spec itself an answer takes nothing away
    assert call(*one, f"{RATIO}=4.3").status == 0
    assert tomllib.loads(Path("second.toml").read_text("utf-8"))["driveline"]["axles"]["rear"] == {"ratio": 4.3}
    ran = call(*one, f"{RATIO}=unknown")
    assert ran.status == 2
    assert "is stated in the spec itself" in said(ran)


def test_whoever_does_not_know_is_asked_the_next_one() -> None:
    before = text()
    asked = fill(stdin="unknown\nUnknown\nstop\n").out.decode()
    assert text() == before
    assert asked.count("questions left") == 4  # three asked, and the last line
    assert "0 answers written" in asked
    nothing = fill("vehicle.wheelbase=unknown")
    assert (nothing.status, text()) == (0, before)
    assert "nothing was written" in said(nothing)
    Path("walk.csv").write_text("field,answer\nvehicle.wheelbase,unknown\nengine.cylinders,4\n", "utf-8")
    assert fill("--from", "walk.csv").status == 0
    assert tomllib.loads(text())["engine"]["cylinders"] == 4
    assert "wheelbase" not in text()
