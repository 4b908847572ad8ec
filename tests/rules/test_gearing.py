"""The gearing pack on the sound spec and on the examples. The expected numbers are worked out beside each test."""

import math

import pytest

from swaplint.host.packs import load_rule_base
from swaplint.inspection import inspect
from swaplint.kit.trial import of_part, one, trial, value
from swaplint.spec.loading import load_spec

# The sound spec: tyres 806 mm, rolling radius by the ETRTO factor (from memory) 3.05·D/(2π).
RADIUS = 3.05 * 0.806 / (2 * math.pi)  # 0.39125 m
TOP = 0.9 * 1.0 * 4.3  # 3.87
LOWEST = 4.3 * 2.5 * 4.3  # 46.225
RPM = 60 / (2 * math.pi)
G = 9.80665
RHO_0 = 101325 / (287.05287 * 288.15)  # 1.225 kg/m³, ISO 2533
STARS = "driveline.axles.*.ratio"


class TestQuantities:
    def test_rolling_radius_from_diameter(self) -> None:
        assert value("gearing.rolling-radius") == pytest.approx(391.25, rel=1e-4)

    def test_rolling_radius_prefers_the_measured_circumference(self) -> None:
        edits = {"driveline.tyres.rolling_circumference": "2500 mm"}
        assert value("gearing.rolling-radius", edits) == pytest.approx(2500 / (2 * math.pi), rel=1e-9)

    def test_tyre_diameter_from_the_sidewall(self) -> None:
        # 235/85R16: 16·25.4 + 2·235·0.85 = 406.4 + 399.5 = 805.9 mm
        edits = {"driveline.tyres.overall_diameter": None}
        assert value("gearing.tyre-diameter", edits) == pytest.approx(805.9, abs=0.05)

    def test_overall_ratios(self) -> None:
        assert value("gearing.top-ratio") == pytest.approx(TOP)
        assert value("gearing.lowest-ratio") == pytest.approx(LOWEST)
        assert value("gearing.overall-ratio", part="ratios[2]") == pytest.approx(2.6 * 4.3)

    def test_published_road_speed_example(self) -> None:
        # External check value: 2000 r/min, gear 0.75, axle 3.73, rolling circumference 3.05 · 0.7335 m gives
        # n/(i_g·i_a)/60 · C · 3.6 = 95.9646 km/h; here the other way round.
        edits = {
            "driveline.tyres.overall_diameter": "733.5 mm",
            "driveline.gearbox.ratios": [4.3, 2.6, 1.6, 1.15, 0.75],
            STARS: 3.73,
            "build.design.cruise_speed": "95.9646 km/h",
        }
        assert value("gearing.cruise-rpm", edits) == pytest.approx(2000.0, rel=1e-4)

    def test_cruise_engine_speed(self) -> None:
        # 80 km/h = 22.222 m/s; n = v·i/(2π·r) = 2099 r/min
        assert value("gearing.cruise-rpm") == pytest.approx(80 / 3.6 * TOP / RADIUS * RPM, rel=1e-9)
        assert value("gearing.cruise-rpm") == pytest.approx(2099, abs=1)

    def test_cruise_power(self) -> None:
        # rolling 2800·9.80665·0.012 = 329.5 N; drag ½·1.225·0.45·2.8·22.222² = 381.1 N; 710.6 N · 22.22 m/s = 15.79 kW
        drag = 0.5 * RHO_0 * 0.45 * 2.8 * (80 / 3.6) ** 2
        needed = (2800 * G * 0.012 + drag) * 80 / 3.6
        assert needed == pytest.approx(15790, abs=15)
        assert value("gearing.cruise-road-power") == pytest.approx(needed / 1000, rel=1e-9)
        # 2099 r/min lies on the 340 N·m plateau: P = 340 · 219.8 rad/s · 0.90 = 67.26 kW
        available = 340 * (80 / 3.6 * TOP / RADIUS) * 0.90
        assert value("gearing.cruise-available-power") == pytest.approx(available / 1000, rel=1e-9)
        assert value("gearing.cruise-reserve") == pytest.approx((available / needed - 1) * 100, rel=1e-9)

    def test_grade_held_at_cruise(self) -> None:
        # F = 340·3.87·0.9/0.39125 = 3026.7 N, less drag 381.1 N = 2645.6 N; m·g = 27458.6 N
        surplus = 340 * TOP * 0.9 / RADIUS - 0.5 * RHO_0 * 0.45 * 2.8 * (80 / 3.6) ** 2
        angle = math.asin(surplus / (2800 * G * math.hypot(1, 0.012))) - math.atan(0.012)
        assert value("gearing.cruise-grade") == pytest.approx(math.tan(angle) * 100, rel=1e-9)

    def test_altitude_factor(self) -> None:
        # 1500 m, free to 1000 m, 3 % for each 300 m: 1 − 0.03·500/300 = 0.95
        assert value("gearing.altitude-factor") == pytest.approx(95.0)

    def test_climb_is_capped_by_the_tyres(self) -> None:
        # lowest gear of all: the engine could push up any slope; tyres: μ·share − C_r = 0.7 − 0.05 = 65 % less drag
        assert value("gearing.steepest-climb") == pytest.approx(65.0, abs=0.01)

    def test_climb_in_a_gear(self) -> None:
        # fourth gear, high range: i = 1.15·4.3 = 4.945. Drag falls with speed and the torque is level from 1400 r/min,
        # so the best point is 1400 r/min: v = 146.6·0.39125/4.945 = 11.60 m/s; air of 1500 m.
        ratio, torque = 1.15 * 4.3, 340 * 0.95
        speed = 1400 / RPM * RADIUS / ratio
        rho = 84556.0 / (287.05287 * (288.15 - 0.0065 * 1500))  # ISO 2533 table pressure at 1500 m
        surplus = torque * ratio * 0.9 / RADIUS - 0.5 * rho * 0.45 * 2.8 * speed**2
        angle = math.asin(surplus / (2800 * G * math.hypot(1, 0.05))) - math.atan(0.05)
        assert value("gearing.climb", part="ratios[4]") == pytest.approx(math.tan(angle) * 100, rel=1e-3)

    def test_start_grade(self) -> None:
        # F = 0.85·210·46.225·0.9/0.39125 = 18 981 N; sin θ·(1 + C²)^½ … solved exactly
        force = 0.85 * 210 * LOWEST * 0.9 / RADIUS
        for mass, name in ((2800, "gearing.start-grade"), (3600, "gearing.start-grade-trailer")):
            angle = math.asin(force / (mass * G * math.hypot(1, 0.05))) - math.atan(0.05)
            assert value(name) == pytest.approx(math.tan(angle) * 100, rel=1e-9)

    def test_converter_multiplies_the_launch_torque(self) -> None:
        edits = {
            "driveline.gearbox.kind": "automatic",
            "driveline.converter": {"fitted": True, "stall_ratio": 2.0},
        }
        assert value("gearing.launch-torque", edits) == pytest.approx(420.0)

    def test_speed_after_a_shift(self) -> None:
        # 3400·2.6/4.3 − 150 = 1905.8 r/min
        assert value("gearing.speed-after-shift", part="ratios[2]") == pytest.approx(3400 * 2.6 / 4.3 - 150)

    def test_crawl_and_governed_speed(self) -> None:
        assert value("gearing.crawl-speed") == pytest.approx(800 / RPM * RADIUS / LOWEST * 3.6, rel=1e-9)
        assert value("gearing.governed-road-speed") == pytest.approx(3700 / RPM * RADIUS / TOP * 3.6, rel=1e-9)

    def test_top_speed_balances_power_and_resistance(self) -> None:
        speed = value("gearing.top-speed") / 3.6
        rpm = speed * TOP / RADIUS * RPM
        # beyond rated speed the torque falls in a line from 265 N·m at 3400 to zero at 3700 r/min
        assert 3400 < rpm < 3700
        torque = 265 * (3700 - rpm) / 300
        force = torque * TOP * 0.9 / RADIUS
        resisting = 2800 * G * 0.012 + 0.5 * RHO_0 * 0.45 * 2.8 * speed**2
        assert force == pytest.approx(resisting, rel=1e-6)

    def test_tyre_speed_of_the_symbol(self) -> None:
        # UN R30/R54, ISO 4000: Q 160 km/h, S 180 km/h
        assert value("gearing.tyre-speed") == pytest.approx(160.0)
        assert value("gearing.tyre-speed", {"driveline.tyres.speed_symbol": "S"}) == pytest.approx(180.0)

    def test_speedometer_after_larger_tyres(self) -> None:
        # External check value: tyres 5 % larger on a speedometer that read true show 95.2381 at 100 km/h.
        edits = {
            "driveline.speedometer.calibrated_reading": 1.0,
            "driveline.speedometer.calibrated_tyre_diameter": "800 mm",
            "driveline.tyres.overall_diameter": "840 mm",
        }
        assert value("gearing.speedometer-ratio", edits) == pytest.approx(0.952381, rel=1e-6)


