"""What is accepted and refused, and what the refusal says."""

import re
import time

import pytest

from swaplint.units import KINDS, UnitError, from_unit, read, read_tolerance, show, to_unit, unit_factor

LBF_FT = 1.3558179483314004  # N m: 0.45359237 x 9.80665 x 0.3048, all exact (NIST SP 811 appendix B)

# Every row of the table in the contract for values and units.
CONTRACT = [
    ("1 1/2 in", "length", 0.0381),
    ("1-1/2 in", "length", 0.0381),
    ("5/16 in", "length", 0.0079375),
    ("4,000 kg", "mass", 4000.0),
    ("350 Nm", "torque", 350.0),
    ("260 lb-ft", "torque", 260 * LBF_FT),
    ("260 lb·ft", "torque", 260 * LBF_FT),
    ("260 ft-lb", "torque", 260 * LBF_FT),
    ("260 lbf ft", "torque", 260 * LBF_FT),
    ("120 PS", "power", 120 * 735.49875),
    ("20 degC", "temperature", 293.15),
    ("20 °C", "temperature", 293.15),
    ("68 degF", "temperature", 293.15),
    ("5 K", "temperature_difference", 5.0),
    ("15 psi", "gauge_pressure", 15 * 6894.757293168361),
    ("1800 r/min", "rotation", 188.49555921538757),
    ("1800 rpm", "rotation", 188.49555921538757),
    ("250 kbit/s", "bit_rate", 250e3),
    ("250 kbps", "bit_rate", 250e3),
    ("27 inHg", "pressure_difference", 27 * 3386.389),
    ("27 in Hg", "pressure_difference", 27 * 3386.389),
    ("22 US gal", "volume", 22 * 3.785411784e-3),
    ("22 imp gal", "volume", 22 * 4.54609e-3),
    ("2/0 AWG", "conductor", 67.43e-6),
    ("10 AWG", "conductor", 5.261e-6),
    ("10 SAE", "conductor", 4.734e-6),  # 9343 circular mils, a cable seller's table
    ("35 mm2", "conductor", 35e-6),
    ("35 mm²", "conductor", 35e-6),
]


@pytest.mark.parametrize(("written", "kind", "si"), CONTRACT)
def test_contract_table(written: str, kind: str, si: float) -> None:
    close = {"pressure_difference": 2e-7, "conductor": 1e-4}.get(kind, 1e-13)
    assert read(written, KINDS[kind]) == pytest.approx(si, rel=close)


@pytest.mark.parametrize(
    ("written", "kind", "says"),
    [
        ("4,5 kg", "mass", "write 4.5"),
        ("1e400 kg", "mass", "too large"),
        ("nan kg", "mass", "no finite number"),
        ("inf kg", "mass", "no finite number"),
        ("-5 kg", "mass", "is negative"),
        ("9**9**9**2 kg", "mass", "calculation"),
    ],
)
def test_contract_refusals(written: str, kind: str, says: str) -> None:
    start = time.process_time()
    with pytest.raises(UnitError, match=re.escape(says)):
        read(written, KINDS[kind])
    assert time.process_time() - start < 0.1


