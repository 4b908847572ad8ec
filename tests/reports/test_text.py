"""The text report: what a builder sees, and what no spec can make it send to a terminal."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import small_world
from hypothesis import given
from hypothesis import strategies as st

from swaplint.api import sheet
from swaplint.declare.cautions import CLOSING
from swaplint.gating.gate import GateLevel
from swaplint.inspecting.results import Ask, Remedy, Report
from swaplint.reports.layout import NARROWEST, WIDEST, Sheet, plain, safe, wants_colour, width_of, write
from swaplint.reports.naming import asked_for, citations
from swaplint.reports.text import inspection_sheet


@pytest.fixture
def report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Report:
    monkeypatch.chdir(tmp_path)
    return small_world.report(tmp_path)


def text_of(report: Report, width: int = 100, gate: GateLevel = "error") -> str:
    """The whole sheet."""
    return plain(inspection_sheet(report, width, gate, whole=True).lines)


def short_of(report: Report, width: int = 100, gate: GateLevel = "error") -> str:
    return plain(inspection_sheet(report, width, gate).lines)


def block(text: str, first: str) -> list[str]:
    """The lines of one finding, without the dots that lead across."""
    lines = text.splitlines()
    start = next(index for index, line in enumerate(lines) if first in line)
    out = []
    for line in lines[start:]:
        if not line or line[0] not in " " + first[0]:
            break
        out.append(" ".join(piece for piece in line.split() if set(piece) != {"."}))
    return out


# -- what stands in it -----------------------------------------------------------------------------------------------
def test_a_fail_says_all_that_is_needed_to_act(report: Report) -> None:
    assert block(text_of(report), "ERROR") == [
        "ERROR Is the vehicle light enough for its plate?",
        "mass.plate",
        "or else nothing happens.",
        "to do change it.",
        "found 3100 kg, allowed at most 3000 kg, margin -3.3 %",
        "Take something off.",
        "about vehicle.mass.gvwr line 5",
        "rests on vehicle.mass.gvwr = 3100 kg ± 62 kg (assumed) line 5",
        "source Invented handbook, table 1 (handbook, from memory)",
        "caution Mind your hands.",
    ]


def test_a_list_of_values_takes_one_line(report: Report) -> None:
    assert block(text_of(report), "WARNING") == [
        "WARNING Is the spread right?",
        "gearing.ratios",
        "or else nothing happens.",
        "to do change it.",
        "found 4.3, allowed from 3 to 4, margin -7.5 %",
        "Outside the limit.",
        "about driveline.gearbox.ratios line 11",
        "rests on driveline.gearbox.ratios (4 values) line 11",
        "source Invented handbook, table 1 (handbook, from memory)",
    ]


def test_what_is_open_says_what_it_lacks_and_where_to_write_it(report: Report) -> None:
    assert block(text_of(report), "OPEN ") == [
        "OPEN gearing.axles",
        "driveline.axles.rear: Is the axle short enough?",
        "Cannot be decided: driveline.axles.rear.ratio is not stated. As things usually are this",
        "passes.",
        "about driveline.axles.rear line 18",
        "from Invented handbook, table 1 (handbook, from memory)",
    ]
    text = text_of(report)
    assert "driveline.axles.rear.ratio ........" in text
    assert "1 rule waits" in text
    says = "Ratio of the final drive, hub reduction included. Normally from a maker's sheet or tag, or counted turns."
    assert says in " ".join(text.split())


def test_a_pass_is_short_and_cites_lines_and_sheet(report: Report) -> None:
    text = " ".join(text_of(report).split())
    assert "PASS gearing.speeds: found 4400 r/min, allowed at least 3400 r/min, margin +29.4 %" in text
    assert (
        "from engine.toml, lines 6-7; Invented engine, data, revision 2: engine.speed.overspeed_max, engine.toml, "
        "line 7" in text
    )
    assert "It gets warm. Common-practice fallback: an invented limit of 50 °C." in text


def test_a_field_that_nobody_states_is_not_given_a_line(report: Report) -> None:
    text = text_of(small_world.with_finding(report, 0, subject="vehicle.mass.gcwr"))
    assert "about vehicle.mass.gcwr not stated, see line 4" in block(text, "ERROR")
    text = text_of(small_world.with_finding(report, 0, subject="plumbing.fuel.supply.bore"))
    assert "about plumbing.fuel.supply.bore not stated" in block(text, "ERROR")


def test_parts_that_one_rule_fails_stand_together_under_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    spec = small_world.SPEC.replace("ratio = 4.1", "ratio = 3.1").replace("axles.rear]", "axles.rear]\nratio = 3.2")
    text = text_of(small_world.report(tmp_path, "build", spec=spec))
    assert text.count("Is the axle short enough?") == 1
    axles = next(entry for entry in text.split("\n\n") if "Is the axle short enough?" in entry)
    assert block(axles, "ERROR") == [
        "ERROR Is the axle short enough?",
        "gearing.axles",
        "or else nothing happens.",
        "to do change it.",
        "driveline.axles.front",
        "found 3.1, allowed at least 4, margin -22.5 %",
        "Outside the limit.",
        "about driveline.axles.front line 16",
        "rests on driveline.axles.front.ratio = 3.1 line 17",
        "driveline.axles.rear",
        "found 3.2, allowed at least 4, margin -20.0 %",
        "Outside the limit.",
        "about driveline.axles.rear line 18",
        "rests on driveline.axles.rear.ratio = 3.2 line 19",
        "source Invented handbook, table 1 (handbook, from memory)",
    ]


def test_parts_that_one_rule_cannot_decide_on_say_what_each_lacks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    text = text_of(small_world.report(tmp_path, spec=small_world.SPEC.replace("ratio = 4.1", "driven = true")))
    assert block(text, "OPEN ") == [
        "OPEN gearing.axles",
        "Is the axle short enough?",
        "driveline.axles.front: lacks its ratio",
        "driveline.axles.rear: lacks its ratio",
        "from Invented handbook, table 1 (handbook, from memory)",
    ]


def test_alike_values_of_many_parts_take_one_row_and_the_part_itself_comes_first(report: Report) -> None:
    inputs = [f"driveline.axles.{name}.ratio" for name in ("front", "rear")]
    many = [f"electrics.cables.{name}.role" for name in ("a", "b", "c")]
    text = text_of(small_world.with_finding(report, 0, part="driveline.axles.rear", inputs=(*many, *inputs)))
    rows = [row for row in block(text, "ERROR") if ".ratio" in row or ".role" in row]
    assert rows[0].startswith("rests on driveline.axles.rear.ratio")
    assert rows[1].startswith("electrics.cables.*.role (3 values)")
    assert rows[2].startswith("driveline.axles.front.ratio")


def test_what_one_document_states_is_cited_once(report: Report) -> None:
    sources = (
        sheet("engine.speed.rated"),
        small_world.BOOK,
        sheet("engine.speed.overspeed_max"),
        sheet("engine.mass.wet"),
    )
    assert citations(report.inspections[0], sources) == [
        "Invented engine, data, revision 2: engine.speed.rated and engine.speed.overspeed_max, engine.toml, lines 6-7",
        "Invented handbook, table 1 (handbook, from memory)",
        "data sheet: engine.mass.wet, not stated",
    ]


@pytest.mark.parametrize(
    ("field", "says", "found"),
    [
        (
            "driveline.axles",
            "The axles, each under its name: front, rear. Write a table for each, [driveline.axles.NAME].",
            "a look at the vehicle",
        ),
        (
            "engine.torque_curve",
            "Full-load torque curve, lowest speed first. A list; each entry with speed and torque.",
            "the engine package's data sheet",
        ),
        (
            "driveline.transfer",
            "The transfer case. Describe it, or write fitted = false where there is none.",
            "the gearbox, transfer or axle maker's sheet or tag",
        ),
        ("no.such.field", "", ""),
    ],
)
def test_what_to_find_out_next_has_words_for_lists_and_parts(report: Report, field: str, says: str, found: str) -> None:
    assert asked_for(report.inspections[0], Ask(field, ("mass.plate",), "", "")) == (says, found)


def test_what_decides_says_how_it_is_stated_so_far(report: Report) -> None:
    report.inspections[0].ask_next = [Ask("vehicle.mass.gvwr", ("mass.plate",), "the plate", "gross mass")]
    text = " ".join(text_of(report).split())
    assert "Gross mass. Normally from the plate. So far stated as 3100 kg ± 62 kg (assumed)." in text


def test_totals_and_gate(report: Report) -> None:
    text = text_of(report)
    assert (
        "1 error, 1 warning, 0 notes, 0 still owed, 1 to review, 1 open, 3 pass, 2 do not apply, 1 for information"
        in " ".join(text.split())
    )
    decide = "; 1 review of error-level rules: a person must decide."
    assert f"The gate is shut by mass.plate{decide}" in text
    assert f"The gate is shut by mass.plate{decide}" in short_of(report)
    assert f"No level of fail shuts the gate{decide}" in text_of(report, gate="never")
    report.inspections[0].findings = [f for f in report.inspections[0].findings if f.level != "error"]
    open_now = "The gate is open: nothing fails or is owed at the level error or above"
    assert f"{open_now}{decide}" in " ".join(text_of(report).split())
    assert f"The gate is shut by gearing.ratios{decide}" in text_of(report, gate="warning")
    report.inspections[0].findings = [f for f in report.inspections[0].findings if f.kind != "review"]
    assert f"{open_now}." in text_of(report)


def test_a_rule_that_broke_shuts_the_gate_and_is_named(report: Report) -> None:
    report.inspections[0].findings = [f for f in report.inspections[0].findings if f.kind == "pass"]
    report.inspections[0].broken = ["fuel.look"]
    for text in (text_of(report), short_of(report, gate="never")):
        assert "The gate is shut: 1 rule could not be run." in text
        assert "Broke, so that there is no result: fuel.look." in text


def test_a_spec_without_a_stage_is_said_to_be_judged_as_planned(report: Report) -> None:
    assert "judged as at the plan stage, for it states none (build.stage)" in short_of(report)


def test_every_report_ends_by_saying_what_it_is(report: Report) -> None:
    assert " ".join(text_of(report).split()).endswith(CLOSING)


def test_a_report_without_a_spec_is_empty(report: Report) -> None:
    assert text_of(Report("0", report.packs)) == ""


def test_remedies(report: Report) -> None:
    remedy = Remedy("vehicle.mass.gvwr", 3100.0, 2900.0, "kg", "mass", ("fit.none",), ("fuel.look",), '"2900 kg"')
    text = " ".join(text_of(small_world.with_finding(report, 0, remedies=(remedy,))).split())
    assert "vehicle.mass.gvwr from 3100 kg to 2900 kg" in text
    assert "fit.none" in text
    assert "it also mends fuel.look" in text


# -- how it is laid out -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize("width", [20, 60, 77, 100, 140, 1000])
def test_no_line_is_wider_than_asked(report: Report, width: int) -> None:
    lines = text_of(report, width).splitlines()
    assert max(map(len, lines)) <= max(NARROWEST, min(WIDEST, width))
    assert all(line == line.rstrip() for line in lines)
    assert not any(a == b == "" for a, b in zip(lines, lines[1:], strict=False))


def test_the_words_are_the_same_at_any_width(report: Report) -> None:
    def words(width: int) -> list[str]:
        return [w for w in text_of(report, width).replace("─", " ").split() if set(w) != {"."}]

    assert sorted(words(100)) == sorted(words(140)) == sorted(words(60))


@pytest.mark.parametrize(
    "text", ["231 N m", "70 mm²", "12 447 N", "± 10 kg", "line 73", "-272 %", "250 kbit/s", "4 °C"]
)
def test_a_number_is_not_parted_from_its_unit(text: str) -> None:
    for fill in range(20, 60):
        sheet = Sheet.of_width(60)
        sheet.wrapped("x" * fill + " " + text + " and more", indent=2)
        assert any(text in line for line in plain(sheet.lines).splitlines()), fill


def test_dots_give_way_before_the_line_does() -> None:
    for length, lines in ((40, 1), (51, 1), (52, 1), (53, 2)):
        sheet = Sheet.of_width(60)
        sheet.leader("x" * length, "line 33")
        assert len(sheet.lines) == lines, length
        assert plain(sheet.lines).endswith(" line 33\n")


HOSTILE = st.text(
    st.characters() | st.sampled_from("\x00\x07\x08\x1b\x7f\x85\x9b\r\n\t\u200b\u202e\u2066\u2028\ufeff\ud800"),
    max_size=200,
)


@given(HOSTILE, HOSTILE)
def test_no_text_can_steer_the_terminal(one: str, other: str) -> None:
    sheet = Sheet.of_width(80)
    sheet.line((one, ""), (other, "bold"))
    sheet.heading(one)
    sheet.wrapped(one, label="about", indent=2, hang=10)
    sheet.leader(one, other, indent=2, label="about", hang=10)
    text = plain(sheet.lines)
    assert all(c == "\n" or c.isprintable() for c in text)
    assert text.count("\n") == len(sheet.lines)
    text.encode("utf-8")


def test_safe_keeps_what_people_write() -> None:
    assert safe("Zürich – 你好, 5 µm ± 2 °C") == "Zürich – 你好, 5 µm ± 2 °C"
    assert safe("a\tb\nc") == "a b c"
    assert safe("\x1b[31m\u202e") == "�[31m�"


@pytest.mark.parametrize("name", ["\x1b[2J", "a\u202eb", "x" * 5000, "one\ntwo", "[bold]x[/bold]", "{0} %s"])
def test_names_in_a_finding_steer_nothing(report: Report, name: str) -> None:
    made = small_world.with_finding(report, 0, message=name, part=name, practices=(name,), cautions=(name,))
    text = text_of(made)
    assert all(c == "\n" or c.isprintable() for c in text)
    assert max(map(len, text.splitlines())) <= 100
    if name.isprintable() and len(name) < 50:
        assert name in text


# -- where it goes ----------------------------------------------------------------------------------------------------
class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_colour_only_on_a_terminal_that_wants_it(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "TERM", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)
    assert not wants_colour(io.StringIO())
    assert wants_colour(Terminal())
    monkeypatch.setenv("NO_COLOR", "")  # an empty value does not count
    assert wants_colour(Terminal())
    monkeypatch.setenv("NO_COLOR", "1")
    assert not wants_colour(Terminal())
    sheet, stream = inspection_sheet(report, 100, "error", whole=True), Terminal()
    write(sheet, stream)
    assert stream.getvalue() == plain(sheet.lines)


def test_markup_in_a_name_is_not_obeyed_on_a_terminal(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    made = small_world.with_finding(report, 0, message="[bold red]x[/] \x1b[2J :smile:")
    stream = Terminal()
    write(inspection_sheet(made, 100, "error", whole=True), stream)
    assert "[bold red]x[/] �[2J :smile:" in stream.getvalue()
    assert "\x1b[2J" not in stream.getvalue()


def test_the_width_of_a_pipe_is_fixed_unless_columns_says_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("COLUMNS", raising=False)
    assert width_of(io.StringIO()) == 100
    monkeypatch.setenv("COLUMNS", "72")
    assert width_of(io.StringIO()) == 72
    monkeypatch.setenv("COLUMNS", "many")
    assert width_of(io.StringIO()) == 100


def test_what_is_not_stated_points_at_the_line_where_a_draft_has_it_in_a_comment() -> None:
    from swaplint.kit.trial import rule_base
    from swaplint.reports.finding_words import _commented
    from swaplint.spec.loading import load_text

    toml = (
        '[engine]\ncylinders = 4\n# fuel.supply_flow = "130 L/h"  # fuel drawn\n\n[plumbing]\n# fuel.supply.bore = 1\n'
    )
    spec = load_text(toml, label="my.toml", model=rule_base().model)
    assert _commented(spec, "engine.fuel.supply_flow", 1) == 3
    assert _commented(spec, "plumbing.fuel.supply.bore", 5) == 6
    assert _commented(spec, "engine.fuel.return_flow", 1) is None
    assert _commented(spec, "plumbing.fuel.supply.bore", 1) is None
