"""Departures that somebody signed for: what each accepts, and what it never hides."""

from __future__ import annotations

from pathlib import Path

import pytest

from swaplint.gating.deviations import MOST, read_deviations
from swaplint.gating.gate import gate_of
from swaplint.gating.terms import CallTerms
from swaplint.host.problems import Problem
from swaplint.inspecting.selection import Selection
from swaplint.spec.loaded import SpecErrors
from tests.core.tests_making import base_of, made
from tests.gating.a_shop import ON, SPEC, deviation, found, rules, shop


def only(problems: list[Problem]) -> str:
    """The one problem, which has its place and is one of the gate."""
    (problem,) = problems
    assert problem.about == "gate"
    assert problem.file
    assert problem.line
    return problem.what


def test_an_accepted_fail_is_counted_apart_and_shuts_no_gate() -> None:
    plain, _ = shop()
    inspection, problems = shop(deviation("fit.long", up_to="3000 mm"))
    assert problems == []
    made = found(inspection, "fit.long").suppression
    assert made is not None
    assert (made.justification, made.by, made.date, made.expires) == (
        "the owner has seen it", "A. Hollin", "2026-05-01", "2026-12-31",
    )  # fmt: skip
    assert made.up_to == "3000 mm"
    assert made.place is not None
    assert (made.place.file, made.place.line) == ("s.toml", SPEC.count("\n") + 1)
    assert not made.external
    assert "fit.long" in gate_of(plain, "warning").shut_by
    gate = gate_of(inspection, "warning")
    assert "fit.long" not in gate.shut_by
    assert gate.accepted == inspection.counts()["suppressed"] == 1
    assert inspection.terms.on == ON


def test_nothing_of_the_day_is_said_where_nothing_depends_on_it() -> None:
    assert shop()[0].terms.on == ""
    assert shop(terms=CallTerms(ON, on_stated=True))[0].terms.on == ON


def test_the_result_is_the_same_but_for_being_accepted() -> None:
    plain, accepted = shop()[0], shop(deviation("fit.word"))[0]
    assert [f.key for f in plain.findings] == [f.key for f in accepted.findings]
    assert [f.message for f in plain.findings] == [f.message for f in accepted.findings]


# by hand: 3000 mm are found where at most 2900 mm are allowed, 1500 mm where 1600 mm to 1700 mm, ratios of 4.1 and 4.3
@pytest.mark.parametrize(
    ("rule", "up_to", "holds"),
    [
        ("fit.long", "3000 mm", True),
        ("fit.long", "3.1 m", True),
        ("fit.long", "2999.2 mm", True),  # printed with four figures it is the same
        ("fit.long", "2990 mm", False),
        ("fit.long", "2900 mm", False),
        ("fit.narrow", "1500 mm", True),
        ("fit.narrow", "1400 mm", True),
        ("fit.narrow", "1510 mm", False),
        ("fit.between", "1490 mm", True),
        ("fit.between", "1510 mm", False),
        ("fit.between", "1800 mm", False),
    ],
)
def test_a_worse_value_than_was_accepted_is_a_fail_again(rule: str, up_to: str, holds: bool) -> None:
    inspection, problems = shop(deviation(rule, up_to=up_to))
    made = found(inspection, rule)
    assert problems == []  # what is exceeded says so itself
    assert (made.suppression is not None) == holds
    says = f"Signed for by A. Hollin on 2026-05-01, but only up to {up_to}, and this is worse."
    assert made.not_accepted == ("" if holds else says)


@pytest.mark.parametrize(
    ("more", "on", "stage", "says"),
    [
        ({"until": "2026-06-01"}, "2026-06-01", None, ""),
        ({"until": "2026-06-01"}, "2026-06-02", None, "but only until 2026-06-01."),
        ({"until": "quote"}, "2099-01-01", "quote", ""),
        ({"until": "quote"}, "2026-06-01", "build", "but only up to the quote stage."),
        ({"until": "commission"}, "2026-06-01", "build", ""),
        ({"date": "2026-06-02"}, "2026-06-02", None, ""),
        ({"date": "2026-06-02"}, "2026-06-01", None, "but that is after 2026-06-01, the day that this is judged on."),
    ],
)
def test_it_holds_from_its_date_to_its_last_day_or_stage(more: dict[str, str], on: str, stage: str, says: str) -> None:
    inspection, problems = shop(deviation("fit.word", **more), terms=CallTerms(on), stage=stage)  # type: ignore[arg-type]
    made = found(inspection, "fit.word")
    assert problems == []
    assert (made.suppression is None) == bool(says)
    assert made.not_accepted.endswith(says)
    assert ("fit.word" in gate_of(inspection, "error").shut_by) == bool(says)


def test_dates_are_read_as_toml_has_them() -> None:
    written = deviation("fit.word").replace('"2026-05-01"', "2026-05-01").replace('"2026-12-31"', "2026-12-31")
    inspection, problems = shop(written)
    assert problems == []
    assert found(inspection, "fit.word").suppression is not None


