"""The short sheet: what it holds, in how many lines, and that nothing is cut without saying so."""

from __future__ import annotations

import functools
from dataclasses import replace
from pathlib import Path

import pytest
import small_world
from hypothesis import given
from hypothesis import strategies as st

from swaplint.api import sheet
from swaplint.host.packs import load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Ask, Finding, Inspection, Remedy, Report
from swaplint.reports.layout import cut, cut_clause, plain
from swaplint.reports.short_text import cut_list
from swaplint.reports.text import inspection_sheet
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.loading import load_spec, load_text

SPECS = Path(__file__).parents[2] / "specs"
EXAMPLES = sorted(path.name for path in SPECS.glob("*.toml"))
TAGS = {"ERROR": 4, "WARNING": 2, "NOTE": 1, "REVIEW": 2}
"""How many lines a finding of each level takes at most, at 100 columns."""


@pytest.fixture
def report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Report:
    monkeypatch.chdir(tmp_path)
    return small_world.report(tmp_path)


def text_of(report: Report, width: int = 100) -> str:
    return plain(inspection_sheet(report, width, "error").lines)


@functools.cache
def example(name: str, stage: Stage | None = None) -> Report:
    base = load_rule_base()
    inspection, problems = inspect(base, load_spec(str(SPECS / name), model=base.model), stage)
    return Report("0", base.packs, [inspection], problems)


def of_text(text: str, stage: Stage) -> Report:
    base = load_rule_base()
    inspection, problems = inspect(base, load_text(text, model=base.model), stage)
    return Report("0", base.packs, [inspection], problems)


def blocks(text: str) -> list[list[str]]:
    """The lines of each finding, its headline first."""
    out: list[list[str]] = []
    inside = False
    for line in text.splitlines():
        if line.split(" ")[0] in TAGS:
            out.append([line])
            inside = True
        elif not line.startswith("    ") or line.strip().startswith("likewise"):
            inside = False
        elif inside:
            out[-1].append(line)
    return out


# -- budgets ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", EXAMPLES)
def test_a_finding_takes_no_more_lines_than_its_level_is_worth(name: str) -> None:
    found = blocks(text_of(example(name)))
    for block in found:
        assert len(block) <= TAGS[block[0].split(" ")[0]], block
    inspection = example(name).inspections[0]
    kinds = {"fail", "review"}
    assert bool(found) == any(f.kind in kinds for f in inspection.findings)


@pytest.mark.parametrize("stage", STAGES)
def test_an_idea_and_an_empty_spec_fit_on_one_screen(stage: Stage) -> None:
    assert len(text_of(example("day-one-idea.toml", stage)).splitlines()) <= 45
    assert len(text_of(of_text("", stage)).splitlines()) <= 45


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("width", [60, 80, 100, 140])
def test_no_line_is_wider_than_asked(name: str, width: int) -> None:
    lines = text_of(example(name), width).splitlines()
    assert max(map(len, lines)) <= width
    assert all(line == line.rstrip() for line in lines)


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_goes_wrong_is_read_to_its_end_where_nothing_stands_beside_it(name: str) -> None:
    """At 100 columns only what mends a warning may take the room of its consequence, and never within a word."""
    for block in blocks(text_of(example(name))):
        tag, mends = block[0].split(" ")[0], any("Mend: " in line for line in block)
        if tag == "ERROR" or (tag == "WARNING" and not mends):
            assert "…" not in block[1], block
        if tag == "ERROR":  # a choice that was tried, or what the rule says of mending it
            assert mends or any("To do: " in line for line in block), block
    for rule in (rule for pack in load_rule_base().packs for rule in pack.rules):
        for room in range(24, 97):
            kept = cut_clause(rule.consequence, room)
            whole = kept.removesuffix("…")
            assert len(kept) <= room
            assert kept == rule.consequence or rule.consequence[len(whole)] in " ,;:", kept


# -- what stands in it -----------------------------------------------------------------------------------------------
def test_an_error_says_what_was_found_what_goes_wrong_what_mends_it_and_whose_limit_it_is(report: Report) -> None:
    remedy = Remedy("vehicle.mass.gvwr", 3100.0, 2900.0, "kg", "mass", ("fit.none",), (), "2900 kg")
    own = sheet("engine.speed.overspeed_max")
    text = text_of(small_world.with_finding(report, 0, remedies=(remedy,), sources=(own,)))
    assert blocks(text)[0] == [
        "ERROR    mass.plate: 3100 kg, allowed at most 3000 kg (-3.3 %)",
        "    Nothing happens.",
        "    Mend: vehicle.mass.gvwr 3100 kg → 2900 kg (breaks fit.none)",
        "    line 5; limit from Invented engine, data, revision 2",
    ]


def test_a_limit_says_how_it_is_known_where_nobody_read_it(report: Report) -> None:
    remembered = (small_world.BOOK.giving("limit"),)
    text = text_of(small_world.with_finding(report, 0, sources=remembered))
    assert "limit from Invented handbook, from memory" in text
    read = (small_world.BOOK.giving("limit", known="published"),)
    assert "limit from Invented handbook\n" in text_of(small_world.with_finding(report, 0, sources=read))


def test_each_system_has_one_row_with_its_counts(report: Report) -> None:
    rows = [line.split() for line in text_of(report).splitlines()]
    assert ["error", "warning", "note", "owed", "review", "open", "pass"] in rows
    assert ["mass", "1", "·", "·", "·", "·", "·", "·"] in rows
    assert ["gearing", "·", "1", "·", "·", "·", "1", "2"] in rows
    assert ["fuel", "·", "·", "·", "·", "1", "·", "·"] in rows
    assert not any(row[:1] == ["exhaust"] for row in rows)


