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
OLD_SHEET = 'engine.document.date = "2024-05-01"\n'
"""760 days before the day of the call; 730 are allowed: 396 of a leap year's end and 364 to the day, counted by hand
below."""
LATE = 'work_starts_on = "2026-06-20"\n'

QUOTES = {
    "01-sound": "",
    "02-signed": OLD_SHEET,
    "03-run-out": OLD_SHEET,
    "04-exceeded": 'engine.document.date = "2024-04-01"\n',
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
    "06-too-broad": "supply.lead-time",
    "07-thin-cable": "supply.quote-matches-spec",
    "08-wrong-sum": "supply.quote-arithmetic",
    "09-offer-run-out": "supply.validity",
    "10-off-road-paper": "compliance.emission-certificate",
    "11-old-engine": "compliance.engine-age",
}
RULES = (*sorted(set(SHUT_BY.values())), "chassis.parking-brake")


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


def gate(*more: str) -> Ran:
    rules = [word for rule in RULES for word in ("--rule", rule)]
    return call("inspect", "quotes", *rules, "--on", ON, "--no-remedies", "--gate", "error", *more)


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


def test_x(shop: Path) -> None:
    ran = gate("--policy", "gate.policy.toml", "--deviations", "signed.toml")
    print(ran.out.decode(), ran.err.decode(), ran.status)
    assert 0