SPELLINGS = [
    # the same value in every spelling of the trade
    ("torque", LBF_FT, ["1 lb ft", "1 lbft", "1 ft lb", "1 ft·lbf", "1 lbf*ft", "1 lb.ft", "1 ft. lb",
                        "1 ft-lbs", "1 LB-FT",
                        "1 ftlb", "1 lbs-ft", "12 in-lb", "12 lbf in", "12 in lb", "12 lb in", "1 foot pound"]),
    ("torque", 1.0, ["1 N m", "1 N·m", "1 N*m", "1 Nm", "1 N-m", "1 N.m", "1 N⋅m", "1 N•m", "1 NM", "1 nm",
                        "0.001 kNm",
                     "100 Ncm", "0.1 daNm", "1Nm", "1\u00a0Nm", "1\u202fN\u00a0m"]),
    ("torque", 9.80665, ["1 kgf m", "1 kgf·m", "1 kgfm", "1 kp m"]),
    ("mass", 4000.0, ["4000 kg", "4,000 kg", "4 t", "4 tonnes", "4e3 kg", "4E+3 kg", "4000kg", "4000 KG",
                        "4000.0 kg",
                      "4000 kilograms", "+4000 kg", "4 T"]),
    ("mass", 0.45359237, ["1 lb", "1 lbs", "1 LB", "1 Lbs", "1 pound", "16 oz", "1 lbm"]),
    ("force", 9.80665, ["1 kgf", "1 kp", "9.80665 N", "0.00980665 kN", "1 KGF"]),
    ("force", 4.4482216152605, ["1 lb", "1 lbs", "1 lbf", "16 oz"]),
    ("length", 0.0254, ["1 in", "1 inch", '1 "', '1"', "1″", "1 in.", "25.4 mm", "1000 thou", "1000 mil",
                        "1 IN"]),
    ("length", 0.3048, ["1 ft", "1 '", "1'", "1′", "1 foot", "1 FT"]),
    ("length", 1e-6, ["1 µm", "1 μm", "1 um", "1 micron"]),
    ("length", 1852.0, ["1 NM", "1 nmi", "1 nautical mile"]),
    ("area", 1e-4, ["1 cm2", "1 cm²", "1 cm^2", "100 mm2", "1 sq cm"]),
    ("conductor", 35e-6, ["35 mm2", "35mm²", "35 mm^2", "35 sq mm", "35 sqmm"]),
    ("volume", 1e-3, ["1 L", "1 l", "1 litre", "1 liter", "1000 cc", "1000 cm3", "1000 cm³", "1000 mL",
                        "1000 ml", "1 dm3"]),
    ("volume", 1.6387064e-5, ["1 cu in", "1 in3", "1 ci", "1 cid", "1 in³"]),
    ("speed", 25.0, ["90 km/h", "90 kph", "90 kmh", "25 m/s", "90 KM/H", "90 km per hour", "25 m·s⁻¹", "25 m s-1"]),
    ("acceleration", 9.80665, ["1 g", "1 G", "9.80665 m/s2", "9.80665 m/s²", "9.80665 m/s/s", "9.80665 m s-2"]),
    ("rotation", 188.495559215388, ["1800 r/min", "1800 rpm", "1800 RPM", "1800 rev/min", "1800 1/min",
                        "1800 min-1",
                                    "1800 min⁻¹", "30 r/s", "1,800 rpm"]),
    ("power", 132e3, ["132 kW", "132 KW", "132000 W"]),
    ("power", 745.699871582270, ["1 hp", "1 bhp", "1 HP", "1 BHP", "550 ft lb/s", "33000 ft·lbf/min"]),
    ("power", 735.49875, ["1 PS", "1 ps", "1 metric hp", "75 kgf m/s"]),
    ("gauge_pressure", 1e5, ["1 bar", "1 bar(g)", "1 barg", "1 bar g", "1 bar gauge", "100 kPa", "100 Kpa",
                        "100 kPa(g)",
                             "1000 mbar", "0.1 MPa", "1 BAR"]),
    ("pressure", 1e5, ["1 bar", "1 bar(a)", "1 bara", "1 bar abs", "1 bar absolute", "1000 hPa", "100 kPa (a)"]),
    ("gauge_pressure", 6894.75729316836, ["1 psi", "1 psig", "1 PSI", "1 lbf/in2", "1 lb/in²", "1 lb/sq in"]),
    ("pressure_difference", 249.08891, ["1 inH2O", "1 in H2O", "1 in WC", "25.4 mmH2O", "25.4 mm H2O", "1 inH2o"]),
    ("pressure_difference", 98066.5, ["1 kgf/cm2", "1 kgf/cm²"]),
    ("stiffness", 175.126835246476, ["1 lb/in", "1 lbf/in", "1 lbs/in"]),
    ("stiffness", 9806.65, ["1 kgf/mm", "9.80665 N/mm", "9.80665 kN/m"]),
    ("rotational_stiffness", 57.2957795130823, ["1 Nm/deg", "1 N m/deg", "1 N·m/°", "57.2957795130823 N m/rad"]),
    ("inertia", 0.15, ["0.15 kg m2", "0.15 kg·m²", "0.15 kg*m^2", "0.15 kgm2", "0.15 kgm²", "0.15 kg-m2",
                        "1500 kg cm2"]),
    ("mass_flow", 0.19, ["0.19 kg/s", "190 g/s", "684 kg/h"]),
    ("volume_flow", 1e-3 / 60, ["1 L/min", "1 l/min", "1 lpm", "1 LPM", "60 L/h", "1 litre per minute", "60 lph"]),
    ("volume_flow", 0.00047194744320, ["1 cfm", "1 cu ft/min", "1 ft3/min", "1 CFM"]),
    ("kinematic_viscosity", 4.5e-6, ["4.5 mm2/s", "4.5 mm²/s", "4.5 cSt", "0.045 St", "4.5 CST"]),
    ("dynamic_viscosity", 3.6e-3, ["3.6 mPa s", "3.6 mPa·s", "3.6 cP", "3.6 mPas", "0.0036 Pa s"]),
    ("heat_transfer_coefficient", 10.0, ["10 W/(m2 K)", "10 W/m2K", "10 W/m²K", "10 W/(m²·K)", "10 W/m2/K",
                        "10 W/m2 °C"]),
    ("thermal_conductivity", 0.04, ["0.04 W/(m K)", "0.04 W/m·K", "0.04 W/m K"]),
    ("specific_heat", 3570.0, ["3.57 kJ/(kg K)", "3570 J/kg K", "3.57 kJ/kg °C"]),
    ("specific_fuel_consumption", 215e-3 / 3.6e6, ["215 g/kWh", "215 g/(kW h)", "215 g/kW·h", "0.215 kg/kWh"]),
    ("distance_consumption", 1.25e-7, ["12.5 L/100 km", "12.5 l/100km", "0.125 L/km", "12.5 L / 100 km"]),
    ("resistance", 0.005, ["5 mohm", "5 mΩ", "5 m\u2126", "5000 µΩ", "0.005 ohm", "5 milliohm"]),
    ("resistance", 120.0, ["120 ohm", "120 Ω", "120 \u2126", "120 ohms", "0.12 kohm"]),
    ("charge", 396000.0, ["110 Ah", "110 A h", "110 A·h", "110000 mAh", "110 AH"]),
    ("bit_rate", 250e3, ["250 kbit/s", "250 kbps", "250 kBd", "0.25 Mbit/s", "250000 bit/s"]),
    ("angle", 0.0610865238198015, ["3.5 deg", "3.5°", "3.5 degrees", "61.0865238198015 mrad"]),
    ("grade", 0.45, ["45 %", "45%", "45 per cent", "45 percent"]),
    ("share", 0.5, ["50 %", "500 ‰"]),
    ("duration", 86400.0, ["1 day", "1 d", "24 h", "24 hr", "1440 min", "86400 s", "86,400 sec"]),
    ("temperature", 293.15, ["20 degC", "20 °C", "20 deg C", "20 ° C", "20 degrees Celsius", "20 DEGC", "68 °F",
                        "68 deg F"]),
    ("thermal_expansion", 1.2e-5, ["1.2e-5 1/K", "1.2e-5 K-1", "1.2e-5 1/degC", "1.2e-5 1 / °C", "0.0012 %/K"]),
    ("capacitance_per_length", 70e-12, ["70 pF/m"]),
    ("resistance_per_length", 0.00055, ["0.55 mohm/m", "0.55 ohm/km", "0.55 mΩ/m", "0.16764 ohm/1000 ft"]),
    ("displacement_per_turn", 12e-6 / 6.283185307179586, ["12 cm3/rev", "12 cc/rev", "12 cm3/r", "12 cc per rev"]),
    ("specific_power", 12.0, ["12 kW/t", "12 W/kg"]),
    ("power_per_temperature", 850.0, ["850 W/K", "0.85 kW/K", "850 W/°C"]),
    ("length", 201.168402336805, ["1 furlong", "10 chains"]),  # not in the table: pint's, in US survey feet
]  # fmt: skip