class TestCruiseRpm:
    def test_fails_and_names_the_ratio_that_would_do(self) -> None:
        found = one("gearing.cruise-rpm", {"engine.speed.cruise_high": "2000 r/min"})
        assert (found.kind, found.level) == ("fail", "warning")
        # the middle of 1500 to 2000 is 1750 r/min: i = 4.3·1750/2099 = 3.585
        assert "final drive of 3.58" in found.message or "final drive of 3.59" in found.message
        assert found.margin == pytest.approx((2000 - 2099) / 2000, abs=1e-3)

    @pytest.mark.parametrize(("high", "kind"), [("2099.5 r/min", "pass"), ("2098 r/min", "fail")])
    def test_boundary(self, high: str, kind: str) -> None:
        assert one("gearing.cruise-rpm", {"engine.speed.cruise_high": high}).kind == kind

    def test_is_an_error_beyond_rated_speed(self) -> None:
        # 3400 r/min in top gear is 3400/RPM·RADIUS/TOP·3.6 = 129.6 km/h
        limit = 3400 / RPM * RADIUS / TOP * 3.6
        assert one("gearing.cruise-rpm", {"build.design.road_speed_max": f"{limit + 0.5:.2f} km/h"}).level == "error"
        assert one("gearing.cruise-rpm", {"build.design.road_speed_max": f"{limit - 0.5:.2f} km/h"}).kind == "pass"

    def test_falls_back_on_common_practice(self) -> None:
        found = one("gearing.cruise-rpm", {"engine.speed.cruise_low": None})
        assert found.practices == ("cruise band of 55 to 80 % of rated speed, not below the torque plateau (diesel)",)
        assert found.limit is not None
        # 55 and 80 % of 3400 r/min: 1870 to 2720 r/min
        assert [round(end * RPM) for end in found.limit.value] == [1870, 2720]  # type: ignore[union-attr]

    def test_unknown(self) -> None:
        found = one("gearing.cruise-rpm", {"build.design.cruise_speed": None})
        assert (found.kind, found.unknown) == ("fail", ("build.design.cruise_speed",))  # due at the plan stage


