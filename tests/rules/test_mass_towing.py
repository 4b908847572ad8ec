"""Towbar, and the engine's place in the ledger. The numbers are worked out beside each test."""

import math
from typing import Any, ClassVar

import pytest

from swaplint.kit.trial import of_part, one, trial, value

CASE, BAR = "vehicle.load_cases.laden", "vehicle.towbar"


class TestTowbar:
    RULE = "mass.towbar"

    def test_d_value(self) -> None:
        # g·2.8 t·0.8 t/(2.8 t + 0.8 t) = 9.80665·0.62222 = 6.1019 kN
        assert value("mass.coupling-force", part="laden") == pytest.approx(6.1019, rel=1e-4)

    @pytest.mark.parametrize(
        ("edits", "demand", "kind"),
        [
            ({f"{BAR}.d_value": "6.11 kN"}, "force", "pass"),
            ({f"{BAR}.d_value": "6.10 kN"}, "force", "fail"),
            ({f"{BAR}.trailer_mass_max": "800 kg"}, "trailer", "pass"),
            ({f"{BAR}.trailer_mass_max": "799 kg"}, "trailer", "fail"),
            ({f"{BAR}.nose_load_max": "50 kg"}, "nose-load", "pass"),
            ({f"{BAR}.nose_load_max": "49 kg"}, "nose-load", "fail"),
            # one of mass and D-value will do, none of them will not; nor will an unknown nose load
            ({f"{BAR}.d_value": None, f"{BAR}.trailer_mass_max": None}, "trailer", "open"),
            ({f"{BAR}.d_value": None}, "trailer", "pass"),
            ({f"{BAR}.trailer_mass_max": None}, "force", "pass"),
            ({f"{BAR}.nose_load_max": None}, "nose-load", "open"),
            # a plate that names none is for a person
            ({f"{BAR}.d_value": None, f"{BAR}.trailer_mass_max": "none"}, "trailer", "review"),
            # a carrier for bicycles weighs on the towbar and is no trailer
            ({f"{CASE}.trailer_mass": "0 kg", f"{CASE}.nose_load": "76 kg"}, "nose-load", "fail"),
        ],
    )
    def test_edges(self, edits: dict[str, Any], demand: str, kind: str) -> None:
        assert of_part(self.RULE, "laden", edits, demand=demand).kind == kind

    def test_without_a_towbar_nobody_asks_for_trailers(self) -> None:
        edits = {BAR: {"fitted": False}, f"{CASE}.trailer_mass": None, f"{CASE}.nose_load": None}
        assert of_part(self.RULE, "laden", edits).kind == "notApplicable"

    def test_what_is_printed_will_do(self) -> None:
        found = of_part(self.RULE, "laden", {f"{BAR}.d_value": "6.10 kN"}, demand="force")
        assert "a D-value of 6.11 kN" in found.message
        assert of_part(self.RULE, "laden", {f"{BAR}.d_value": "6.11 kN"}, demand="force").kind == "pass"


class TestPlaceOfTheEngine:
    """Drawn with its block's rear face 350 mm behind the front axle and its centre of gravity 260 mm ahead of that."""

    @pytest.mark.parametrize(
        ("edits", "kind"),
        [
            # level, 350 - 260 = 90 mm, and 150 mm on either side
            ({"vehicle.ledger.engine.x": "239 mm"}, "pass"),
            ({"vehicle.ledger.engine.x": "242 mm"}, "review"),
            ({"vehicle.ledger.engine.x": "-59 mm"}, "pass"),
            ({"vehicle.ledger.engine.x": "-61 mm"}, "review"),
            # turned round behind the rear axle: 3150 + 260 = 3410 mm, and 150 mm more
            (
                {
                    "vehicle.engine_place.x": "3150 mm",
                    "vehicle.engine_place.front_faces": "rear",
                    "vehicle.ledger.engine.x": "3410 mm",
                },
                "pass",
            ),
            (
                {
                    "vehicle.engine_place.x": "3150 mm",
                    "vehicle.engine_place.front_faces": "rear",
                    "vehicle.ledger.engine.x": "3559 mm",
                },
                "pass",
            ),
            (
                {
                    "vehicle.engine_place.x": "3150 mm",
                    "vehicle.engine_place.front_faces": "rear",
                    "vehicle.ledger.engine.x": "3561 mm",
                },
                "review",
            ),
            ({"vehicle.engine_place.x": "3150 mm", "vehicle.engine_place.front_faces": "rear"}, "review"),
            # across the other way: 350 - 40 = 310 mm
            (
                {
                    "vehicle.engine_place.front_faces": "right",
                    "engine.centre_of_gravity.y": "40 mm",
                    "vehicle.ledger.engine.x": "161 mm",
                },
                "pass",
            ),
            (
                {
                    "vehicle.engine_place.front_faces": "right",
                    "engine.centre_of_gravity.y": "40 mm",
                    "vehicle.ledger.engine.x": "159 mm",
                },
                "review",
            ),
            # across: its centre stands 40 mm to its left, which is to the rear where its front faces left
            (
                {
                    "vehicle.engine_place.front_faces": "left",
                    "engine.centre_of_gravity.y": "40 mm",
                    "vehicle.ledger.engine.x": "539 mm",
                },
                "pass",
            ),
            (
                {
                    "vehicle.engine_place.front_faces": "left",
                    "engine.centre_of_gravity.y": "40 mm",
                    "vehicle.ledger.engine.x": "541 mm",
                },
                "review",
            ),
        ],
    )
    def test_edge(self, edits: dict[str, Any], kind: str) -> None:
        level = {"vehicle.engine_place.pitch": "0 deg", **edits}
        assert one("mass.ledger-sense", level, demand="engine-place").kind == kind


