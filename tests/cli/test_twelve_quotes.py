"""Twelve invented quotes through a shop's gate in one call: a policy, signed departures and an accepted report.

Each is a variant of a few lines on the same base. What each is about stands beside it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
import tomli_w
from calling import Ran, call

from swaplint.kit.edits import edited_data
from tests.reports.sarif_checks import check_log

SCHEMA = Path(__file__).resolve().parents[3] / "shared" / "reference" / "sarif-schema-2.1.0.json"
"""The OASIS schema, where it is beside the project."""
ON = "2026-05-31"
POLICY = """name = "Gate for quotes (invented)"
revision = "5"
date = 2026-05-01
never_deviate = ["chassis"]
deviations_in_spec = false
[[raised]]
rule = "supply.sheet-age"
to = "error"
[[signers]]
name = "A. Hollin"
levels = ["error", "warning", "note"]
"""
OLD_SHEET = "[engine.document]\ndate = 2024-05-01\n"
"""Two years, which is what is allowed, and 30 days before the day of the call: 760 days, 730 allowed."""
LATE = 'work_starts_on = "2026-06-20"\n'

QUOTES = {
    "01-sound": "",
    "02-signed": OLD_SHEET,
    "03-run-out": OLD_SHEET,
    "04-exceeded": "[engine.document]\ndate = 2024-04-01\n",
    "05-unused": "",
    "06-too-broad": f"[quote]\n{LATE}",
    "07-thin-cable": '[electrics.cables.starter]\nsize = "70 mm2"\n',
    "08-wrong-sum": "[quote]\ntotal = 12345\n",
    "09-offer-run-out": '[quote]\nvalid_until = "2026-05-30"\n',
    "10-off-road-paper": '[engine.certificate]\nuse = "off-road"\n',
    "11-old-engine": "[engine.certificate]\nmodel_year = 1995\n",
    "12-known-before": '[quote]\nvalid_until = "2026-05-29"\n',
}
OPEN = ("01-sound", "02-signed", "12-known-before")
SHUT_BY = {
    "03-run-out": "supply.sheet-age",
    "04-exceeded": "supply.sheet-age",
    "07-thin-cable": "supply.quote-matches-spec",
    "08-wrong-sum": "supply.quote-arithmetic",
    "09-offer-run-out": "supply.validity",
    "10-off-road-paper": "compliance.emission-certificate",
    "11-old-engine": "compliance.engine-age",
}
RULES = (*sorted(set(SHUT_BY.values())), "supply.lead-time", "chassis.parking-brake")


def signed(quote: str, rule: str, until: str = "2026-12-31", **more: str) -> dict[str, Any]:
    return {
        "spec": f"quotes/{quote}.toml",
        "rule": rule,
        **more,
        "reason": "the maker has confirmed it in writing",
        "by": "A. Hollin",
        "date": "2026-05-02",
        "until": until,
    }


SIGNED = [
    signed("02-signed", "supply.sheet-age", up_to="765 days"),
    signed("03-run-out", "supply.sheet-age", until="2026-05-30", up_to="765 days"),
    signed("04-exceeded", "supply.sheet-age", up_to="765 days"),
    signed("05-unused", "supply.sheet-age", up_to="765 days"),
    signed("06-too-broad", "supply.lead-time", up_to="0 days"),
]


ASKED = (*(word for rule in RULES for word in ("--rule", rule)), "--on", ON, "--no-remedies")
OURS = ("--policy", "gate.policy.toml", "--deviations", "signed.toml")


def gate(*more: str) -> Ran:
    return call("inspect", "quotes", *ASKED, *OURS, *more)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's folder: the quotes on their base, its policy, what it signed for, and the report that it accepted."""
    folder = tmp_path_factory.mktemp("shop")
    (folder / "quotes").mkdir()
    base = tomli_w.dumps(edited_data({"build.judged_on": None, "build.stage": "quote"}))
    (folder / "quotes" / "parts").mkdir()
    (folder / "quotes" / "parts" / "base.toml").write_text(base, encoding="utf-8")
    for name, lines in QUOTES.items():
        text = f'[build]\nbase = "parts/base.toml"\nstage = "quote"\n{lines}'
        (folder / "quotes" / f"{name}.toml").write_text(text, encoding="utf-8")
    (folder / "gate.policy.toml").write_text(POLICY, encoding="utf-8")
    (folder / "signed.toml").write_text(tomli_w.dumps({"deviations": SIGNED}), encoding="utf-8")
    return folder


