"""What values are worth, against published factors.

SP811 is NIST Special Publication 811 (2008), appendix B.8, whose factors have seven significant digits unless exact;
SI is the SI brochure, 9th edition. Digits are written as they are printed there.
"""

import math

import pytest

from swaplint.units import KINDS, read, unit_factor

EXACT = 1e-14
PRINTED = 5e-7  # half a unit in the seventh digit, whatever the first digit is

FACTORS = [
    # kind, unit, SI, how close, source
    ("length", "in", 0.0254, EXACT, "SP811: inch, exact"),
    ("length", "ft", 0.3048, EXACT, "SP811: foot, exact"),
    ("length", "yd", 0.9144, EXACT, "SP811: yard, exact"),
    ("length", "mi", 1609.344, EXACT, "SP811: mile, exact"),
    ("length", "thou", 2.54e-5, EXACT, "SP811: mil (0.001 in), exact"),
    ("length", "nmi", 1852.0, EXACT, "SP811: mile, nautical, exact"),
    ("length", "micron", 1e-6, EXACT, "SP811: micron, exact"),
    ("area", "in2", 6.4516e-4, EXACT, "SP811: square inch, exact"),
    ("area", "sq ft", 9.290304e-2, EXACT, "SP811: square foot, exact"),
    ("volume", "L", 1e-3, EXACT, "SI: litre"),
    ("volume", "cu in", 1.6387064e-5, EXACT, "SP811: cubic inch, exact (16.387064 cm3)"),
    ("volume", "cu ft", 2.831685e-2, PRINTED, "SP811: cubic foot"),
    ("volume", "US gal", 3.785412e-3, PRINTED, "SP811: gallon (U.S.)"),
    ("volume", "US gal", 3.785411784e-3, EXACT, "231 cubic inches, exact: NIST Handbook 44, appendix C"),
    ("volume", "imp gal", 4.54609e-3, EXACT, "SP811: gallon [Canadian and U.K. (Imperial)], exact"),
    ("volume", "US qt", 9.463529e-4, PRINTED, "SP811: quart (U.S. liquid)"),
    ("volume", "US pt", 4.731765e-4, PRINTED, "SP811: pint (U.S. liquid)"),
    ("volume", "US fl oz", 2.957353e-5, PRINTED, "SP811: fluid ounce (U.S.)"),
    ("volume", "imp fl oz", 2.841306e-5, PRINTED, "SP811: ounce [Canadian and U.K. fluid (Imperial)]"),
    ("mass", "lb", 0.45359237, EXACT, "SP811: pound (avoirdupois), exact, footnote 22"),
    ("mass", "oz", 2.834952e-2, PRINTED, "SP811: ounce (avoirdupois)"),
    ("mass", "slug", 14.59390, PRINTED, "SP811: slug"),
    ("mass", "short ton", 907.1847, PRINTED, "SP811: ton, short"),
    ("mass", "long ton", 1016.047, PRINTED, "SP811: ton, long"),
    ("mass", "t", 1000.0, EXACT, "SI: tonne"),
    ("force", "lbf", 4.448222, PRINTED, "SP811: pound-force"),
    ("force", "lb", 4.4482216152605, EXACT, "SP811: pound-force, exact, footnote"),
    ("force", "ozf", 0.2780139, PRINTED, "SP811: ounce (avoirdupois)-force"),
    ("force", "kgf", 9.80665, EXACT, "SP811: kilogram-force, exact"),
    ("torque", "lbf ft", 1.355818, PRINTED, "SP811: pound-force foot"),
    ("torque", "lb in", 0.1129848, PRINTED, "SP811: pound-force inch"),
    ("torque", "ozf in", 7.061552e-3, PRINTED, "SP811: ounce-force inch"),
    ("torque", "kgf m", 9.80665, EXACT, "SP811: kilogram-force meter, exact"),
    ("stiffness", "lbf/in", 175.1268, PRINTED, "SP811: pound-force per inch"),
    ("stiffness", "lbf/ft", 14.59390, PRINTED, "SP811: pound-force per foot"),
    ("power", "PS", 735.4988, PRINTED, "SP811: horsepower (metric)"),
    ("power", "hp", 745.6999, PRINTED, "SP811: horsepower (550 ft lbf/s)"),
    ("power", "Btu/h", 0.2930711, 3e-6, "SP811: Btu_IT per hour; pint's Btu is ISO's, rounded"),
    ("power", "kcal/h", 1.163, EXACT, "4.1868 J/cal (SP811: calorie_IT, exact) x 1000/3600"),
    ("energy", "ft lbf", 1.355818, PRINTED, "SP811: foot pound-force"),
    ("energy", "Btu", 1055.056, PRINTED, "SP811: Btu_IT"),
    ("energy", "kcal", 4186.8, EXACT, "SP811: kilocalorie_IT, exact"),
    ("energy", "kWh", 3.6e6, EXACT, "SP811: kilowatt hour, exact"),
    ("pressure", "psi", 6894.757, PRINTED, "SP811: pound-force per square inch"),
    ("pressure_difference", "inHg", 3386.389, PRINTED, "SP811: inch of mercury, conventional"),
    ("pressure_difference", "mmHg", 133.3224, PRINTED, "SP811: millimeter of mercury, conventional"),
    ("pressure_difference", "inH2O", 249.0889, PRINTED, "SP811: inch of water, conventional"),
    ("pressure_difference", "ftH2O", 2989.067, PRINTED, "SP811: foot of water, conventional"),
    ("pressure_difference", "mmH2O", 9.80665, EXACT, "SP811: millimeter of water, conventional, exact"),
    ("pressure_difference", "kgf/cm2", 98066.5, EXACT, "SP811: kilogram-force per square centimeter, exact"),
    ("pressure_difference", "torr", 133.3224, PRINTED, "SP811: torr"),
    ("pressure", "atm", 101325.0, EXACT, "SP811: atmosphere, standard, exact"),
    ("pressure", "bar", 1e5, EXACT, "SI: bar"),
    ("stress", "ksi", 6.894757e6, PRINTED, "SP811: kip per square inch"),
    ("speed", "mph", 0.44704, EXACT, "SP811: mile per hour, exact"),
    ("speed", "km/h", 0.2777778, PRINTED, "SP811: kilometer per hour"),
    ("speed", "knot", 0.5144444, PRINTED, "SP811: knot"),
    ("speed", "ft/min", 5.08e-3, EXACT, "SP811: foot per minute, exact"),
    ("acceleration", "g", 9.80665, EXACT, "SI: standard acceleration of free fall, exact"),
    ("rotation", "rpm", 0.1047198, PRINTED, "SP811: revolution per minute"),
    ("angle", "deg", 1.745329e-2, PRINTED, "SP811: degree"),
    ("volume_flow", "cfm", 4.719474e-4, PRINTED, "SP811: cubic foot per minute"),
    ("volume_flow", "US gpm", 6.309020e-5, PRINTED, "SP811: gallon (U.S.) per minute"),
    ("volume_flow", "US gph", 1.051503e-6, PRINTED, "SP811: gallon (U.S.) per hour"),
    ("mass_flow", "lb/h", 1.259979e-4, PRINTED, "SP811: pound per hour"),
    ("mass_flow", "lb/min", 7.559873e-3, PRINTED, "SP811: pound per minute"),
    ("density", "lb/ft3", 16.01846, PRINTED, "SP811: pound per cubic foot"),
    ("density", "lb/US gal", 119.8264, PRINTED, "SP811: pound per gallon (U.S.)"),
    ("mass_per_length", "lb/ft", 1.488164, PRINTED, "SP811: pound per foot"),
    ("inertia", "lb ft2", 4.214011e-2, PRINTED, "SP811: pound foot squared"),
    ("kinematic_viscosity", "cSt", 1e-6, EXACT, "SP811: centistokes, exact"),
    ("dynamic_viscosity", "cP", 1e-3, EXACT, "SP811: centipoise, exact"),
    ("specific_energy", "Btu/lb", 2326.0, 1e-6, "SP811: Btu_IT per pound, exact for Btu_IT"),
    ("specific_heat", "Btu/(lb degF)", 4186.8, 1e-6, "SP811: Btu_IT per pound degree Fahrenheit, exact for Btu_IT"),
    ("heat_transfer_coefficient", "Btu/(h ft2 degF)", 5.678263, PRINTED, "SP811: Btu_IT/(h ft2 degF)"),
    ("thermal_conductivity", "Btu/(h ft degF)", 1.730735, PRINTED, "SP811: Btu_IT foot per hour square foot degF"),
    ("specific_fuel_consumption", "lb/(hp h)", 1.689659e-7, PRINTED, "SP811: pound per horsepower hour"),
    ("conductor", "cmil", 5.067075e-10, PRINTED, "SP811: circular mil"),
    ("charge", "A h", 3600.0, EXACT, "SP811: ampere hour, exact"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "unit", "si", "close", "source"), FACTORS, ids=lambda value: str(value))
