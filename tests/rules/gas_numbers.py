"""What the tests of intake and exhaust share: numbers worked out without the project."""

from __future__ import annotations

import math
from collections.abc import Mapping, Set
from pathlib import Path
from typing import Any

import fluids
import pytest
from on_examples import found_on
from scipy.optimize import brentq  # type: ignore[import-untyped]

from swaplint.inspecting.results import Finding

SPECS = Path(__file__).parents[2] / "specs"
TENDER, VAN = "tarnholt-tender.toml", "skerrivar-van.toml"
R = 287.05287
G = 9.80665
SEA = 101325.0


def pressure_at(altitude: float) -> float:
    """ISO 2533: p = 101 325·(1 − 2.25577e-5·h)^5.25588 Pa, the usual rounded form (from memory)."""
    return float(SEA * (1 - 2.25577e-5 * altitude) ** 5.25588)


def viscosity(kelvin: float) -> float:
    """Sutherland's formula, constants of the U.S. Standard Atmosphere 1976: 3 % low at 550 °C, little in f."""
    return float(1.458e-6 * kelvin**1.5 / (kelvin + 110.4))


def duct_drop(flow: float, bore: float, length: float, k: float, kelvin: float, pressure: float, rough: float) -> float:
    """Isothermal drop in a duct, Pa, whose outlet is at `pressure`; friction factor of the fluids library."""
    flux = flow / (math.pi / 4 * bore**2)
    total = fluids.friction_factor(Re=flux * bore / viscosity(kelvin), eD=rough / bore) * length / bore + k
    scale = flux**2 * R * kelvin
    return float(
        brentq(
            lambda inlet: inlet**2 - pressure**2 - scale * (total + 2 * math.log(inlet / pressure)),
            pressure,
            2 * pressure,
        )
        - pressure
    )


def speed(flow: float, bore: float, kelvin: float, pressure: float) -> float:
    """ṁ·R·T/(p·A), m/s."""
    return flow * R * kelvin / (pressure * math.pi / 4 * bore**2)


Key = tuple[str, str, str]
"""Rule, part and demand of a result."""


def findings(name: str, edits: Mapping[str, Any] | None = None) -> dict[Key, Finding]:
    """All that is found on an example, with edits made."""
    return {(f.rule.id, str(f.part), f.demand): f for f in found_on(name, edits)}


def assert_one_change(
    name: str, edits: Mapping[str, Any], key: Key, level: str, field: str, by_law: Set[Key] = frozenset()
) -> Finding:
    """The edit makes one result change, to a fail on the field; returns it.

    Other demands of the same rule on the same part may go, where they then make no sense; none comes or changes,
    but for those that fail `by_law`, because the place forbids what the engine's maker does.
    """
    before, after = findings(name), findings(name, edits)
    assert before[key].kind == "pass"
    found = after[key]
    assert (found.kind, found.level, found.subject) == ("fail", level, field)
    both = before.keys() & after.keys()
    assert {k for k in both if (before[k].kind, before[k].level) != (after[k].kind, after[k].level)} == {key} | by_law
    assert {after[k].kind for k in by_law} <= {"fail"}
    assert after.keys() <= before.keys()
    assert {k[:2] for k in before.keys() - after.keys()} <= {key[:2]}
    return found


def close(value: float, rel: float = 0.01) -> Any:
    """Within a hundredth: hand sums use rounded constants."""
    return pytest.approx(value, rel=rel)
