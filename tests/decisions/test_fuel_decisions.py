"""Decision 11: bore of the fuel line, fuel needed on slopes. Oracle: `fluids` (Colebrook friction, Darcy loss).

The copy of the tender states its fuel, so that nothing rests on a fallback: 832 kg/m³ at 15 °C, 18 mm²/s at -20 °C and
2.8 mm²/s at 40 °C.
"""

import math
import re
from pathlib import Path

import fluids
import numpy as np
import pytest

from .support import TENDER, G, ask, edited, one, remedy

BORES = [5, 6, 8, 10, 12, 13, 16, 19, 22, 25]
BORE = "plumbing.fuel.supply.bore"
FLOW = 130e-3 / 3600
FUEL = {
    'cfpp = "-24 degC"                   # winter grade; its viscosity is not known': 'cfpp = "-24 degC"\n'
    'density = "832 kg/m3"\n'
    'viscosity = [{ temperature = "-20 degC", viscosity = "18 mm2/s" }, '
    '{ temperature = "40 degC", viscosity = "2.8 mm2/s" }]'
}


def density(celsius: float) -> float:
    """ρ = ρ15·exp(−α·ΔT·(1 + 0.8·α·ΔT)), α = 186.97/ρ15² + 0.4862/ρ15 for diesel (ASTM D1250: from memory)."""
    alpha = 186.9696 / 832**2 + 0.4862 / 832
    step = celsius - 15
    return 832 * math.exp(-alpha * step * (1 + 0.8 * alpha * step))


def loss(bore: float, celsius: float, viscosity: float, filters: float, length: float = 4.6) -> float:
    """kPa from tank to pump: wall, four elbows of 0.9, 0.38 m of lift, the filter due to be changed."""
    rho, diameter = density(celsius), bore / 1e3
    velocity = FLOW / (math.pi / 4 * diameter**2)
    reynolds = fluids.Reynolds(V=velocity, D=diameter, nu=viscosity * 1e-6)
    friction = fluids.friction_factor(Re=reynolds, eD=1.5e-6 / diameter)
    losses = (friction * length / diameter + 3.6) * rho * velocity**2 / 2
    return float(losses + rho * G * 0.38) / 1e3 + filters


def warm(bore: float) -> float:
    return loss(bore, 40, 2.8, 3.0)


def cold(bore: float) -> float:
    return loss(bore, -20, 18.0, 5.0)


def smallest(loss_in: object, limit: float) -> int:
    return next(bore for bore in BORES if loss_in(bore) <= limit)  # type: ignore[operator]


def test_smallest_bore_warm_and_cold_and_which_decides(tmp_path: Path) -> None:
    spec = edited(tmp_path, TENDER, FUEL)
    found = one(spec, "fuel.suction-loss")
    assert found["found"]["value"] == pytest.approx(max(warm(10), cold(10)), rel=0.01)
    message = found["message"]
    assert cold(10) > warm(10)
    assert "cold fuel decides" in message
    named = re.match(r"([\d.]+) kPa at 40 °C and ([\d.]+) kPa at -20 °C", message)
    assert named is not None
    assert [float(kpa) for kpa in named.groups()] == pytest.approx([warm(10), cold(10)], rel=0.01)
    for_warm, for_cold = smallest(warm, 20), smallest(cold, 20)
    assert for_warm < for_cold
    sheet = 'sheet = "sheets/stelhowe-heated.filter.toml"'
    never_cold = {'ambient_min = "-20 degC"': 'ambient_min = "40 degC"', sheet: f'{sheet}\ndrop_cold = "3 kPa"'}
    warm_only = edited(tmp_path / "warm", TENDER, {**FUEL, **never_cold})
    assert ask("size", warm_only, BORE)["best"] == pytest.approx(for_warm)
    sizing = ask("size", spec, BORE)
    assert sizing["best"] == pytest.approx(for_cold)
    for choice in sizing["choices"]:
        assert choice["passes"] == (max(warm(choice["value"]), cold(choice["value"])) <= 20), choice
    below = BORES[BORES.index(for_cold) - 1]
    tried = next(c for c in sizing["choices"] if c["value"] == pytest.approx(below))
    assert tried["fails"] == ["fuel.suction-loss"]


def test_a_bore_too_small_has_the_next_that_passes_as_remedy(tmp_path: Path) -> None:
    line = '[plumbing.fuel.supply]\nbore = "{} mm"'
    spec = edited(tmp_path, TENDER, {**FUEL, line.format(10): line.format(6)})
    found = one(spec, "fuel.suction-loss")
    assert found["kind"] == "fail"
    assert remedy(found, BORE)["to"] == pytest.approx(max(smallest(warm, 20), smallest(cold, 20)))


def test_fuel_needed_on_slopes() -> None:
    """A central pick-up 25 mm up in a box of 950 × 420 × 360 mm, 30° along and 20° across at once.

    Both tilts are what a level laid along that axis reads, so that gravity has the components sin 30° and sin 20° in
    the tank and the rest upright. The volume under the surface through the mouth is summed up on a grid.
    """
    along, across = math.sin(math.radians(30)), math.sin(math.radians(20))
    upright = math.sqrt(1 - along**2 - across**2)
    x, y = np.meshgrid(np.arange(-474.5, 475, 1), np.arange(-209.5, 210, 1))
    depth = np.clip(25 + (along * x + across * y) / upright, 0, 360)
    litres = depth.sum() / 1e6
    found = one(TENDER, "fuel.tilt-uncovering", "covering-share")
    named = re.search(r"less than ([\d.]+) L", found["message"])
    assert named is not None
    assert float(named.group(1)) == pytest.approx(litres, abs=0.1)
    assert found["found"]["value"] == pytest.approx(litres / 139 * 100, rel=1e-3)