class TestReserveAndClimb:
    def test_reserve_of_a_heavy_vehicle_is_judged_by_less(self) -> None:
        light = one("gearing.cruise-reserve")
        heavy = one("gearing.cruise-reserve", {"vehicle.weight_class": "heavy"})
        assert light.kind == heavy.kind == "pass"
        assert light.practices != heavy.practices

    def test_reserve_boundary(self) -> None:
        # reserve 50 %: drag area such that P_road = 67.26 kW/1.5; solve for C_d with A = 2.8 m²
        force = 340 * TOP * 0.9 / RADIUS / 1.5
        drag_coefficient = (force - 2800 * G * 0.012) / (0.5 * RHO_0 * 2.8 * (80 / 3.6) ** 2)
        edits = {"build.design.road_speed_max": "60 km/h"}
        for factor, kind in ((0.999, "pass"), (1.001, "fail")):
            found = one("gearing.cruise-reserve", edits | {"vehicle.aero.drag_coefficient": drag_coefficient * factor})
            assert found.kind == kind

    @pytest.mark.parametrize(("grade", "kind"), [("64.9 %", "pass"), ("65.1 %", "fail")])
    def test_climb_boundary_is_the_grip(self, grade: str, kind: str) -> None:
        assert one("gearing.gradeability", {"build.design.grade_max": grade}).kind == kind

    def test_altitude_takes_climb_away(self) -> None:
        low = value("gearing.climb", {"build.design.altitude_max": "0 m"}, part="ratios[4]")
        high = value("gearing.climb", {"build.design.altitude_max": "3000 m"}, part="ratios[4]")
        assert high < low

    def test_start_with_trailer_below_twelve_per_cent_is_an_error(self) -> None:
        force = 0.85 * 210 * LOWEST * 0.9 / RADIUS
        heaviest = force / (G * (math.sin(math.atan(0.12)) + 0.05 * math.cos(math.atan(0.12))))
        for factor, kind in ((0.999, "pass"), (1.001, "fail")):
            found = one("gearing.startability", {"vehicle.mass.gcwr": f"{heaviest * factor:.1f} kg"})
            assert found.kind == kind
        assert found.level == "error"