@pytest.mark.parametrize(
    ("written", "kind", "si"), [(text, kind, si) for kind, si, texts in SPELLINGS for text in texts]
)
def test_spellings_of_the_trade(written: str, kind: str, si: float) -> None:
    assert read(written, KINDS[kind]) == pytest.approx(si, rel=1e-12)


REFUSED = [
    # what is written, where, and what the message must say
    ("12", "mass", "has no unit"),
    ("", "mass", "is empty"),
    ("   ", "mass", "is empty"),
    ("kg", "mass", "does not begin with a number"),
    ("True", "mass", "does not begin with a number"),
    ("- 5 kg", "mass", "does not begin with a number"),
    ("--5 kg", "mass", "does not begin with a number"),
    ("0,500 kg", "mass", "write 0.500"),
    ("12,34 kg", "mass", "write 12.34"),
    ("1.234,5 kg", "mass", "write 1234.5"),
    ("4,5000 kg", "mass", "write 4.5000"),
    ("12,34,567 kg", "mass", "do not part thousands"),
    ("1,234,56 kg", "mass", "do not part thousands"),
    ("5. kg", "mass", "decimal point"),
    ("1.2.3 kg", "mass", "decimal point"),
    ("1e400 kg", "mass", "too large"),
    ("1e99999999999999999999 kg", "mass", "too large"),
    ("1e-400 kg", "mass", "too small"),
    ("1e-200 kg", "mass", "too large or too small"),
    ("-inf kg", "mass", "no finite number"),
    ("NaN kg", "mass", "no finite number"),
    ("infinity kg", "mass", "no finite number"),
    ("5/0 kg", "mass", "divides by zero"),
    ("1 5/4 in", "length", "fraction of one or more"),
    ("1 - 1/2 in", "length", "calculation"),
    ("1/2/3 in", "length", "calculation"),
    ("1.5/2 in", "length", "calculation"),
    ("3-4 kg", "mass", "range"),
    ("2*3 kg", "mass", "calculation"),
    ("2x35 kg", "mass", "calculation"),
    ("(5) kg", "mass", "does not begin with a number"),
    ("1+1 kg", "mass", "calculation"),
    ("5 ft 6 in", "length", "write 66 in"),
    ("5'6\"", "length", "write 66 in"),
    ("5 kg + 3 kg", "mass", "calculation"),
    ("5 m**2", "area", "calculation"),
    ("5 m^9", "area", "no exponent"),
    ("5 kg/", "mass", "no complete unit"),
    ("5 kg/(m", "mass", "where a unit belongs"),
    ("5 W/(m K) s", "thermal_conductivity", "after the bracket"),
    ("5 m m m m m m", "area", "too many parts"),
    ("5 " + "k" * 200, "mass", "characters long"),
    ("9" * 101, "mass", "characters long"),
    ("١٢ kg", "mass", "plain digits"),
    ("１２ kg", "mass", "plain digits"),
    ("10² kg", "mass", "raised digit"),
    ("5 kg⁵", "mass", "plain digits"),
    ("5\u200bkg", "mass", "U+200B"),
    ("5 kg\ufeff", "mass", "U+FEFF"),
    ("5\u202e kg", "mass", "U+202E"),
    ("5\tkg", "mass", "U+0009"),
    ("5 kg\n", "mass", "U+000A"),
    ("5 kg\x1b[31m", "mass", "U+001B"),
    ("5 kg\x00", "mass", "U+0000"),
    ("5 \ud800", "mass", "U+D800"),
    # units
    ("5 m", "mass", "is a length, not a mass"),
    ("5 petasiemens", "mass", "no unit known"),
    ("5 kilgram", "mass", "nearest: kilogram"),
    ("5 MM", "length", "write mm or Mm"),
    ("5 Mm", "length", "write mm"),
    ("5 ML", "volume", "write mL"),
    ("5 MPA", "gauge_pressure", "write mPa or MPa"),
    ("5 Nm", "length", "capitals matter"),
    ("250 Kbps", "bit_rate", "write kbps or kBps"),
    ("20 C", "temperature", "write degC"),
    ("68 F", "temperature", "write degF"),
    ("20 deg", "temperature", "write degC or degF"),
    ("-274 degC", "temperature", "below absolute zero"),
    ("-1 K", "temperature", "below absolute zero"),
    ("5 degC", "temperature_difference", "write 5 K"),
    ("9 degF", "temperature_difference", "write 5 K"),
    ("15 psia", "gauge_pressure", "is an absolute pressure"),
    ("1 bara", "gauge_pressure", "is an absolute pressure"),
    ("1 bar(a)", "gauge_pressure", "is an absolute pressure"),
    ("100 kPa abs", "pressure_difference", "is an absolute pressure"),
    ("15 psig", "pressure", "is a gauge pressure"),
    ("1 bar (g)", "pressure", "is a gauge pressure"),
    ("1 BARG", "pressure", "is a gauge pressure"),
    ("15 psid", "pressure", "is a pressure difference"),
    ("15 psig(a)", "gauge_pressure", "is an absolute pressure"),
    ("2 kg/cm2", "gauge_pressure", "write kgf/cm2"),
    ("1 at", "gauge_pressure", "write kgf/cm2 or atm"),
    ("5 kg", "force", "write N or kgf"),
    ("5 lbf", "mass", "write lb"),
    ("26 kg m", "torque", "write N m or kgf m"),
    ("26 mkg", "torque", "write N m or kgf m"),
    ("350 J", "torque", "is an energy, not a torque"),
    ("350 kW h", "torque", "is an energy, not a torque"),
    ("350 lb ft2", "torque", "not a torque"),
    ("500 Nm", "rotational_stiffness", "is a torque"),
    ("30 Hz", "rotation", "is a frequency"),
    ("1800 rpm", "frequency", "is a speed of rotation"),
    ("5 ton", "mass", "short ton"),
    ("5 tons", "mass", "short ton"),
    ("5 pint", "volume", "US pt or imp pt"),
    ("24 deg", "grade", "write 44.52 %"),
    ("45 %", "angle", "write 24.23 deg"),
    ("0.5", "share", "has no unit"),
    ("28 mpg", "distance_consumption", "write L/100 km"),
    ("5 mm2", "distance_consumption", "is an area"),
    ("2/0 AWG", "mass", "is a conductor size"),
    ("10 AWG", "area", "is a conductor size"),
    ("10.5 AWG", "conductor", "no AWG size"),
    ("5/0 AWG", "conductor", "no AWG size"),
    ("-2 AWG", "conductor", "no AWG size"),
    ("37 AWG", "conductor", "no AWG size"),
    ("3 SAE", "conductor", "no SAE size"),
    ("4 SAE", "mass", "is a conductor size"),
    ("1,0 AWG", "conductor", "write 1.0"),
    ("10 ga", "conductor", "write AWG"),
    ("5 kmol", "mass", "no unit known"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "kind", "says"), REFUSED)