@pytest.mark.parametrize(
    ("written", "says"),
    [
        (deviation("fit.wrod"), "names a rule that is not loaded, 'fit.wrod'; did you mean 'fit.word'?"),
        (
            deviation("gearing.each-axle", up_to="5"),
            "is too broad: it names no part, and the rule judges 2: driveline.axles.front, driveline.axles.rear",
        ),
        (
            deviation("gearing.each-axle", part="driveline.axles.raer", up_to="5"),
            "names a part that the rule's results do not have, 'driveline.axles.raer'; "
            "did you mean 'driveline.axles.rear'?",
        ),
        (
            deviation("fit.long", part="vehicle", up_to="3 m"),
            "names a part that the rule's results do not have, 'vehicle'; the rule judges the build as a whole",
        ),
        (deviation("fit.two"), "is too broad: it names no demand, and the rule makes 2: length, shape"),
        (
            deviation("fit.two", demand="lenght", up_to="3 m"),
            "names a demand that the rule's results do not have, 'lenght'; did you mean 'length'?",
        ),
        (
            deviation("fit.word", demand="x"),
            "names a demand that the rule's results do not have, 'x'; the rule makes but one",
        ),
        (
            deviation("fit.long"),
            "accepts nothing: it is too broad without the worst value that is accepted, "
            'like up_to = "3000 mm", which it is now',
        ),
        (deviation("fit.word", up_to="3"), "accepts nothing: it has up_to = '3', and the result has no number"),
        (
            deviation("gearing.each-axle", part="driveline.axles.rear", up_to="nan"),
            "accepts nothing: up_to: 'nan' is not a number without a unit, which the result is",
        ),
        (deviation("fit.passes"), "accepts nothing: the result passes; take the deviation out"),
        (deviation("fit.elsewhere"), "accepts nothing: the rule does not apply; take the deviation out"),
        (
            deviation("fit.lacks", up_to="4 L"),
            "accepts nothing: the result is open and owed: a question is answered, not accepted",
        ),
        (
            deviation("fit.doubt"),
            "accepts nothing: a person must decide on the result, and that shuts no gate",
        ),
        (deviation("fit.word", reason="", by=""), "does not say reason and by: it accepts nothing without"),
        (deviation("fit.word", until=""), "does not say until: it accepts nothing without"),
    ],
)
def test_what_accepts_nothing_is_a_problem_with_its_place_and_shuts_the_gate(written: str, says: str) -> None:
    plain = shop()[0]
    inspection, problems = shop(written)
    assert only(problems) == f"this deviation {says}"
    assert (problems[0].file, problems[0].line) == ("s.toml", SPEC.count("\n") + 1)
    assert inspection.accepted == []
    gate = gate_of(inspection, "never")
    assert not gate.open
    assert gate.deviations == 1
    assert gate_of(inspection, "error").shut_by == gate_of(plain, "error").shut_by


def test_a_value_with_another_unit_is_refused_in_the_words_of_the_field() -> None:
    says = only(shop(deviation("fit.long", up_to="3 kg"))[1])
    assert says.startswith("this deviation accepts nothing: up_to: ")
    assert "length" in says


def test_one_part_and_one_demand_are_accepted_and_no_other() -> None:
    inspection, problems = shop(
        deviation("gearing.each-axle", part="driveline.axles.rear", up_to="4.3"),
        deviation("fit.two", demand="shape"),
    )
    assert problems == []
    assert {f.key for f in inspection.accepted} == {
        ("fit.two", "", "shape"), ("gearing.each-axle", "driveline.axles.rear", ""),
    }  # fmt: skip
    assert {"fit.two", "gearing.each-axle"} <= set(gate_of(inspection, "error").shut_by)


def test_an_older_id_of_the_rule_is_followed() -> None:
    written = deviation("gearing.each-old", part="driveline.axles.rear", up_to="4.3")
    inspection, problems = shop(written)
    assert problems == []
    assert len(inspection.accepted) == 1


def test_of_two_for_the_same_result_one_is_to_be_taken_out() -> None:
    assert "another accepts the same result" in only(shop(deviation("fit.word"), deviation("fit.word"))[1])
    ran_out = deviation("fit.word", until="2026-05-02")
    for pair in ((ran_out, deviation("fit.word")), (deviation("fit.word"), ran_out)):
        inspection, problems = shop(*pair)
        assert len(problems) == 1
        assert found(inspection, "fit.word").suppression is not None
        assert found(inspection, "fit.word").not_accepted == ""


def test_nothing_is_said_of_a_rule_that_did_not_run() -> None:
    wanted = Selection(rules=("fit.word",))
    inspection, problems = shop(deviation("fit.passes"), deviation("fit.word"), selection=wanted)
    assert problems == []
    assert len(inspection.accepted) == 1