def test_published_factor(kind: str, unit: str, si: float, close: float, source: str) -> None:
    assert unit_factor(unit, KINDS[kind]) == pytest.approx(si, rel=close), source
    assert read(f"1 {unit}", KINDS[kind]) == pytest.approx(si, rel=close), source


@pytest.mark.parametrize(
    ("written", "mm2", "source"),
    [
        # ASTM B258: d = 0.127 mm x 92^((36-n)/39), A = pi/4 d2; worked by hand from the formula, and areas in circular
        # mils as printed in the National Electrical Code, chapter 9, table 8 (from memory), 1 cmil = 5.067075e-10 m2
        ("4/0 AWG", 211600 * 5.067075e-4, "NEC chapter 9 table 8: 211 600 cmil"),
        ("2/0 AWG", 133100 * 5.067075e-4, "NEC chapter 9 table 8: 133 100 cmil"),
        ("1/0 AWG", 105600 * 5.067075e-4, "NEC chapter 9 table 8: 105 600 cmil"),
        ("1 AWG", 83690 * 5.067075e-4, "NEC chapter 9 table 8: 83 690 cmil"),
        ("4 AWG", 41740 * 5.067075e-4, "NEC chapter 9 table 8: 41 740 cmil"),
        ("10 AWG", 10380 * 5.067075e-4, "NEC chapter 9 table 8: 10 380 cmil"),
        ("14 AWG", 4110 * 5.067075e-4, "NEC chapter 9 table 8: 4110 cmil"),
        ("18 AWG", 1620 * 5.067075e-4, "NEC chapter 9 table 8: 1620 cmil"),
    ],
)
def test_awg_areas(written: str, mm2: float, source: str) -> None:
    assert read(written, KINDS["conductor"]) * 1e6 == pytest.approx(mm2, rel=3e-3), source


