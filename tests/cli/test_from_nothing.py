"""A build unlike the examples, written from nothing with `draft` and `fill` alone: what is typed, and what it decides.

An invented rear-driven camper of 2.8 t with a petrol engine and an automatic gearbox. Whoever builds it answers the
questions that the gearing rules wait for, in whatever order they are asked, from a list of what is known.
"""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from calling import call, stream, streams, written

from swaplint.cli import main

KNOWN = {
    "build.name": "Ellerbeck camper (invented)",
    "build.design.altitude_max": "1800 m",
    "build.design.crawl_speed": "6 km/h",
    "build.design.cruise_speed": "95 km/h",
    "build.design.descent_speed": "60 km/h",
    "build.design.grade_max": "20 %",
    "build.design.road_speed_max": "130 km/h",
    "build.design.start_grade": "15 %",
    "build.duty.terrain": "road",
    "driveline.axles.rear.ratio": "4.1",
    "driveline.converter": "fitted",
    "driveline.converter.stall_ratio": "2.1",
    "driveline.drivetrain.driven_mass_share": "58 %",
    "driveline.drivetrain.efficiency": "88 %",
    "driveline.drivetrain.traction_coefficient": "0.8",
    "driveline.gearbox.reverse_ratio": "2.4",
    "driveline.gearbox.ratios": "2.8; 1.5; 1; 0.7",
    "driveline.tyres.construction": "radial",
    "driveline.tyres.speed_symbol": "T",
    "driveline.tyres.overall_diameter": "690 mm ± 1 %, measured",
    "engine.derate.altitude_free": "0 m!",
    "engine.derate.altitude_loss": "3 %",
    "engine.derate.altitude_step": "300 m",
    "engine.speed.cruise_high": "3200 r/min",
    "engine.speed.cruise_low": "1900 r/min",
    "engine.speed.governed_max": "5600 r/min",
    "engine.speed.idle": "750 r/min",
    "engine.speed.overspeed_max": "6000 r/min",
    "engine.speed.rated": "5200 r/min",
    "engine.torque.launch": "210 Nm",
    "engine.torque.plateau_low": "2200 r/min",
    "engine.torque_curve": "800 r/min, 150 Nm; 2200 r/min, 235 Nm; 4000 r/min, 240 Nm; 5600 r/min, 190 Nm",
    "vehicle.aero.drag_coefficient": "0.5",
    "vehicle.aero.frontal_area": "4.4 m2",
    "vehicle.mass.gcwr": "2800 kg",
    "vehicle.mass.gvwr": "2800 kg",
    "vehicle.mass.laden_height": "850 mm",
    "vehicle.rolling_resistance.off_road": "0.03",
    "vehicle.rolling_resistance.road": "0.013",
    "vehicle.towbar": "not fitted",
    "vehicle.weight_class": "light",
    "vehicle.wheelbase": "2950 mm",
}
"""What the builder knows, as typed."""


class Builder:
    """Somebody at the keyboard who reads the last question and types what is known, or passes on."""

    def __init__(self, screen: Any) -> None:
        self.screen = screen
        self.typed: list[str] = []
        self.passed = 0
        self.asked: list[str] = []

    def isatty(self) -> bool:
        """Whether what is typed is shown."""
        return True

    def readline(self, size: int = -1) -> str:
        """The next line that is typed."""
        field = re.findall(r"^(\S+)   \d+ questions? left", written(self.screen).decode(), re.MULTILINE)[-1]
        assert field not in self.asked, "nothing is asked twice"
        self.asked.append(field)
        known = KNOWN.get(field, "skip")
        if known == "skip":
            self.passed += 1
        else:
            self.typed.append(known)
        return known + "\n"


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_an_evening_becomes_some_dozens_of_lines() -> None:
    profile = ["--fuel", "petrol", "--gearbox", "automatic", "--driven", "rear", "--brakes", "vacuum"]
    assert call("draft", "camper.toml", *profile).status == 0
    screen, errors = stream(), stream()
    builder = Builder(screen)
    with streams(builder, screen, errors):
        assert main(["fill", "camper.toml", "--system", "gearing"]) == 0
    assert written(errors) == b""
    assert "not taken" not in written(screen).decode()
    # Typed: the draft, the way into `fill`, an answer each; the rest is the Enter key.
    assert len(builder.typed) <= 45
    assert builder.passed <= 25
    text = Path("camper.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    assert data["driveline"]["tyres"]["overall_diameter"] == {"value": "690 mm", "tol": "1 %", "basis": "measured"}
    assert data["engine"]["torque_curve"][3] == {"speed": "5600 r/min", "torque": "190 Nm"}
    ran = call(
        "inspect", "camper.toml", "--system", "gearing", "--stage", "plan", "--format", "json", "--gate", "never"
    )
    results = json.loads(ran.out)["specs"][0]["results"]
    decided = {r["rule"] for r in results if r["kind"] in ("pass", "fail", "review")}
    waiting = {r["rule"] for r in results if r["kind"] == "open" and r["due"]}
    assert {f"gearing.{name}" for name in ("cruise-rpm", "gradeability", "startability", "engine-overspeed")} <= decided
    assert waiting <= {"gearing.shift-step"}
    # And the choice that all this is for: which final drive.
    size = json.loads(
        call("size", "camper.toml", "driveline.axles.rear.ratio", "--system", "gearing", "--format", "json").out
    )
    assert size["windows"]