def test_refusals_say_what_to_do(written: str, kind: str, says: str) -> None:
    with pytest.raises(UnitError) as caught:
        read(written, KINDS[kind])
    message = str(caught.value)
    assert says in message
    assert KINDS[kind].words in message
    assert KINDS[kind].example in message
    assert message.isprintable()
    assert len(message) < 400


def test_bytes_are_not_bits() -> None:
    assert read("250 kBps", KINDS["bit_rate"]) == 8 * read("250 kbps", KINDS["bit_rate"])


def test_tonne_is_not_tesla_nor_minute_metre() -> None:
    assert read("5 T", KINDS["mass"]) == 5000.0
    with pytest.raises(UnitError, match="is a length"):
        read("5 m", KINDS["duration"])


@pytest.mark.parametrize("name", sorted(KINDS))
def test_kind_reads_its_own_example_and_units(name: str) -> None:
    kind = KINDS[name]
    assert kind.name == name
    assert read(kind.example, kind) > 0.0
    for unit in kind.units:
        if unit not in ("AWG", "SAE"):
            assert read(f"300 {unit}", kind) > 0.0
            assert to_unit(from_unit(1.5, unit, kind), unit, kind) == pytest.approx(1.5, rel=1e-13)
    if kind.si != "1":
        assert unit_factor(kind.si, kind) == 1.0
    assert kind.words.startswith(("a ", "an "))


