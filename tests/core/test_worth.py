"""What a verdict is worth: limits known from memory, demands with sources of their own, fallbacks with a range."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from tests_making import base_of, inspected, made

from swaplint.api import (
    Build,
    Practice,
    Source,
    Verdict,
    all_of,
    at_least,
    at_most,
    book,
    holds,
    or_practice,
    practice,
    quantity,
    regulation,
    sheet,
    standard,
)
from swaplint.build.view import View
from swaplint.cli import main
from swaplint.declare.rule import RuleError, check_rule
from swaplint.gating.gate import gate_of
from swaplint.inspecting.results import Finding
from swaplint.inspecting.running import run_rule
from swaplint.kit import derived
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text

SPEC = '[build]\nformat = 1\n[engine]\ncylinders = 4\nspeed.idle = "750 r/min"\n'
STANDARD = standard("An invented standard").giving("limit", "at most 3")
LAW = regulation("An invented law").giving("limit", "at most 3")
READ = standard("An invented standard that was read", known="second-hand").giving("limit", "at most 3")
FORMULA = book("An invented book", known="published").giving("formula", "adding up")
SHEET = sheet("engine.speed.idle")


def found(
    function: Callable[..., Any], sources: Sequence[Source], stage: Stage = "plan", spec: str = SPEC, **declared: Any
) -> list[Finding]:
    inspection, problems = inspected(spec, made("fit.made-up", function, sources=sources, **declared), stage=stage)
    assert not problems
    return inspection.findings


def few_cylinders(build: Build) -> Verdict:
    return at_most(float(build.engine.cylinders), 3.0, "Too many cylinders.")


@pytest.mark.parametrize(
    ("sources", "kind", "words"),
    [
        ([STANDARD], "review", "The limit is known from memory only (An invented standard): a person must decide"),
        ([STANDARD, FORMULA], "review", "from memory only"),  # how a formula is known does not matter
        ([LAW], "open", "What the law asks here is known from memory only (An invented law): look it up."),
        ([STANDARD, LAW], "open", "An invented standard; An invented law"),
        ([STANDARD, READ], "fail", ""),
        ([LAW, READ], "fail", ""),
        ([STANDARD, practice("a thing of the trade").giving("limit")], "fail", ""),
        ([STANDARD, SHEET], "review", "from memory only"),  # the sheet's field was not read: it gave no limit here
    ],
)
def test_a_limit_known_from_memory_alone_makes_no_error(sources: list[Source], kind: str, words: str) -> None:
    (one,) = found(few_cylinders, sources)
    assert (one.kind, one.level) == (kind, "error" if kind == "fail" else None)
    assert one.message.startswith("Too many cylinders.")
    assert words in one.message
    assert one.from_memory is (kind != "fail")
    assert (one.found, one.limit is not None) == (4.0, True)


@pytest.mark.parametrize(
    ("known", "most", "kind"),
    [
        ("published", 3.0, "fail"),
        ("published", 4.0, "pass"),
        ("second-hand", 3.0, "review"),
        ("second-hand", 4.0, "pass"),
        ("from memory", 3.0, "open"),
        ("from memory", 4.0, "open"),
    ],
)
def test_a_limit_that_the_build_names_the_source_of(known: Any, most: float, kind: str) -> None:
    cited = regulation("A place's order", known=known)
    for level in ("error", "warning"):

        def judged(build: Build) -> Verdict:
            return at_most(float(build.engine.cylinders), most, "Cylinders.").citing(cited)

        (one,) = found(judged, [LAW, FORMULA], level=level)
        assert one.kind == kind
        assert one.sources == (cited, FORMULA)  # in the place of the rule's own limit
        assert one.from_memory is (known == "from memory" and most < 4 and level == "error")


def test_a_law_that_nobody_looked_up_is_owed_from_the_due_stage_on() -> None:
    rule = made("fit.made-up", few_cylinders, sources=[LAW], due="quote")
    for stage, due in (("plan", False), ("quote", True)):
        inspection, _ = inspected(SPEC, rule, stage=stage)  # type: ignore[arg-type]
        (one,) = inspection.findings
        assert (one.kind, one.due, one.unknown) == ("open", due, ())
        assert gate_of(inspection, "error").open is not due
        assert inspection.counts()["open"] == 1


@pytest.mark.parametrize(("level", "kind"), [("warning", "fail"), ("note", "fail"), ("error", "review")])
def test_warnings_and_notes_may_rest_on_memory(level: Any, kind: str) -> None:
    def mild(build: Build) -> Verdict:
        return at_most(float(build.engine.cylinders), 3.0, level=level)

    (one,) = found(mild, [STANDARD])
    assert one.kind == kind
    (whole,) = found(few_cylinders, [STANDARD], level=level)
    assert whole.kind == kind


def test_a_pass_may_rest_on_memory() -> None:
    def passes(build: Build) -> Verdict:
        return at_most(float(build.engine.cylinders), 4.0)

    assert found(passes, [STANDARD])[0].kind == "pass"


def by_sheet(build: Build) -> Verdict:
    stated = or_practice(lambda: build.engine.speed.idle, Practice("idle of 70 rad/s", 70.0, standard("From memory")))
    return at_least(stated, 100.0)


def test_a_data_sheet_gives_the_limit_only_where_it_is_stated() -> None:
    assert found(by_sheet, [STANDARD, SHEET])[0].kind == "fail"
    silent = "[build]\nformat = 1\n[engine]\ncylinders = 4\n"
    assert found(by_sheet, [STANDARD, SHEET], spec=silent)[0].kind == "review"
    # nothing but the fallback gives it then, and that is known from memory, too
    assert found(by_sheet, [SHEET], spec=silent)[0].kind == "review"


def two_demands(build: Build) -> Verdict:
    return all_of(
        {
            "few": at_most(float(build.engine.cylinders), 3.0),
            "colour.oil": lambda: holds(False),
            "colours": lambda: holds(False),
            "fast": lambda: holds(False),
        }
    )


def test_a_source_tied_to_a_demand_gives_that_ones_limit_and_no_others() -> None:
    tied = standard("Tied").giving("limit", "colour", demands=["colour", "few"])
    kinds = {one.demand: one.kind for one in found(two_demands, [READ, tied])}
    assert kinds == {"few": "review", "colour.oil": "review", "colours": "fail", "fast": "fail"}
    # tied the other way round: what is read is that of one demand, and the rest is known from memory
    kinds = {one.demand: one.kind for one in found(two_demands, [STANDARD, READ.giving("limit", demands=["few"])])}
    assert kinds == {"few": "fail", "colour.oil": "review", "colours": "review", "fast": "review"}


def test_a_finding_cites_the_sources_of_its_own_demand_first() -> None:
    tied = standard("Tied").giving("limit", "colour", demands=["colour"])
    titles = {one.demand: [source.title for source in one.sources] for one in found(two_demands, [READ, tied])}
    assert titles["colour.oil"] == ["Tied", READ.title]
    assert titles["few"] == [READ.title]


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (STANDARD.giving("limit", demands=["Colour"]), "'Colour', which no demand can be called"),
        (STANDARD.giving("limit", demands=[3]), "3, which no demand"),  # type: ignore[list-item]
        (STANDARD.giving("formula", demands=["few"]), "gives a formula; only a limit is that of a demand"),
        (dataclasses.replace(STANDARD, demands="few"), "names its demands in a list"),  # type: ignore[arg-type]
    ],
)
def test_what_a_source_is_tied_to_is_checked_at_load(source: Source, words: str) -> None:
    sound = {"bad": [{"engine.cylinders": 4}], "good": [{"engine.cylinders": 3}]}
    rule = made("fit.made-up", few_cylinders, sources=[STANDARD], **sound)
    few_cylinders.__doc__ = (few_cylinders.__doc__ or "") + "Consequence: it breaks.\n"
    check_rule(rule)
    with pytest.raises(RuleError, match=r"^fit\.made-up: ") as raised:
        check_rule(dataclasses.replace(rule, sources=(source,)))
    assert words in str(raised.value)


def test_a_tie_to_a_demand_that_no_example_makes_is_found() -> None:
    rule = made("fit.made-up", two_demands, sources=[READ.giving("limit", demands=["colour", "few", "gone"])])
    assert derived.check_tied_sources(base_of(rule), rule) == [
        "a source is tied to the demand gone, which no example makes"
    ]


# -- fallbacks with a range -----------------------------------------------------------------------------------------
WIDE = Practice("idle of 70 rad/s (60 to 90)", 70.0, practice("invented"), between=(60.0, 90.0))
NARROW = Practice("idle of 70 rad/s (65 to 75)", 70.0, practice("invented"), between=(65.0, 75.0))
BARE = "[build]\nformat = 1\n[engine]\ncylinders = 4\n"


def judged_with(*practices: Practice, least: float = 80.0) -> list[Finding]:
    def judge(build: Build) -> Verdict:
        return at_least(sum(or_practice(lambda: build.engine.speed.idle, one) for one in practices), least, "Slow.")

    return found(judge, [READ], spec=BARE)


def test_an_error_that_turns_within_what_is_found_in_practice_is_a_review() -> None:
    (one,) = judged_with(WIDE)
    assert (one.kind, one.deciding) == ("review", ("engine.speed.idle",))
    assert one.found == 70.0
    assert "Within what is found in practice of 'idle of 70 rad/s (60 to 90)' it passes" in one.message


def test_an_error_that_does_not_turn_there_says_what_it_rests_on() -> None:
    (one,) = judged_with(NARROW)
    assert (one.kind, one.level) == ("fail", "error")
    assert "Common-practice fallback: idle of 70 rad/s (65 to 75)." in one.message


def test_a_pass_that_is_an_error_within_what_is_found_in_practice_is_a_review() -> None:
    (one,) = judged_with(WIDE, least=65.0)
    assert (one.kind, one.deciding, one.found) == ("review", ("engine.speed.idle",), 70.0)
    assert "Within what is found in practice of 'idle of 70 rad/s (60 to 90)' it fails" in one.message
    assert judged_with(WIDE, least=60.0)[0].kind == "pass"
    assert judged_with(NARROW, least=65.0)[0].kind == "pass"


def test_a_pass_that_would_only_be_a_warning_stays_one() -> None:
    def judge(build: Build) -> Verdict:
        return at_least(or_practice(lambda: build.engine.speed.idle, WIDE), 65.0, "Slow.", level="warning")

    assert found(judge, [READ], spec=BARE)[0].kind == "pass"


def test_fallbacks_that_turn_it_together_only() -> None:
    other = dataclasses.replace(NARROW, name="another idle")
    assert judged_with(NARROW, other, least=151.0)[0].kind == "fail"  # 75 + 75 = 150
    (one,) = judged_with(NARROW, other, least=149.0)
    assert one.kind == "review"
    assert "(65 to 75)' and of 'another idle'" in one.message


def test_a_quantity_that_rests_on_the_fallback_is_computed_anew_within_its_range() -> None:
    @quantity("fit.made-up-speed", "rotation", "r/min", formula="n", sources=[FORMULA])
    def speed(build: Build) -> float:
        return or_practice(lambda: build.engine.speed.idle, WIDE)

    def judge(build: Build) -> Verdict:
        return at_least(speed(build), 80.0)

    rule = made("fit.made-up", judge, sources=[READ])
    view = View(load_text(BARE, label="s.toml").build)
    (first,) = run_rule(rule, view)
    assert first.turned_by == (WIDE.name,)
    assert first.verdict is not None
    assert first.verdict.found == 70.0
    assert view.build.engine.cylinders == 4  # the view itself is what it was
    (again,) = run_rule(rule, view)
    assert again.verdict == first.verdict


@pytest.mark.parametrize("between", [(71.0, 90.0), (60.0, 69.0), (float("nan"), 90.0), (60.0, float("inf"))])
def test_a_range_holds_what_is_taken(between: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="on both sides of what is taken"):
        dataclasses.replace(WIDE, between=between)


# -- in the reports -------------------------------------------------------------------------------------------------
LAW_PACK = '''
from swaplint.api import INTERFACE, Build, Pack, Verdict, at_most, hookimpl, regulation, rule


@rule("fit.acme", level="error", due="plan", sources=[regulation("An invented law").giving("limit", "at most 3")],
      about="engine", bad=[{"engine.cylinders": 9}], good=[{"engine.cylinders": 3}])
def acme(build: Build) -> Verdict:
    """Is it few?

    Computes: nothing.
    Limit: an invented one.
    Consequence: it breaks.
    Remedy: another engine.
    Cannot tell: much.
    """
    return at_most(float(build.engine.cylinders), 3.0, "Too many cylinders.")


@hookimpl
def swaplint_pack() -> Pack:
    return Pack("acme", interface=INTERFACE, rules=[acme])
'''


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["--rule", "fit.acme"], "OPEN fit.acme: found 4, allowed at most 3"),
        (["--rule", "fit.acme", "--whole"], "look it up."),
        ([], "The law itself, 1: fit.acme"),
        (["--rule", "fit.acme", "--format", "json"], '"due": true'),
        (["--rule", "fit.acme", "--format", "sarif"], "known from memory only (An invented law): look it up."),
        (
            ["--rule", "fit.acme", "--format", "sarif", "--profile", "code-scanning"],
            "Still owed at the plan stage: What the law asks here is known from memory only",
        ),
    ],
)
def test_every_format_says_that_a_law_is_to_be_looked_up(
    more: list[str], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("acme.py").write_text(LAW_PACK)
    Path("s.toml").write_text(SPEC)
    assert main(["inspect", "s.toml", "--stage", "plan", "--pack", "acme.py", *more]) == 1
    assert says in " ".join(capsys.readouterr().out.split())
    assert main(["rulebook", "fit.acme", "--pack", "acme.py"]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert "is known from memory only, which makes no error: what would be an error stays open" in page
