"""Many quotes in one call, and a customer's copy of one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import tomli_w
from calling import Ran, call

from swaplint.kit.edits import edited_data

QUOTE_RULES = ("--rule", "supply.quote-arithmetic", "--rule", "supply.validity", "--rule", "supply.quote-matches-spec")
SMALL_CABLE = {"supply[13].offers[1].value": "35 mm2"}
WRONG_SUM = {"quote.total": 12345.0}
RUN_OUT = {"quote.valid_until": "2026-05-30"}


@pytest.fixture
def quotes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for name, edits in {
        "a-sound": {},
        "b-one": SMALL_CABLE,
        "c-three": {**SMALL_CABLE, **WRONG_SUM, **RUN_OUT},
        "d-two": {**SMALL_CABLE, **WRONG_SUM},
    }.items():
        (tmp_path / f"{name}.toml").write_text(tomli_w.dumps(edited_data(edits)), encoding="utf-8")
    return tmp_path


NAMES = ("d-two.toml", "a-sound.toml", "c-three.toml", "b-one.toml")


def text(done: Ran) -> str:
    return done.out.decode()


def test_the_table_is_in_the_order_given_and_what_is_shut_follows_worst_first(quotes: Path) -> None:
    done = call("inspect", *NAMES, *QUOTE_RULES)
    table, closing = text(done).split("shut, worst first")
    assert [line.split()[0] for line in table.splitlines() if line.split(".toml")[0] + ".toml" in NAMES] == list(NAMES)
    shut = [line.strip() for line in closing.splitlines() if line.startswith("  ")]
    assert [line.split(":")[0] for line in shut] == ["c-three.toml", "d-two.toml", "b-one.toml"]
    assert shut[2] == "b-one.toml: supply.quote-matches-spec"
    assert done.status == 1


def test_one_day_for_all_quotes_of_a_call(quotes: Path) -> None:
    done = call("inspect", *NAMES, *QUOTE_RULES, "--on", "2026-07-01", "--format", "jsonl")
    specs = [json.loads(line) for line in text(done).splitlines()][:-1]
    assert [spec["gate"]["open"] for spec in specs] == [False] * 4
    assert "a-sound.toml: supply.validity" in text(call("inspect", *NAMES, *QUOTE_RULES, "--on", "2026-07-01"))


@pytest.mark.parametrize(
    "format", [("text",), ("text", "--whole"), ("json",), ("jsonl", "--whole"), ("sarif",), ("html",)], ids="-".join
)
def test_a_customers_copy_has_no_prices(quotes: Path, format: tuple[str, ...]) -> None:
    told = ("12345", "12 345", "17984", "17 984", "6000", "13600", "1450")
    for name, shut in (("a-sound.toml", 0), ("d-two.toml", 1)):
        asked = ("inspect", name, "--rule", "supply.quote-arithmetic", "--format", *format)
        shop, customer = call(*asked), call(*asked, "--without-prices")
        assert any(number in text(shop) for number in told)
        assert not [number for number in told if number in text(customer)]
        assert "prices, which this copy leaves out" in text(customer)
        assert (shop.status, customer.status) == (shut, shut)