@pytest.mark.parametrize(
    ("written", "kind", "si"),
    [
        ("-5 deg", "angle", -0.0872664625997165),
        ("−5 deg", "angle", -0.0872664625997165),
        ("-12 %", "grade", -0.12),
        ("-0.6 bar", "gauge_pressure", -6e4),
        ("-20 degC", "temperature", 253.15),
        ("-1 1/2 g", "acceleration", -14.709975),
    ],
)
def test_negative_where_it_means_something(written: str, kind: str, si: float) -> None:
    assert read(written, KINDS[kind]) == pytest.approx(si, rel=1e-12)


def test_sign_is_the_fields_to_decide() -> None:
    assert read("-550 mm", KINDS["length"], signed=True) == -0.55
    with pytest.raises(UnitError, match="is negative"):
        read("-550 mm", KINDS["length"])
    with pytest.raises(UnitError, match="is negative"):
        read("-5 deg", KINDS["angle"], signed=False)


def test_zero_has_no_sign() -> None:
    for written in ("0 kg", "-0 kg", "−0.0 kg", "0e5 kg"):
        assert str(read(written, KINDS["mass"])) == "0.0"


def test_no_noise_from_conversion() -> None:
    for value in range(1, 2000):
        assert read(f"{value} mm", KINDS["length"]) == value / 1000


# -- tolerances --


