"""Place and fastening of tanks, foam, a second tank. Expected numbers are worked out beside each test."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised
from fuel_numbers import RHO_WARM, TANK

from swaplint.kit.trial import of_part, one, trial, value

SECOND = "plumbing.fuel.second_tank"
PLACE: dict[str, Any] = {
    "capacity": "45 L",
    "reachable": "40 L",
    "empty_mass": "8 kg",
    "behind_rear_axle": False,
    "parted": "outside-body",
    "filler": "outside",
    "holds_lengthwise": "15 kN",
    "holds_across": "6 kN",
    "filling": {"fitted": False},
    "own_vent": True,
}
VALVE = {SECOND: {**PLACE, "joined": "valve", "return_follows": True}}
FOAM: dict[str, Any] = {"kind": "foam", "displaced": "4 %", "held_back": "5 %", "suits_fuel": True}
FULL = 9.0 + 0.085 * RHO_WARM
"""Mass of the full sound tank: 9 kg empty and 85 L of warm diesel, some 78.8 kg."""


class TestPlace:
    def test_full_mass(self) -> None:
        assert value("fuel.full-tank", part="tank") == pytest.approx(FULL, rel=1e-4)

    @pytest.mark.parametrize(
        ("category", "field", "times"),
        [
            ("N1", "holds_lengthwise", 20.0),
            ("N1", "holds_across", 8.0),
            ("N2", "holds_lengthwise", 10.0),
            ("N2", "holds_across", 5.0),
            ("N3", "holds_lengthwise", 6.6),
            ("M3", "holds_across", 5.0),
        ],
    )
    def test_force_in_a_crash(self, category: str, field: str, times: float) -> None:
        # F = m·g·n: 78.8 kg at 20 g is 15.4 kN, at 8 g 6.2 kN
        force = FULL * 9.80665 * times
        demand = field.removeprefix("holds_")
        for share, kind in ((0.999, "fail"), (1.001, "pass")):
            edits = {"vehicle.category": category, f"{TANK}.{field}": f"{share * force:.1f} N"}
            found = one("fuel.tank-place", edits, demand=demand)
            assert (found.kind, found.subject) == (kind, f"{TANK}.{field}")
            if kind == "fail":
                assert found.level == "warning"
                assert advised(found) == {f"{TANK}.{field}": pytest.approx(force, rel=1e-4)}

    @pytest.mark.parametrize(
        ("behind", "gap", "kind"),
        [(False, "0 mm", "pass"), (True, "299 mm", "fail"), (True, "300 mm", "pass"), (True, None, "open")],
    )
    def test_rear_impact(self, behind: bool, gap: str | None, kind: str) -> None:
        edits = {f"{TANK}.behind_rear_axle": behind, f"{TANK}.to_rear": gap}
        assert one("fuel.tank-place", edits, demand="rear-impact").kind == kind

    @pytest.mark.parametrize(
        ("field", "word", "kind"),
        [
            ("parted", "nothing", "fail"),
            ("parted", "closed-wall", "pass"),
            ("filler", "cab", "fail"),
            ("filler", "luggage-space", "fail"),
            ("filler", "outside", "pass"),
        ],
    )
    def test_people_and_fuel(self, field: str, word: str, kind: str) -> None:
        found = one("fuel.tank-place", {f"{TANK}.{field}": word}, demand=field)
        assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)

    @pytest.mark.parametrize("field", ["parted", "filler", "holds_across", "filling", "behind_rear_axle"])
    def test_nothing_passes_in_silence(self, field: str) -> None:
        assert one("fuel.tank-place", {f"{TANK}.{field}": None}).kind == "open"


class TestFoam:
    def test_what_foam_takes_and_keeps(self) -> None:
        # of 85 L foam leaves 81.6 L, of which 5 % stay in it: 77.52 L run to the pick-up, 7.48 L less
        before = value("fuel.usable")
        assert value("fuel.usable", {f"{TANK}.filling": FOAM}) == pytest.approx(before - 7.48)
        assert "7.5 L" in one("fuel.tank-place", {f"{TANK}.filling": FOAM}, demand="filling").message

    def test_foam_for_another_fuel(self) -> None:
        edits = {f"{TANK}.filling": {**FOAM, "suits_fuel": False}}
        assert one("fuel.tank-place", edits, demand="filling").kind == "fail"


class TestSecondTank:
    def test_it_is_asked_whether_there_is_one(self) -> None:
        assert one("fuel.second-tank", {SECOND: None}).kind == "open"
        assert one("fuel.second-tank").kind == "notApplicable"

    def test_its_fuel_counts(self) -> None:
        assert value("fuel.usable", VALVE) == pytest.approx(value("fuel.usable") + 40.0)

    def test_its_place_is_judged_too(self) -> None:
        edits = {SECOND: {**PLACE, "joined": "valve", "return_follows": True, "filler": "cab"}}
        assert of_part("fuel.tank-place", "second_tank", edits).kind == "fail"
        assert of_part("fuel.tank-place", "fuel.tank", edits).kind == "pass"

    @pytest.mark.parametrize(
        ("joined", "edits", "demand", "kind"),
        [
            ("valve", {"return_follows": True}, "return", "pass"),
            ("valve", {"return_follows": False}, "return", "fail"),
            ("valve", {}, "return", "open"),
            ("transfer-pump", {"stops_when_full": False}, "pump", "fail"),
            ("transfer-pump", {"stops_when_full": True}, "pump", "pass"),
            ("balance-line", {"line_shuts": False}, "line-shuts", "fail"),
            ("balance-line", {"line_guarded": False}, "line-guard", "fail"),
            ("balance-line", {}, "line-fuel", "pass"),
        ],
    )
    def test_each_way_to_join(self, joined: str, edits: dict[str, Any], demand: str, kind: str) -> None:
        found = one("fuel.second-tank", {SECOND: {**PLACE, "joined": joined, **edits}}, demand=demand)
        assert found.kind == kind

    def test_petrol_tanks_are_not_joined_below(self) -> None:
        edits = {SECOND: {**PLACE, "joined": "balance-line"}, "engine.fuel_type": "petrol"}
        found = one("fuel.second-tank", edits, demand="line-fuel")
        assert (found.kind, found.level) == ("fail", "error")

    def test_an_engine_without_return(self) -> None:
        edits = {SECOND: {**PLACE, "joined": "valve", "return_follows": False}, "engine.fuel.return_flow": "0 L/h"}
        assert one("fuel.second-tank", edits, demand="return").kind == "notApplicable"

    def test_without_knowing_how_they_are_joined(self) -> None:
        kinds = {f.demand: f.kind for f in trial("fuel.second-tank", {SECOND: {**PLACE}})}
        assert kinds["vent"] == "pass"
        assert {kinds[name] for name in ("return", "pump", "line-fuel")} == {"open"}


def test_foam_in_the_second_tank_takes_its_share() -> None:
    # of 45 L foam displaces 4 %: 43.2 L, and holds back 5 % of them: 41.04 L; of the 40 L reached, 40 - 3.96 are left
    edits = {SECOND: {**PLACE, "joined": "valve", "return_follows": True, "filling": FOAM}}
    assert value("fuel.usable", edits) == pytest.approx(value("fuel.usable") + 36.04)
