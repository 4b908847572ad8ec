"""Deviations and a policy from outside: every format, the exit status, and files that cannot be read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
import tomli
import tomli_w
from calling import Ran, call

from swaplint.kit.edits import edited_data
from tests.reports.report_schema import LAST_LINE, SPEC, check, check_report
from tests.reports.sarif_checks import check_log

RULE = "fuel.suction-loss"
LINE_OF_5_MM = {"plumbing.fuel.supply.bore": "5 mm"}
"""With this the rule finds 78.57 kPa where at most 20 kPa are allowed."""


def signed(up_to: str = "80 kPa", until: str = "2026-12-31", rule: str = RULE) -> str:
    return (
        f'\n[[deviations]]\nrule = "{rule}"\nup_to = "{up_to}"\nreason = "tried for a season"\n'
        f'by = "A. Hollin"\ndate = 2026-05-01\nuntil = {until}\n'
    )


POLICY = """name = "Hollin gate"
revision = "4"
date = 2026-05-01
[[lowered]]
rule = "fuel.suction-loss"
to = "warning"
reason = "the pump is ours"
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a spec that fails one rule, and the same with that signed for."""
    (tmp_path / "fails.toml").write_text(tomli_w.dumps(edited_data(LINE_OF_5_MM)), encoding="utf-8")
    (tmp_path / "signed.toml").write_text((tmp_path / "fails.toml").read_text() + signed(), encoding="utf-8")
    (tmp_path / "beside.toml").write_text(signed(), encoding="utf-8")
    (tmp_path / "policy.toml").write_text(POLICY, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def inspect(*more: str, spec: str = "signed.toml", on: str = "2026-06-01") -> Ran:
    return call("inspect", spec, "--rule", RULE, "--no-remedies", "--on", on, *more)


def data(ran: Ran) -> Any:
    return json.loads(ran.out)


def test_text_counts_and_lists_what_was_accepted() -> None:
    (ran, whole) = (inspect(), inspect("--whole"))
    for one in (ran, whole):
        text = " ".join(one.out.decode().split())
        assert one.status == 0
        assert one.err == b""
        assert (
            "The gate is open: nothing fails or is owed at the level error or above; 1 departure was accepted." in text
        )
        assert "What depends on the day is judged as on 2026-06-01." in text
        assert "up to 80 kPa, until 2026-12-31, by A. Hollin on 2026-05-01: tried for a season (line " in text
        assert "0 errors, 0 warnings" in text
        assert "1 accepted" in text


def test_the_short_sheet_lists_it_in_two_lines() -> None:
    ran = call("inspect", "signed.toml", "--no-remedies", "--on", "2026-06-01")
    lines = ran.out.decode().splitlines()
    at = lines.index("ACCEPTED, signed for: 1 departure")
    assert lines[at + 1] == "  fuel.suction-loss: 78.57 kPa, allowed at most 20 kPa (-293 %), error"
    assert lines[at + 2].startswith("    up to 80 kPa, until 2026-12-31, by A. Hollin on 2026-05-01: tried")
    assert not [line for line in lines if line.startswith("ERROR    fuel.suction-loss")]


def test_json_and_jsonl_carry_the_justification_and_the_day() -> None:
    ran = inspect("--format", "json")
    report = data(ran)
    check_report(report)
    (spec,) = report["specs"]
    assert ran.status == 0
    assert (spec["on"], spec["policy"], spec["deviations"]) == ("2026-06-01", None, [])
    assert spec["counts"]["suppressed"] == 1
    assert spec["gate"]["open"]
    (result,) = spec["results"]
    assert result["kind"] == "fail"
    line = (Path("signed.toml").read_text().split("\n").index("[[deviations]]")) + 1
    assert result["suppression"] == {
        "kind": "inSource",
        "justification": "tried for a season",
        "by": "A. Hollin",
        "date": "2026-05-01",
        "expires": "2026-12-31",
        "up_to": "80 kPa",
        "file": "signed.toml",
        "line": line,
    }
    first, last = inspect("--format", "jsonl").out.splitlines()
    check(SPEC, json.loads(first))
    check(LAST_LINE, json.loads(last))
    assert json.loads(first) == spec


def test_sarif_has_the_suppression_and_the_same_fingerprint() -> None:
    without = data(inspect("--format", "sarif", spec="fails.toml"))["runs"][0]
    beside = data(inspect("--format", "sarif", "--deviations", "beside.toml", spec="fails.toml"))
    inside = data(inspect("--format", "sarif"))
    for log, kind, file in ((inside, "inSource", "signed.toml"), (beside, "external", "beside.toml")):
        check_log(log)
        run = log["runs"][0]
        (result,) = run["results"]
        (made,) = result["suppressions"]
        assert (made["kind"], made["status"], made["justification"]) == (kind, "accepted", "tried for a season")
        assert made["location"]["physicalLocation"]["artifactLocation"]["uri"] == file
        assert made["properties"] == {
            "by": "A. Hollin", "date": "2026-05-01", "expires": "2026-12-31", "upTo": "80 kPa",
        }  # fmt: skip
        assert result["partialFingerprints"] == without["results"][0]["partialFingerprints"]
        assert run["properties"]["on"] == "2026-06-01"
    assert without["results"][0]["suppressions"] == []


def test_one_that_ran_out_says_so_in_every_format_and_the_gate_is_shut() -> None:
    says = "Signed for by A. Hollin on 2026-05-01, but only until 2026-12-31."
    for more in ((), ("--format", "json"), ("--format", "sarif")):
        ran = inspect(*more, on="2027-01-01")
        assert ran.status == 1
        assert says in " ".join(ran.out.decode().split())
    short = call("inspect", "signed.toml", "--no-remedies", "--on", "2027-01-01").out.decode()
    assert says[:-1] in " ".join(short.split())


def test_one_that_accepts_nothing_stands_under_problems_and_shuts_the_gate() -> None:
    Path("signed.toml").write_text(Path("fails.toml").read_text() + signed() + signed(rule="fuel.suction-los"))
    line = len(Path("signed.toml").read_text().split("\n")) - 7
    says = "this deviation names a rule that is not loaded, 'fuel.suction-los'; did you mean 'fuel.suction-loss'?"
    ran = inspect("--format", "json")
    report = data(ran)
    check_report(report)
    assert ran.status == 1
    (problem,) = report["problems"]
    assert (problem["what"], problem["file"], problem["line"]) == (says, "signed.toml", line)
    gate = report["specs"][0]["gate"]
    assert (gate["open"], gate["deviations_wrong"], gate["shut_by"]) == (False, 1, [])
    assert ran.err.decode() == f"signed.toml, line {line}, column 1: {says}\n"
    assert f"line {line}: {says}" in " ".join(inspect().out.decode().split())
    log = data(inspect("--format", "sarif"))
    check_log(log)
    (invocation,) = log["runs"][0]["invocations"]
    (notice,) = invocation["toolConfigurationNotifications"]
    assert says in notice["message"]["text"]
    assert notice["locations"][0]["physicalLocation"]["region"]["startLine"] == line
    assert invocation["executionSuccessful"]


def test_a_policy_is_named_in_every_format_with_what_it_changes() -> None:
    policy = ("--policy", "policy.toml")
    ran = inspect(*policy, spec="fails.toml")
    text = " ".join(ran.out.decode().split())
    assert ran.status == 0
    assert "Policy: Hollin gate, revision 4 of 2026-05-01 (policy.toml)" in text
    assert "Lowered to warning by the policy: fuel.suction-loss: the pump is ours." in text
    assert "lowered from error to warning by the policy: the pump is ours." in text
    report = data(inspect(*policy, "--format", "json", spec="fails.toml"))
    check_report(report)
    (spec,) = report["specs"]
    assert spec["policy"]["lowered"] == [{"rule": RULE, "to": "warning", "reason": "the pump is ours"}]
    assert {name: spec["policy"][name] for name in ("name", "revision", "date", "file")} == {
        "name": "Hollin gate", "revision": "4", "date": "2026-05-01", "file": "policy.toml",
    }  # fmt: skip
    (result,) = spec["results"]
    assert (result["level"], result["rule_level"], result["level_before_policy"]) == ("warning", "warning", "error")
    log = data(inspect(*policy, "--format", "sarif", spec="fails.toml"))
    check_log(log)
    (run,) = log["runs"]
    assert [(made["name"], made["version"]) for made in run["policies"]] == [("Hollin gate", "4")]
    (override,) = run["invocations"][0]["ruleConfigurationOverrides"]
    assert override["descriptor"]["id"] == RULE
    assert override["configuration"] == {"level": "warning"}
    assert run["results"][0]["level"] == "warning"
    assert run["tool"]["driver"]["rules"][override["descriptor"]["index"]]["defaultConfiguration"]["level"] == "error"


def test_many_specs_under_one_policy_are_what_each_is_alone() -> None:
    names = ["fails.toml", "signed.toml", "fails.toml"]
    more = ("--rule", RULE, "--no-remedies", "--policy", "policy.toml", "--on", "2026-06-01")
    together = call("inspect", *names, *more, "--format", "jsonl", "--cores", "2").out.splitlines()[:-1]
    alone = [call("inspect", name, *more, "--format", "jsonl").out.splitlines()[0] for name in names]
    assert together == alone
    table = call("inspect", *names, *more).out.decode()
    assert "3 specs, the gate is shut for 0; 1 departure was accepted." in table
    assert "Policy: Hollin gate, revision 4 of 2026-05-01 (policy.toml)." in table


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--policy", "none.toml"), "none.toml: there is no such file."),
        (("--policy", "beside.toml"), "beside.toml, line 2, column 3: the policy has no field 'deviations'"),
        (("--deviations", "policy.toml"), "policy.toml, line 1, column 1: the file of deviations has no field 'name'"),
        (("--policy", "."), ".: is a folder; name a TOML file."),
        (("--deviations", ""), "the name of the file of deviations is empty"),
        (("--on", "2026-02-30"), "'2026-02-30' is not a date; one looks like 2026-05-31"),
        (("--on", "tomorrow"), "'tomorrow' is not a date; one looks like 2026-05-31"),
    ],
)
def test_what_cannot_be_read_is_said_and_nothing_is_inspected(options: tuple[str, str], says: str) -> None:
    ran = inspect(*options)
    assert ran.status == 2
    assert ran.out == b""
    assert says in ran.err.decode()


def test_no_report_goes_over_a_policy() -> None:
    ran = inspect("--policy", "policy.toml", "-o", "policy.toml")
    assert ran.status == 2
    assert Path("policy.toml").read_text() == POLICY


def test_the_schemas_take_what_the_reader_takes() -> None:
    for option, text, wrong in (("--policy", POLICY, "raise"), ("--deviations", signed(), "deviation")):
        schema = json.loads(call("schema", option).out)
        read = json.loads(json.dumps(tomli.loads(text), default=str))
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.Draft202012Validator(schema).validate(read)
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.Draft202012Validator(schema).validate({**read, wrong: []})


def test_an_accepted_report_takes_no_signature_that_has_run_out() -> None:
    assert inspect("--format", "json", "-o", "kept.json").status == 0
    assert inspect("--earlier", "kept.json").status == 0
    late = inspect("--earlier", "kept.json", "--format", "json", on="2027-01-01")
    assert late.status == 1
    assert data(late)["specs"][0]["gate"]["shut_by"] == [RULE]
    # Under the same policy nothing is worse than in the other spec.
    ran = inspect("--earlier", "fails.toml", "--policy", "policy.toml", "--format", "json")
    assert data(ran)["specs"][0]["baseline"]["worse"] == 0


QUOTES = {
    "valid": (signed(), True, "suppression"),
    "expired": (signed(until="2026-05-31"), False, "only until 2026-05-31"),
    "exceeded": (signed("78 kPa"), False, "only up to 78 kPa, and this is worse"),
    "unused": (signed() + signed(rule="fuel.return-heating"), False, "accepts nothing: the result passes"),
    "too-broad": (signed().replace('up_to = "80 kPa"\n', ""), False, "it is too broad without the worst value"),
    "unknown": (signed(rule="fuel.suction-los"), False, "did you mean 'fuel.suction-loss'?"),
    "wrong-signer": (signed().replace("A. Hollin", "B. Other"), False, "does not let 'B. Other' sign for an error"),
}
"""Variants of the failing spec, each with its deviations; whether the gate is open, and what is said."""


def test_quotes_of_every_kind_are_gated_in_one_call(folder: Path) -> None:
    (folder / "quotes").mkdir()
    (folder / "quotes" / "base.toml").write_text((folder / "fails.toml").read_text())
    for name, (written, _, _) in QUOTES.items():
        (folder / "quotes" / f"{name}.toml").write_text(f'[build]\nbase = "base.toml"\n{written}')
    (folder / "signers.toml").write_text(
        'name = "Hollin gate"\nrevision = "5"\ndate = 2026-05-01\n'
        '[[signers]]\nname = "A. Hollin"\nlevels = ["error", "warning", "note"]\n'
    )
    names = [f"quotes/{name}.toml" for name in QUOTES]
    rules = ("--rule", RULE, "--rule", "fuel.return-heating", "--no-remedies", "--on", "2026-06-01")
    ran = call("inspect", *names, *rules, "--policy", "signers.toml", "--format", "json")
    assert ran.status == 1
    report = data(ran)
    check_report(report)
    assert [spec["spec"] for spec in report["specs"]] == names
    for spec, (name, (_, is_open, says)) in zip(report["specs"], QUOTES.items(), strict=True):
        assert spec["gate"]["open"] == is_open, name
        own = [problem for problem in report["problems"] if problem["file"] == spec["spec"]]
        assert len(own) == (name in ("unused", "too-broad", "unknown", "wrong-signer")), name
        assert says in json.dumps([spec["results"], own]), name
        assert spec["counts"]["suppressed"] == (name in ("valid", "unused")), name


def test_a_shops_file_is_no_build_spec() -> None:
    ran = call("inspect", "beside.toml")
    assert ran.status == 2
    assert ran.err.decode() == (
        "beside.toml: is a file of deviations, not a build spec; name the spec, and this file with --deviations.\n"
    )
    ran = call("inspect", ".", "--rule", RULE, "--no-remedies", "--on", "2026-06-01")
    assert "2 specs" not in ran.out.decode()
    assert "beside.toml has nothing of a build spec in it, and is passed over." in ran.err.decode()