class TestUnlikeTyres:
    """806 mm behind, 700 mm in front, where load index 105 carries 925 kg at 550 kPa."""

    SMALL: ClassVar[dict[str, Any]] = {
        "overall_diameter": "700 mm",
        "construction": "radial",
        "load_index_single": 105,
        "speed_symbol": "Q",
        "reference_pressure": "550 kPa",
        "pressure_max": "550 kPa",
    }
    FRONT = "driveline.front_tyres"
    REAR_DRIVE: ClassVar[dict[str, Any]] = {
        "driveline.axles.front": {"driven": False},
        "driveline.shafts.front": {"fitted": False},
    }
    FRONT_DRIVE: ClassVar[dict[str, Any]] = {
        "driveline.axles.rear": {"driven": False},
        "driveline.shafts.rear": {"fitted": False},
    }

    def test_what_they_carry(self) -> None:
        # 2·925 kg·(350/550)^0.8 = 1288.65 kg; behind 2·1180 kg·(400/550)^0.8 = 1829.24 kg as without
        stated = {**self.REAR_DRIVE, self.FRONT: self.SMALL}
        assert value("mass.tyre-capacity", stated, part="front") == pytest.approx(1288.65, abs=0.02)
        assert value("mass.tyre-capacity", stated, part="rear") == pytest.approx(1829.24, abs=0.02)
        small = {**stated, f"{self.FRONT}.load_index_single": 97}
        assert of_part("mass.tyre-load", "laden front", small).kind == "fail"
        assert of_part("mass.tyre-load", "laden rear", small).kind == "pass"

    def test_speed_is_reckoned_by_the_driven_ones(self) -> None:
        for driven, diameter in ((self.REAR_DRIVE, 806), (self.FRONT_DRIVE, 700)):
            stated = {**driven, self.FRONT: self.SMALL}
            assert value("gearing.rolling-radius", stated) == pytest.approx(3.05 * diameter / (2 * math.pi), rel=1e-6)
        # both always driven on tyres 13 % apart: no road speed can be reckoned, and gearing.axles-alike fails
        assert one("gearing.cruise-rpm", {self.FRONT: self.SMALL}, demand="cruise-band").kind == "review"

    @pytest.mark.parametrize(
        ("edits", "rule", "demand", "kind"),
        [
            # good for 80 km/h in front, for 160 behind: it reaches 134
            ({"speed_symbol": "F"}, "gearing.top-speed", "tyres", "fail"),
            ({"speed_symbol": None}, "gearing.top-speed", "tyres", "open"),
        ],
    )
    def test_the_slower_counts(self, edits: dict[str, Any], rule: str, demand: str, kind: str) -> None:
        stated = {**self.REAR_DRIVE, self.FRONT: self.SMALL, **{f"{self.FRONT}.{k}": v for k, v in edits.items()}}
        assert one(rule, stated, demand=demand).kind == kind

    def test_each_by_its_own_limit(self) -> None:
        stated = {**self.REAR_DRIVE, self.FRONT: {**self.SMALL, "pressure_max": "340 kPa"}}
        assert of_part("mass.tyre-pressure", "front", stated).kind == "fail"  # kept at 350 kPa
        assert of_part("mass.tyre-pressure", "rear", stated).kind == "pass"
        unknown = {**self.REAR_DRIVE, self.FRONT: {"overall_diameter": "700 mm"}}
        assert of_part("mass.tyre-load", "laden front", unknown).kind == "open"

    def test_that_one_number_stands_for_both_is_said(self) -> None:
        assert "its 2 tyres of load index 114 as behind carry" in of_part("mass.tyre-load", "laden front").message
        stated = {**self.REAR_DRIVE, self.FRONT: self.SMALL}
        assert "as behind" not in of_part("mass.tyre-load", "laden front", stated).message


@pytest.mark.parametrize(
    ("nose", "trailer", "judged"),
    [
        ("0 kg", "800 kg", {"force", "trailer"}),
        ("50 kg", "0 kg", {"nose-load"}),
        ("1 kg", "0 kg", {"nose-load"}),
        ("0 kg", "1 kg", {"force", "trailer"}),
        ("50 kg", "800 kg", {"nose-load", "force", "trailer"}),
        ("0 kg", "0 kg", {""}),
    ],
)
def test_what_hangs_on_the_towbar_is_judged(nose: str, trailer: str, judged: set[str]) -> None:
    edits = {f"vehicle.load_cases.laden.{field}": to for field, to in (("nose_load", nose), ("trailer_mass", trailer))}
    assert {f.demand for f in trial("mass.towbar", edits) if f.part.endswith("laden")} == judged