def test_awg_fixed_points() -> None:
    """ASTM B258 fixes the diameters of 4/0 (0.4600 in) and 36 (0.0050 in)."""
    for written, inch in (("4/0 AWG", 0.46), ("36 AWG", 0.005)):
        diameter = math.sqrt(4.0 / math.pi * read(written, KINDS["conductor"]))
        assert diameter / 0.0254 == pytest.approx(inch, rel=1e-9)


def test_awg_diameters_of_a_reference_library() -> None:
    fluids = pytest.importorskip("fluids")
    half_a_step = 0.5e-4 * 0.0254  # its table is ASTM B258's, rounded to 0.0001 in for the thinner sizes
    for size in (1, 4, 10, 18, 30):
        diameter = math.sqrt(4.0 / math.pi * read(f"{size} AWG", KINDS["conductor"]))
        assert diameter == pytest.approx(fluids.t_from_gauge(size, SI=True, schedule="AWG"), abs=half_a_step)


@pytest.mark.parametrize(
    ("written", "kelvin"),
    [
        ("0 degC", 273.15),  # SI brochure 2.3.1: t/degC = T/K - 273.15
        ("20 °C", 293.15),
        ("68 degF", 293.15),  # SP811 B.8: T/K = (t/degF + 459.67)/1.8
        ("32 °F", 273.15),
        ("-40 degF", 233.15),
        ("-40 degC", 233.15),
        ("-459.67 degF", 0.0),
        ("-273.15 degC", 0.0),
        ("300 K", 300.0),
    ],
)
def test_temperatures(written: str, kelvin: float) -> None:
    assert read(written, KINDS["temperature"]) == pytest.approx(kelvin, abs=1e-9)