def test_it_never_hides_that_a_rule_or_a_pack_broke() -> None:
    def breaks(build: object) -> object:
        raise ZeroDivisionError

    base = base_of(*rules(), made("fit.breaks", breaks))
    from swaplint.gating.terms import judge
    from swaplint.inspecting.inspection import inspect
    from swaplint.spec.loading import load_text

    inspection, broken = inspect(base, load_text(SPEC + deviation("fit.breaks"), label="s.toml"))
    assert len(broken) == 1
    assert judge(inspection, base, CallTerms(ON)) == []
    assert gate_of(inspection, "never").not_run == ("fit.breaks",)
    # One whose pack could not be loaded may be for a rule of it: the gate is shut by that already.
    base = base_of(*rules())
    base.not_loaded.append(("gone", None))
    inspection, problems = shop(deviation("fit.unknown"), base=base)
    assert problems == []
    assert not gate_of(inspection, "never").open


def test_an_answer_that_is_due_stays_due() -> None:
    inspection, _ = shop(deviation("fit.lacks", up_to="4 L"))
    assert found(inspection, "fit.lacks").due
    assert "fit.lacks" in gate_of(inspection, "error").shut_by


# -- in a file of the shop's own -----------------------------------------------------------------------------------
def shops_file(folder: Path, *written: str) -> CallTerms:
    (folder / "signed.toml").write_text("".join(written), encoding="utf-8")
    return CallTerms(ON, deviations=(read_deviations(str(folder / "signed.toml")),))


def test_the_shops_own_file_counts_as_the_spec_does(tmp_path: Path) -> None:
    terms = shops_file(tmp_path, deviation("fit.word"), deviation("fit.passes"))
    inspection, problems = shop(terms=terms)
    made = found(inspection, "fit.word").suppression
    assert made is not None
    assert made.external
    assert made.place is not None
    assert made.place.file == str(tmp_path / "signed.toml")
    assert only(problems) == ("this deviation, for s.toml, accepts nothing: the result passes; take the deviation out")
    assert problems[0].file == str(tmp_path / "signed.toml")
    assert list(inspection.terms.files) == [str(tmp_path / "signed.toml")]


def test_one_that_is_for_another_spec_says_nothing_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("s.toml", "other.toml"):
        (tmp_path / name).write_text(SPEC, encoding="utf-8")
    terms = shops_file(tmp_path, deviation("fit.word", spec="other.toml"), deviation("fit.passes", spec="other.toml"))
    assert shop(terms=terms)[0].accepted == []
    assert shop(terms=terms)[1] == []
    terms = shops_file(tmp_path, deviation("fit.word", spec="s.toml"))
    assert len(shop(terms=terms)[0].accepted) == 1


@pytest.mark.parametrize(
    ("text", "says", "line"),
    [
        ('[[deviation]]\nrule = "a.b"\n', "the file of deviations has no field 'deviation'; did you mean 'deviat", 1),
        ('[[deviations]]\nrul = "a.b"\n', "deviations[1] has no field 'rul'; did you mean 'rule'?", 2),
        ('[[deviations]]\nuntil = "soon"\n', "takes a date, year-month-day, or one of idea, plan, quote", 2),
        ('[[deviations]]\ndate = "quote"\n', "takes a date, year-month-day, like", 2),
        ('[[deviations]]\nup_to = 4.3\n', "takes a text, not 4.3", 2),
        ("deviations = 3\n", "takes a list", 1),
        ("[[deviations]\n", "is not valid TOML", 1),
        ('[[deviations]]\nspec = "gone.toml"\n', "there is no build spec 'gone.toml', as seen from this file", 2),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_read_is_refused_with_line_and_column(
    tmp_path: Path, text: str, says: str, line: int
) -> None:
    (tmp_path / "signed.toml").write_text(text, encoding="utf-8")
    with pytest.raises(SpecErrors) as caught:
        read_deviations(str(tmp_path / "signed.toml"))
    (error,) = caught.value.errors
    assert says in error.what
    assert error.line == line
    assert error.column


def test_hostile_files_end_soon(tmp_path: Path) -> None:
    terms = shops_file(tmp_path, *(deviation(f"fit.word{number}") for number in range(MOST + 50)))
    _, problems = shop(terms=terms)
    assert len(problems) == MOST + 1
    assert problems[-1].what == f"more than {MOST} deviations in one file are not read"
    (tmp_path / "big.toml").write_text("#" * 600_000)
    for name in ("big.toml", "none.toml", ".", ""):
        with pytest.raises(SpecErrors):
            read_deviations(str(tmp_path / name) if name else "")


def test_a_spec_takes_over_no_deviation_of_its_base(tmp_path: Path) -> None:
    from swaplint.spec.loading import load_spec
    from swaplint.spec.shape import standing_at

    (tmp_path / "base.toml").write_text(SPEC + deviation("fit.word"), encoding="utf-8")
    (tmp_path / "s.toml").write_text('[build]\nbase = "base.toml"\n', encoding="utf-8")
    spec = load_spec(str(tmp_path / "s.toml"))
    assert spec.has("vehicle.wheelbase")
    assert not standing_at(spec.build, "deviations")