@pytest.fixture(autouse=True)
def there(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(shop)


@pytest.fixture(scope="module")
def accepted(shop: Path) -> str:
    """The report that the shop accepted: one quote sound, and one whose offer had run out already."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(shop)
        call("inspect", *named("01-sound", "12-known-before"), *ASKED, "--format", "jsonl", "-o", "accepted.jsonl")
    return "accepted.jsonl"


def named(*quotes: str) -> list[str]:
    return [f"quotes/{quote}.toml" for quote in quotes]


def lines(ran: Ran) -> dict[str, Any]:
    made = [json.loads(line) for line in ran.out.splitlines()[:-1]]
    return {Path(one["spec"]).stem: one for one in made}


@pytest.fixture(scope="module")
def gated(shop: Path, accepted: str) -> Ran:
    """All twelve in one call, a line each."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(shop)
        return gate("--earlier", accepted, "--format", "jsonl")


def test_nine_are_shut_each_by_what_is_wrong_with_it(gated: Ran) -> None:
    made = lines(gated)
    assert list(made) == list(QUOTES)
    assert [name for name, one in made.items() if one["gate"]["open"]] == list(OPEN)
    shut_by = {name: one["gate"]["shut_by"] for name, one in made.items() if not one["gate"]["open"]}
    assert shut_by == {name: [rule] for name, rule in SHUT_BY.items()} | {"05-unused": [], "06-too-broad": []}
    assert gated.status == 1


def test_what_is_signed_for_is_accepted_only_in_time_and_up_to_its_value(gated: Ran) -> None:
    made = lines(gated)
    results = {name: made[name]["results"][0] for name in ("02-signed", "03-run-out", "04-exceeded")}
    assert {result["rule"] for result in results.values()} == {"supply.sheet-age"}
    assert {result["level"] for result in results.values()} == {"error"}  # raised by the policy
    found = {name: (result["found"]["value"], result["limit"]["value"]) for name, result in results.items()}
    assert found == {"02-signed": (760, 730), "03-run-out": (760, 730), "04-exceeded": (790, 730)}
    assert results["02-signed"]["suppression"]["by"] == "A. Hollin"
    assert made["02-signed"]["counts"]["suppressed"] == 1
    for name, says in (("03-run-out", "only until 2026-05-30"), ("04-exceeded", "765 days")):
        assert results[name]["suppression"] is None
        assert says in json.dumps(results[name])


def test_a_departure_that_accepts_nothing_is_told_with_its_place(gated: Ran) -> None:
    end = json.loads(gated.out.splitlines()[-1])
    told = [problem["what"] for one in lines(gated).values() for problem in one.get("problems", [])]
    told += [problem["what"] for problem in end["problems"]]
    assert any("05-unused.toml, accepts nothing: the result passes" in what for what in told)
    assert any(
        "it names no part, and the rule judges 13: supply[1], supply[2], supply[3], supply[4], supply[5], " in what
        for what in told
    )


def test_what_was_accepted_before_does_not_shut_and_what_is_new_does(gated: Ran) -> None:
    made = lines(gated)
    (known,) = (r for r in made["12-known-before"]["results"] if r["demand"] == "offer")
    assert (known["kind"], known["level"], known["baseline"]["state"]) == ("fail", "error", "unchanged")
    (new,) = (r for r in made["09-offer-run-out"]["results"] if r["demand"] == "offer")
    assert (new["kind"], new["level"]) == ("fail", "error")


def test_the_text_ends_with_what_is_shut_worst_first(accepted: str) -> None:
    ran = gate("--earlier", accepted)
    says = ran.out.decode()
    assert "12 specs, the gate is shut for 9; 1 departure was accepted." in says
    assert "Policy: Gate for quotes (invented), revision 5 of 2026-05-01 (gate.policy.toml)." in says
    shut = says.split("shut, worst first")[1]
    for name, rule in SHUT_BY.items():
        assert f"quotes/{name}.toml: {rule}" in shut
    assert ran.status == 1


def test_the_sarif_log_is_valid_and_says_what_is_suppressed_and_what_is_new(accepted: str) -> None:
    log = json.loads(gate("--earlier", accepted, "--format", "sarif").out)
    check_log(log)
    if SCHEMA.exists():
        jsonschema.Draft4Validator(json.loads(SCHEMA.read_text())).validate(log)
    (run,) = log["runs"]
    fails = {result["ruleId"].split("/")[0] for result in run["results"] if result["kind"] == "fail"}
    assert fails >= set(SHUT_BY.values())
    (one,) = (
        result for result in run["results"] if any(s["status"] == "accepted" for s in result.get("suppressions", []))
    )
    assert (one["ruleId"], one["kind"]) == ("supply.sheet-age", "fail")
    assert all("baselineState" in result for result in run["results"])
    assert {result["baselineState"] for result in run["results"]} >= {"new", "unchanged"}