def test_a_review_says_what_decides(report: Report) -> None:
    index = next(n for n, f in enumerate(report.inspections[0].findings) if f.kind == "review")
    text = text_of(small_world.with_finding(report, index, deciding=("vehicle.mass.gvwr",), found=1.0))
    assert "vehicle.mass.gvwr decides: measure." in text


def test_what_is_owed_takes_a_row_for_each_place_where_it_is_found(report: Report) -> None:
    first = report.inspections[0]
    lacking = ("vehicle.mass.gvwr", "driveline.axles.front.ratio", "vehicle.mass.gcwr")
    at = next(n for n, f in enumerate(first.findings) if f.kind == "open")
    first.findings[at] = replace(first.findings[at], due=True, unknown=lacking)
    first.ask_next = [Ask(path, ("mass.plate",), where, "") for path, where in zip(lacking, "aba", strict=True)]
    lines = text_of(report).splitlines()
    start = next(n for n, line in enumerate(lines) if line.startswith("STILL OWED"))
    assert lines[start] == "STILL OWED at this stage: 1 answer, for want of 3 facts"
    assert lines[start + 1] == "  A, 2: vehicle.mass gvwr, gcwr"
    assert lines[start + 2] == "  B, 1: driveline.axles.front ratio"


def test_the_five_facts_worth_most_are_named_and_how_many_are_left(report: Report) -> None:
    asks = [Ask(f"electrics.loads.n{n}.rate", ("mass.plate", "fit.none"), "a meter", "", '"4 A"') for n in range(9)]
    report.inspections[0].ask_next = asks
    text = text_of(report)
    assert "WORTH FINDING OUT NEXT, then 4 more" in text
    assert "  electrics.loads.n4.rate (2 rules wait); often 4 A; from a meter\n" in text
    assert "electrics.loads.n5" not in text


def test_cautions_stand_once(report: Report) -> None:
    first = report.inspections[0]
    fails: list[Finding] = [f for f in first.findings if f.kind == "fail"]
    first.findings = [replace(f, cautions=("Mind your hands.",)) for f in fails] + first.findings[len(fails) :]
    assert text_of(report).count("Mind your hands.") == 1


def test_many_alike_fails_of_one_rule_take_a_line_together(report: Report) -> None:
    first = report.inspections[0]
    fail = first.findings[0]
    first.findings[:1] = [replace(fail, part=f"electrics.cables.c{n}", demand="size") for n in range(5)]
    lines = text_of(report).splitlines()
    assert sum(line.startswith("ERROR") for line in lines) == 1
    line = next(line for line in lines if "likewise" in line)
    assert line == (
        "    likewise cables.c1, size (-3.3 %), cables.c2, size (-3.3 %), cables.c3, size (-3.3 %) and 1 more"
    )


def test_how_to_see_more_stands_at_the_end(report: Report) -> None:
    assert "More: --whole shows everything, --system NAME or --rule mass.plate one thing whole." in text_of(report)


# -- many specs ---------------------------------------------------------------------------------------------------
def three(report: Report) -> Report:
    return replace_inspections(report, [report.inspections[0]] * 3)


def replace_inspections(report: Report, inspections: list[Inspection]) -> Report:
    return Report(report.version, report.packs, inspections, report.problems)


def test_three_specs_take_a_line_each(report: Report) -> None:
    lines = text_of(three(report), 80).splitlines()
    assert lines[0].split() == ["spec", "stage", "gate", "errors", "warnings", "notes", "owed", "review"]
    # one review of an error-level rule in each
    assert lines[1].split() == ["small.toml", "plan?", "shut", "1", "1", "·", "·", "1", "(1)"]
    assert lines[1] == lines[2] == lines[3]
    gates = "3 specs, the gate is shut for 3; 3 reviews of error-level rules: a person must decide (in brackets)."
    assert gates in " ".join(" ".join(lines).split())
    report.inspections[0].findings = [f for f in report.inspections[0].findings if f.kind != "review"]
    assert "3 specs, the gate is shut for 3." in text_of(three(report), 80).splitlines()
    two = text_of(replace_inspections(report, [report.inspections[0]] * 2))
    assert two.count("mass.plate:") == 2


# -- cutting -----------------------------------------------------------------------------------------------------
@given(st.lists(st.text("abc,;", min_size=1, max_size=12), min_size=1, max_size=12), st.integers(30, 90))
def test_a_cut_list_fits_and_says_how_many_it_leaves_out(words: list[str], room: int) -> None:
    shown = cut_list("at: ", words, room)
    assert len(shown) <= room
    if shown != "at: " + ", ".join(words):
        assert " more" in shown or "…" in shown


@given(st.text(max_size=50), st.integers(1, 40))
def test_cut_text_fits_and_ends_with_a_sign(text: str, room: int) -> None:
    shown = cut(text, room)
    assert len(shown) <= room
    assert shown.endswith("…") or len(text) <= room


@pytest.mark.parametrize("name", ["\x1b[2J", "a\u202eb", "x" * 5000, "one\ntwo"])
def test_nothing_in_a_finding_steers_the_terminal_or_leaves_the_line(report: Report, name: str) -> None:
    made = small_world.with_finding(report, 0, message=name, part=name, demand=name, practices=(name,), found=None)
    text = text_of(made)
    assert all(c == "\n" or c.isprintable() for c in text)
    assert max(map(len, text.splitlines())) <= 100