@pytest.mark.parametrize(
    ("written", "kind", "value", "width"),
    [
        ("3 %", "mass", 1810.0, 54.3),
        ("3%", "mass", 1810.0, 54.3),
        ("±3 %", "mass", 1810.0, 54.3),
        ("± 50 kg", "mass", 1810.0, 50.0),
        ("3 per cent", "mass", 1810.0, 54.3),
        ("10 %", "angle", -0.5, 0.05),
        ("50 kg", "mass", 1810.0, 50.0),
        ("1/2 in", "length", 1.0, 0.0127),
        ("5 K", "temperature", 293.15, 5.0),
        ("0 %", "mass", 1810.0, 0.0),
        ("1 psi", "gauge_pressure", 1e5, 6894.75729316836),
        ("1 psi", "pressure", 1e5, 6894.75729316836),
        ("10 %", "share", 0.5, 0.05),
        ("2 pp", "share", 0.5, 0.02),
        ("2 percentage points", "grade", 0.18, 0.02),
        ("2 mm2", "conductor", 35e-6, 2e-6),
        ("100 %", "mass", 10.0, 10.0),
    ],
)
def test_tolerance(written: str, kind: str, value: float, width: float) -> None:
    assert read_tolerance(written, KINDS[kind], value) == pytest.approx(width, rel=1e-12)


@pytest.mark.parametrize(
    ("written", "kind", "says"),
    [
        ("3 %", "temperature", "no natural zero"),
        ("5 degC", "temperature", "write 5 K"),
        ("-3 %", "mass", "negative"),
        ("-50 kg", "mass", "negative"),
        ("101 %", "mass", "more than the whole"),
        ("3", "mass", "has no unit"),
        ("5 m", "mass", "is a length"),
        ("1 psig", "gauge_pressure", "is a gauge pressure"),
        ("2 AWG", "conductor", "no width"),
        ("nan %", "mass", "no finite number"),
        ("1e400 %", "mass", "too large"),
    ],
)
def test_tolerance_refusals(written: str, kind: str, says: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_tolerance(written, KINDS[kind], 1.0)
    assert says in str(caught.value)
    assert f"a tolerance of {KINDS[kind].words}" in str(caught.value)


# -- output --


@pytest.mark.parametrize(
    ("si", "unit", "kind", "shown"),
    [
        (1810.0, "kg", "mass", "1810 kg"),
        (14500.4, "N", "force", "14 500 N"),
        (9999.7, "N", "force", "10 000 N"),
        (1234567.0, "Pa", "pressure", "1 234 567 Pa"),
        (0.0381, "mm", "length", "38.1 mm"),
        (-0.55, "mm", "length", "-550 mm"),
        (293.15, "degC", "temperature", "20 °C"),
        (273.15, "degF", "temperature", "32 °F"),
        (0.45, "%", "grade", "45 %"),
        (5.4, "m2", "area", "5.4 m²"),
        (0.0001234, "m", "length", "0.0001234 m"),
        (1e-9, "m", "length", "1.000e-09 m"),
        (0.0, "kg", "mass", "0 kg"),
        (2.0 / 3.0, "kg", "mass", "0.6667 kg"),
        (999.96, "kg", "mass", "1000 kg"),
        (249.08891, "inH2O", "pressure_difference", "1 inH2O"),
        (35e-6, "mm2", "conductor", "35 mm²"),
        (130e-3 / 3600, "L/h", "volume_flow", "130 L/h"),
    ],
)
def test_show(si: float, unit: str, kind: str, shown: str) -> None:
    assert show(si, unit, KINDS[kind]) == shown


def test_show_names_awg_sizes() -> None:
    conductor = KINDS["conductor"]
    assert show(read("2/0 AWG", conductor), "mm2", conductor) == "67.43 mm² (2/0 AWG)"
    assert show(read("67.43 mm2", conductor), "mm2", conductor) == "67.43 mm²"
    assert show(1.0, "kg", KINDS["mass"], digits=1) == "1 kg"
    assert read("00 AWG", conductor) == read("2/0 AWG", conductor)


@pytest.mark.parametrize(
    ("unit", "kind"), [("degC", "temperature_difference"), ("m", "mass"), ("AWG", "conductor"), ("", "mass")]
)
def test_output_units_are_checked(unit: str, kind: str) -> None:
    for use in (to_unit, from_unit):
        with pytest.raises(UnitError):
            use(1.0, unit, KINDS[kind])
    with pytest.raises(UnitError):
        unit_factor(unit, KINDS[kind])
