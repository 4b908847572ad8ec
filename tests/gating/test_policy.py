"""The shop's policy: levels raised and lowered, packs that must be there, who may sign; checked as a spec is."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from swaplint.gating.gate import gate_of
from swaplint.gating.terms import CallTerms, terms_of
from swaplint.inspecting.results import Inspection
from swaplint.spec.loaded import SpecErrors
from tests.core.tests_making import base_of
from tests.gating.a_shop import ON, SPEC, deviation, found, policy_of, rules, shop

RAISED = '[[raised]]\nrule = "fit.long"\nto = "error"\n'
LOWERED = '[[lowered]]\nsystem = "fit"\nto = "warning"\nreason = "we fit by eye"\n'


def under(folder: Path, text: str, *deviations: str) -> tuple[Inspection, list[str]]:
    """The shop's spec, judged by a policy; and what is wrong with its deviations."""
    inspection, problems = shop(*deviations, terms=CallTerms(ON, policy=policy_of(folder, text)))
    return inspection, [problem.what for problem in problems]


def test_a_raised_rule_shuts_the_gate_and_says_that_the_policy_raised_it(tmp_path: Path) -> None:
    inspection, _ = under(tmp_path, RAISED)
    made = found(inspection, "fit.long")
    assert (made.level, made.rule_level) == ("error", "error")
    assert made.reweighed is not None
    assert made.reweighed.words == "raised from warning to error by the policy"
    assert "fit.long" in gate_of(inspection, "error").shut_by
    assert inspection.terms.raised == (("fit.long", "error"),)
    counts, before = inspection.counts()["fail"], shop()[0].counts()["fail"]
    assert isinstance(counts, dict)
    assert isinstance(before, dict)
    assert counts == {**before, "error": before["error"] + 1, "warning": before["warning"] - 1}


def test_a_lowered_system_gates_no_more_and_the_reason_is_kept(tmp_path: Path) -> None:
    inspection, _ = under(tmp_path, LOWERED)
    assert gate_of(inspection, "error").shut_by == ("gearing.each-axle",)
    made = found(inspection, "fit.word")
    assert made.reweighed is not None
    assert made.reweighed.words == "lowered from error to warning by the policy: we fit by eye"
    assert ("fit.word", "warning", "we fit by eye") in inspection.terms.lowered
    # What is owed weighs as its rule does: the answer is still owed.
    owed = found(inspection, "fit.lacks")
    assert owed.due
    assert owed.rule_level == "warning"
    assert "fit.lacks" in gate_of(inspection, "warning").shut_by


def test_what_is_said_of_a_rule_goes_before_its_system_and_raising_lowers_nothing(tmp_path: Path) -> None:
    inspection, _ = under(tmp_path, LOWERED + '[[raised]]\nrule = "fit.word"\nto = "note"\n')
    assert found(inspection, "fit.word").level == "error"
    assert found(inspection, "fit.word").reweighed is None
    assert found(inspection, "fit.narrow").level == "warning"


def test_a_policy_changes_weights_and_nothing_else(tmp_path: Path) -> None:
    plain = {f.key: f for f in shop()[0].findings}
    inspection, _ = under(tmp_path, RAISED + LOWERED)
    assert {f.key for f in inspection.findings} == set(plain)
    for made in inspection.findings:
        assert replace(made, level=plain[made.key].level, reweighed=None) == plain[made.key]
    assert [f.sort_key for f in inspection.findings] == sorted(f.sort_key for f in inspection.findings)


def test_reviews_of_error_rules_gate_where_the_policy_says_so_and_can_then_be_accepted(tmp_path: Path) -> None:
    assert "fit.doubt" not in gate_of(under(tmp_path, "")[0], "error").shut_by
    reviews = "gate_on_reviews = true\n"
    inspection, _ = under(tmp_path, reviews)
    assert "fit.doubt" in gate_of(inspection, "error").shut_by
    assert gate_of(inspection, "never").open
    inspection, wrong = under(tmp_path, reviews, deviation("fit.doubt"))
    assert wrong == []
    assert found(inspection, "fit.doubt").kind == "review"
    assert "fit.doubt" not in gate_of(inspection, "error").shut_by
    lowered = reviews + '[[lowered]]\nrule = "fit.doubt"\nto = "warning"\nreason = "seen"\n'
    assert "fit.doubt" not in gate_of(under(tmp_path, lowered)[0], "error").shut_by


@pytest.mark.parametrize("never", ["fit.word", "fit"])
def test_from_some_rules_nobody_may_depart(tmp_path: Path, never: str) -> None:
    inspection, wrong = under(tmp_path, f'never_deviate = ["{never}"]\n', deviation("fit.word"))
    assert wrong == ["this deviation accepts nothing: the policy lets nobody depart from this rule"]
    made = found(inspection, "fit.word")
    assert made.suppression is None
    assert made.not_accepted == (
        "Signed for by A. Hollin on 2026-05-01, but the policy lets nobody depart from this rule."
    )
    assert "fit.word" in gate_of(inspection, "error").shut_by


SIGNERS = '[[signers]]\nname = "A. Hollin"\nlevels = ["warning", "note"]\n'


def test_who_signs_must_be_let_to_for_the_level(tmp_path: Path) -> None:
    inspection, wrong = under(tmp_path, SIGNERS, deviation("fit.long", up_to="3 m", by="a.  hollin"))
    assert wrong == []
    assert found(inspection, "fit.long").suppression is not None
    inspection, wrong = under(tmp_path, SIGNERS, deviation("fit.word"))
    assert wrong == ["this deviation accepts nothing: the policy does not let 'A. Hollin' sign for an error"]
    assert found(inspection, "fit.word").suppression is None
    _, wrong = under(tmp_path, SIGNERS, deviation("fit.long", up_to="3 m", by="B. Other"))
    assert wrong == ["this deviation accepts nothing: the policy does not let 'B. Other' sign for a warning"]
    # The level that counts is the one that it has in this shop.
    _, wrong = under(tmp_path, SIGNERS + RAISED, deviation("fit.long", up_to="3 m"))
    assert wrong == ["this deviation accepts nothing: the policy does not let 'A. Hollin' sign for an error"]
    assert under(tmp_path, "signers = []\n", deviation("fit.word"))[1] != []