class TestShiftsAndSpeeds:
    def test_one_verdict_for_each_shift(self) -> None:
        findings = trial("gearing.shift-step")
        assert len(findings) == 4
        assert {f.subject for f in findings} == {f"driveline.gearbox.ratios[{n}]" for n in (1, 2, 3, 4)}

    def test_top_two_shifts_are_warnings_the_others_notes(self) -> None:
        edits = {"engine.torque.plateau_low": "3300 r/min"}
        levels = [f.level for f in sorted(trial("gearing.shift-step", edits), key=lambda f: f.part)]
        assert levels == ["note", "note", "warning", "warning"]

    @pytest.mark.parametrize(("plateau", "kind"), [("1905 r/min", "pass"), ("1907 r/min", "fail")])
    def test_shift_boundary(self, plateau: str, kind: str) -> None:
        assert of_part("gearing.shift-step", "ratios[2]", {"engine.torque.plateau_low": plateau}).kind == kind

    def test_crawl_boundary_and_level(self) -> None:
        speed = value("gearing.crawl-speed")
        for factor, kind in ((1.001, "pass"), (0.999, "fail")):
            found = one("gearing.crawl", {"build.design.crawl_speed": f"{speed * factor:.5f} km/h"})
            assert found.kind == kind
        assert found.level == "warning"  # off the road; on it a note
        road = {"build.design.crawl_speed": "1 km/h", "build.duty.terrain": "road"}
        assert one("gearing.crawl", road).level == "note"

    def test_a_limiter_makes_slow_tyres_lawful(self) -> None:
        edits = {"driveline.tyres.speed_symbol": "J"}  # 100 km/h
        assert one("gearing.top-speed", edits).level == "error"
        limited = edits | {"driveline.speed_limiter": {"speed": "100 km/h"}}
        assert one("gearing.top-speed", limited).kind == "pass"

    def test_overspeed_boundary(self) -> None:
        top = value("gearing.top-speed") / 3.6
        needed = 1.05 * top * TOP / RADIUS * RPM
        for factor, kind in ((1.001, "pass"), (0.999, "fail")):
            edits = {"engine.speed.overspeed_max": f"{needed * factor:.3f} r/min"}
            assert one("gearing.engine-overspeed", edits).kind == kind

    def test_speedometer_band(self) -> None:
        # UN R39 at 100 km/h: at most 1.1·100 + 4 = 114 km/h, so V1/V2 from 1.00 to 1.14
        for reading, expected in ((1.0, None), (0.999, "error"), (1.139, None), (1.141, "warning")):
            found = one("gearing.speedometer", {"driveline.speedometer.calibrated_reading": reading})
            assert found.level == expected


class TestExamples:
    def test_tender(self) -> None:
        base = load_rule_base()
        inspection, problems = inspect(base, load_spec("specs/tarnholt-tender.toml", model=base.model))
        assert not problems
        gearing = [f for f in inspection.findings if f.rule.id.startswith("gearing.") and "plausible" not in f.rule.id]
        assert {f.rule.id for f in gearing} == {r.id for _, r in base.rules if r.id.startswith("gearing.")} - {
            "gearing.plausible-value"
        }
        # gears 1-2 and 2-3 step too far for a plateau that starts at 1400 r/min: 2600·3.52/6.40 − 150 = 1280 r/min
        failing = {f.part.split(" ")[0] for f in gearing if f.kind == "fail"}
        assert failing == {"driveline.gearbox.ratios[1]", "driveline.gearbox.ratios[2]"}

    def test_van_starts_on_less_than_a_road_vehicle_should(self) -> None:
        base = load_rule_base()
        inspection, _ = inspect(base, load_spec("specs/skerrivar-van.toml", model=base.model))
        found = next(f for f in inspection.findings if f.rule.id == "gearing.startability")
        # F = 0.85·140·4.10·3.90·0.92/(3.05·0.699/2π) = 5159 N against 2850·9.80665 N, C_r 0.011
        radius = 3.05 * 0.699 / (2 * math.pi)
        force = 0.85 * 140 * 4.10 * 3.90 * 0.92 / radius
        angle = math.asin(force / (2850 * G * math.hypot(1, 0.011))) - math.atan(0.011)
        assert found.found == pytest.approx(math.tan(angle), rel=1e-9)
        assert (found.kind, found.level) == ("fail", "warning")