def test_a_spec_may_be_kept_from_accepting_its_own_fails(tmp_path: Path) -> None:
    inspection, wrong = under(tmp_path, "deviations_in_spec = false\n", deviation("fit.word"))
    assert wrong == [
        "this deviation stands in the spec: the policy takes those in the shop's own file alone (--deviations)"
    ]
    assert inspection.accepted == []


@pytest.mark.parametrize(
    ("asked", "missing"),
    [
        ('name = "made-up"', ()),
        ('name = "made-up"\nversion = "1"', ()),
        ('name = "made-up"\nversion = "2"', ("made-up 2 (1 is loaded)",)),
        ('name = "made-up"\nat_least = "1.0"', ("made-up 1.0 or later (1 is loaded)",)),
        ('name = "made-up"\nat_least = "0.9.10"', ()),
        ('name = "other"\nversion = "2"', ("other 2 (not loaded)",)),
    ],
)
def test_packs_that_must_be_there_shut_every_gate_where_they_are_not(
    tmp_path: Path, asked: str, missing: tuple[str, ...]
) -> None:
    policy = policy_of(tmp_path, f"[[packs]]\n{asked}\n")
    terms = CallTerms(ON, policy=policy)
    inspection, _ = shop(terms=terms)
    assert inspection.terms.packs_wanted == missing
    assert gate_of(inspection, "never").open == (not missing)
    assert [(p.about, p.what) for p in terms.problems] == [
        ("gate", f"the policy asks for the pack {words}") for words in missing
    ]


@pytest.mark.parametrize(
    ("text", "says", "line"),
    [
        ("gate_on_review = true", "the policy has no field 'gate_on_review'; did you mean 'gate_on_reviews'?", 4),
        ("gate_on_reviews = 1", "gate_on_reviews: takes true or false, not 1", 4),
        ('[[raised]]\nto = "error"', 'raised[1] takes a rule or a system, one of them, like system = "cooling"', 4),
        ('[[raised]]\nrule = "fit"\nto = "error"', 'raised[1].rule: fit is a system: write system = "fit"', 5),
        ('[[raised]]\nrule = "fit.long"', 'raised[1] needs to, like to = "error"', 4),
        (
            '[[raised]]\nrule = "fit.lnog"\nto = "error"',
            "raised[1].rule: no loaded rule is called 'fit.lnog'; did you mean 'fit.long'?",
            5,
        ),
        (
            '[[raised]]\nsystem = "coling"\nto = "error"',
            "raised[1].system: 'coling' is not a system; did you mean 'cooling'?",
            5,
        ),
        (
            '[[raised]]\nsystem = "fit"\nto = "eror"',
            "raised[1].to: 'eror' is not one of error, warning, note; did you mean 'error'?",
            6,
        ),
        (
            '[[lowered]]\nsystem = "fit"\nto = "note"',
            'lowered[1] needs reason, like reason = "the instrument maker calibrates it"',
            4,
        ),
        (
            '[[lowered]]\nsystem = "fit"\nto = "error"\nreason = "x"',
            "lowered[1].to: 'error' is not one of warning, note",
            6,
        ),
        (RAISED + RAISED, "fit.long is spoken of twice, here and in line 4: keep one of them", 7),
        (
            'never_deviate = ["brakes"]',
            "never_deviate[1]: no loaded rule is called 'brakes'; 'swaplint rulebook' lists them",
            4,
        ),
        ('[[signers]]\nname = "A"', 'signers[1] needs levels, like levels = ["warning", "note"]', 4),
        ('[[packs]]\nversion = "1"', 'packs[1] needs name, like name = "fuel"', 4),
        ('[[packs]]\nname = "a"\nversion = "1"\nat_least = "1"', "packs[1] takes version or at_least, not both", 4),
    ],
)
def test_a_policy_is_checked_as_strictly_as_a_spec(tmp_path: Path, text: str, says: str, line: int) -> None:
    with pytest.raises(SpecErrors) as caught:
        policy_of(tmp_path, text)
    (error,) = caught.value.errors
    assert error.what == says
    assert (error.line, error.column > 0) == (line, True)


def test_a_policy_has_a_name_a_revision_and_a_date(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text('name = " "\n', encoding="utf-8")
    with pytest.raises(SpecErrors) as caught:
        terms_of(base_of(*rules()), str(tmp_path / "p.toml"), [str(tmp_path / "none.toml")], None)
    assert [error.what for error in caught.value.errors] == [
        "there is no such file",
        'the policy needs revision, like revision = "3"',
        "the policy needs date, like date = 2026-05-01",
        'the policy needs name, like name = "Example shop\'s gate"',
    ]


def test_a_rule_of_a_pack_that_is_not_there_is_not_called_unknown(tmp_path: Path) -> None:
    policy = policy_of(tmp_path, '[[packs]]\nname = "gone"\n[[raised]]\nrule = "fit.of-gone"\nto = "error"\n')
    assert policy.packs_wanted == ("gone (not loaded)",)


def test_the_policy_is_named_with_its_revision(tmp_path: Path) -> None:
    cited = under(tmp_path, "")[0].terms.policy
    assert cited is not None
    assert str(cited) == "Hollin gate, revision 4 of 2026-05-01"
    assert len(cited.sha256) == 64
    assert SPEC
