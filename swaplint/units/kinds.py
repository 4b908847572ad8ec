"""The kinds of value that a build spec holds: what each is measured in and how it is written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from swaplint.units.table import Dimension


@dataclass(frozen=True, eq=False)
class Kind:
    """One kind of dimensional value, such as a mass or a gauge pressure.

    `words` is what a message calls it ("a mass"), `si` the unit of the float that `read` returns, `units`
    the units that the trade mostly uses for it (the first is the one to show by default), `example` a value
    as one writes it. `signed` says whether a negative value has a meaning unless the field says otherwise.
    """

    name: str
    words: str
    si: str
    dimension: Dimension
    units: tuple[str, ...]
    example: str
    signed: bool = False
    origin: str = ""
    """For pressures: "absolute", "gauge" or "difference"; empty for everything else."""
    step: str = ""
    """The kind of a difference between two values of this kind, where that is another kind."""
    refused: frozenset[str] = frozenset()
    """Units of the right dimension that nevertheless measure something else."""
    same_as: Mapping[str, str] = field(default_factory=dict)
    """Whole units that mean another unit in this kind only."""
    hints: Mapping[str, str] = field(default_factory=dict)
    """What to say about a unit (in lower case) that is often written here by mistake."""
    asks: Mapping[str, str] = field(default_factory=dict)
    """What to ask about a unit that, with these very capitals, may mean two things."""
    levels: frozenset[str] = frozenset()
    """For a level, which is no multiple of another unit: how its own is spelled, in lower case without spaces."""

    @property
    def takes(self) -> str:
        """What a field of this kind takes, in words.

        >>> KINDS["mass"].takes
        'a mass in kg, g, t, lb or oz'
        """
        *most, last = self.units
        return f"{self.words} in {', '.join(most)} or {last}" if most else f"{self.words} in {last}"


def _dim(kg: int = 0, m: int = 0, s: int = 0, a: int = 0, k: int = 0, rad: int = 0, bit: int = 0) -> Dimension:
    return (kg, m, s, a, k, rad, bit)


_PRESSURE = _dim(kg=1, m=-1, s=-2)
_ENERGY = _dim(kg=1, m=2, s=-2)
_POWER = _dim(kg=1, m=2, s=-3)
_AREA = _dim(m=2)

# fmt: off
_WORK_UNITS = frozenset([
    "J", "mJ", "kJ", "MJ", "GJ", "joule", "joules", "kilojoule", "kilojoules", "megajoule", "megajoules",
    "Wh", "mWh", "kWh", "MWh", "W", "kW", "MW", "Btu", "kcal", "hp", "PS",
])
_AREA_UNITS = frozenset([
    "µm2", "mm2", "cm2", "dm2", "m2", "km2", "in2", "inch2", "ft2", "yd2", "mi2", "thou2", "mil2",
    "sq mm", "sqmm", "sq cm", "sq m", "sq in", "sq ft", "cmil", "kcmil", "MCM",
])
# fmt: on
_PRESSURE_HINTS = {
    "kg/cm2": "is in kg/cm2, a mass on an area (write kgf/cm2)",
    "kg/cm^2": "is in kg/cm2, a mass on an area (write kgf/cm2)",
    "at": "is in at, which may be the technical or the standard atmosphere (write kgf/cm2 or atm)",
    "atu": "is in technical atmospheres above the outside air (write kgf/cm2)",
    "atü": "is in technical atmospheres above the outside air (write kgf/cm2)",
    "hg": "is a column of mercury of no named unit (write inHg or mmHg)",
}
_BARE_DEGREES = {
    "c": "is in C, which is the coulomb (write degC)",
    "f": "is in F, which is the farad (write degF)",
    "deg": "is in degrees of no scale (write degC or degF)",
    "°": "is in degrees of no scale (write degC or degF)",
}
_OLD_MASSES = {
    "stone": "is in stone, in which no workshop weighs (write kg or lb)",
    "stones": "is in stone, in which no workshop weighs (write kg or lb)",
    "cwt": "is in cwt, which is 112 lb in one country and 100 lb in another (write kg or lb)",
    "mt": "is in mt, which may be metric tons (write t)",
}
_APPARENT = dict.fromkeys(
    ("va", "kva", "v a", "v·a", "v*a", "mva"),
    "is in volt-amperes, which with alternating current are more than the watts (write the power in W or kW)",
)
_HORSES = dict.fromkeys(
    ("cv", "ch", "pk", "hk"),
    "is in the metric horsepower of another language, which may be a tax class too (write PS, or kW)",
)
_COLUMNS = (
    dict.fromkeys(("mmwg", "mm wg", "mmwc", "mm wc", "mmws", "mm ws", "mm of water"), "mmH2O")
    | dict.fromkeys(
        ("inwg", "in wg", '"wg', '" wg', '"wc', '" wc', '"h2o', '" h2o', "in of water", "inches of water"), "inH2O"
    )
    | dict.fromkeys(('"hg', '" hg', "in of mercury", "inches of mercury"), "inHg")
)
"""How else people write the height of a column of water or mercury."""
_BITS_OR_BYTES = {
    f"{prefix}{unit}": f"is in {prefix}{unit}, which may be bits or bytes (write {si}bit/s or {si}B/s)"
    for prefix, si in (("", ""), ("k", "k"), ("K", "k"), ("M", "M"))
    for unit in ("b/s", "bs", "b/sec")
}
_TON = dict.fromkeys(("ton", "tons"), "is in tons, which may be metric, short or long (write t, short ton or long ton)")
_MPG = dict.fromkeys(("mpg", "mi/gal"), "is in miles to the gallon, which counts the other way round (write L/100 km)")
_SHARES = frozenset(["%", "‰", "per cent", "percent", "percentage point", "percentage points", "pp", "ppm"])
_DB_A = frozenset(["db(a)", "dba", "db-a", "dba-weighted", "db(a)-weighted"])
_OTHER_SOUND = dict.fromkeys(
    ("db(c)", "db (c)", "dbc", "db(b)", "dbb", "db(z)", "dbz", "db(lin)", "dblin"),
    "is weighted otherwise than A, and cannot be reckoned into dB(A) (measure it with the meter set to A)",
) | dict.fromkeys(("phon", "sone", "sones"), "is a loudness, which no meter of a test reads (write dB(A))")
_GAUGE_SIZE = dict.fromkeys(
    ("ga", "gauge", "swg"),
    "is a gauge number of no named series (write AWG, or SAE for vehicle cable, or mm2)",
)


def _kinds() -> list[Kind]:
    return [
        # mechanics
        Kind(
            "mass",
            "a mass",
            "kg",
            _dim(kg=1),
            ("kg", "g", "t", "lb", "oz"),
            "1810 kg",
            same_as={"kgs": "kg"},
            hints=_TON | _OLD_MASSES | {"lbf": "is in lbf, a force (write lb)", "kgf": "is in kgf, a force (write kg)"},
        ),
        Kind(
            "length",
            "a length",
            "m",
            _dim(m=1),
            ("mm", "cm", "m", "in", "ft"),
            "1 1/2 in",
            same_as={"mtr": "m", "mtrs": "m"},
        ),
        Kind("area", "an area", "m2", _AREA, ("mm2", "cm2", "m2", "in2", "ft2"), "2.2 m2"),
        Kind(
            "volume",
            "a volume",
            "m3",
            _dim(m=3),
            ("L", "mL", "cc", "m3", "US gal", "imp gal", "cu in"),
            "60 L",
            same_as={"ltr": "L", "ltrs": "L", "cu. in.": "cu in", "cu.in.": "cu in"},
            hints={"oz": "is in oz, a mass (write US fl oz or imp fl oz)"},
        ),
        Kind(
            "second_moment_of_area",
            "a second moment of area",
            "m4",
            _dim(m=4),
            ("mm4", "cm4", "in4"),
            "85 cm4",
        ),
        Kind("time", "a time", "s", _dim(s=1), ("s", "ms", "min", "h", "days"), "45 s"),
        Kind("duration", "a duration", "s", _dim(s=1), ("s", "min", "h", "days", "weeks"), "6 weeks"),
        Kind(
            "speed",
            "a speed",
            "m/s",
            _dim(m=1, s=-1),
            ("km/h", "m/s", "mph"),
            "90 km/h",
            same_as={"kmph": "km/h", "kmhr": "km/h"},
        ),
        Kind(
            "acceleration",
            "an acceleration",
            "m/s2",
            _dim(m=1, s=-2),
            ("m/s2", "g", "ft/s2"),
            "2.44 m/s2",
            signed=True,
        ),
        Kind(
            "rotation",
            "a speed of rotation",
            "rad/s",
            _dim(s=-1, rad=1),
            ("r/min", "rpm", "rad/s"),
            "1800 r/min",
            same_as=dict.fromkeys(
                ("1/min", "min-1", "min^-1", "u/min", "upm", "tr/min", "t/min", "r.p.m.", "r.p.m"), "r/min"
            ),
        ),
        Kind(
            "angular_acceleration",
            "an angular acceleration",
            "rad/s2",
            _dim(s=-2, rad=1),
            ("rad/s2",),
            "300 rad/s2",
            signed=True,
        ),
        Kind("angle", "an angle", "rad", _dim(rad=1), ("deg", "°", "rad"), "3.5 deg", signed=True),
        Kind("share", "a share of a whole", "1", _dim(), ("%",), "50 %", refused=frozenset({"pp"})),
        Kind("grade", "a grade", "1", _dim(), ("%",), "18 %", signed=True, refused=frozenset({"pp"})),
        Kind(
            "sound_level",
            "a sound level",
            "dB(A)",
            _dim(),
            ("dB(A)",),
            "84 dB(A)",
            step="sound_difference",
            refused=_SHARES,
            hints=_OTHER_SOUND | {"db": "is in dB of no named weighting (write dB(A), if the meter was set to A)"},
            levels=_DB_A,
        ),
        Kind(
            "sound_difference",
            "a difference of sound levels",
            "dB",
            _dim(),
            ("dB", "dB(A)"),
            "5 dB",
            signed=True,
            refused=_SHARES,
            hints=_OTHER_SOUND,
            levels=_DB_A | {"db"},
        ),
        Kind(
            "force",
            "a force",
            "N",
            _dim(kg=1, m=1, s=-2),
            ("N", "kN", "kgf", "lbf", "lb"),
            "14500 N",
            hints=dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), "is in kg, a mass (write N or kgf)"),
        ),
        Kind(
            "torque",
            "a torque",
            "N m",
            _ENERGY,
            ("N m", "kN m", "kgf m", "lb ft", "lb in"),
            "350 N m",
            refused=_WORK_UNITS,
            hints=dict.fromkeys(
                ("kg m", "kg*m", "kg·m", "kg-m", "kg.m", "kgm", "mkg", "m kg", "kg cm"),
                "is a mass times a length (write N m or kgf m)",
            ),
        ),
        Kind("energy", "an energy", "J", _ENERGY, ("J", "kJ", "kWh", "ft lb", "Btu", "kcal"), "85 kJ"),
        Kind(
            "power",
            "a power",
            "W",
            _POWER,
            ("kW", "W", "PS", "hp", "Btu/h"),
            "132 kW",
            hints=_APPARENT | _HORSES,
        ),
        Kind(
            "specific_power",
            "a power for each mass",
            "W/kg",
            _dim(m=2, s=-3),
            ("kW/t", "W/kg", "PS/t", "hp/lb"),
            "12 kW/t",
        ),
        Kind(
            "stiffness",
            "a stiffness",
            "N/m",
            _dim(kg=1, s=-2),
            ("N/mm", "kN/m", "kgf/mm", "lb/in"),
            "165 N/mm",
            hints={"kg/mm": "is in kg/mm, a mass on a length (write N/mm or kgf/mm)"},
        ),
        Kind(
            "rotational_stiffness",
            "a rotational stiffness",
            "N m/rad",
            _dim(kg=1, m=2, s=-2, rad=-1),
            ("N m/deg", "N m/rad", "kN m/rad", "lb ft/deg"),
            "420 N m/deg",
        ),
        Kind("damping", "a damping coefficient", "N s/m", _dim(kg=1, s=-1), ("N s/m", "N s/mm"), "1500 N s/m"),
        Kind(
            "inertia",
            "a moment of inertia",
            "kg m2",
            _dim(kg=1, m=2),
            ("kg m2", "kg cm2", "lb in2", "lb ft2"),
            "0.15 kg m2",
        ),
        Kind(
            "mass_per_length",
            "a mass for each length",
            "kg/m",
            _dim(kg=1, m=-1),
            ("kg/m", "g/m", "lb/ft"),
            "4.2 kg/m",
        ),
        Kind(
            "distance_consumption",
            "a fuel consumption over distance",
            "m3/m",
            _AREA,
            ("L/100 km", "L/km"),
            "12.5 L/100 km",
            refused=_AREA_UNITS,
            hints=_MPG,
        ),
        Kind(
            "displacement_per_turn",
            "a displacement for each turn",
            "m3/rad",
            _dim(m=3, rad=-1),
            ("cm3/rev", "cc/rev", "L/rev", "in3/rev"),
            "12 cm3/rev",
        ),
        # pressure
        Kind(
            "pressure",
            "an absolute pressure",
            "Pa",
            _PRESSURE,
            ("kPa", "bar", "psia", "mbar", "inHg"),
            "101.3 kPa",
            origin="absolute",
            step="pressure_difference",
            same_as=_COLUMNS,
            hints=_PRESSURE_HINTS,
        ),
        Kind(
            "gauge_pressure",
            "a gauge pressure",
            "Pa",
            _PRESSURE,
            ("kPa", "bar", "psi", "mbar", "inHg"),
            "15 psi",
            signed=True,
            origin="gauge",
            step="pressure_difference",
            same_as=_COLUMNS,
            hints=_PRESSURE_HINTS,
        ),
        Kind(
            "pressure_difference",
            "a pressure difference",
            "Pa",
            _PRESSURE,
            ("kPa", "mbar", "psi", "inHg", "inH2O"),
            "3.5 kPa",
            origin="difference",
            same_as=_COLUMNS,
            hints=_PRESSURE_HINTS,
        ),
        Kind(
            "pressure_gradient",
            "a pressure difference for each length",
            "Pa/m",
            _dim(kg=1, m=-2, s=-2),
            ("kPa/m", "Pa/m", "psi/ft"),
            "3 kPa/m",
        ),
        Kind(
            "stress",
            "a stress",
            "Pa",
            _PRESSURE,
            ("MPa", "N/mm2", "GPa", "psi", "ksi"),
            "355 MPa",
            hints=_PRESSURE_HINTS,
        ),
        # heat
        Kind(
            "temperature",
            "a temperature",
            "K",
            _dim(k=1),
            ("degC", "degF", "K"),
            "20 degC",
            step="temperature_difference",
            hints=_BARE_DEGREES,
        ),
        Kind(
            "temperature_difference",
            "a temperature difference",
            "K",
            _dim(k=1),
            ("K",),
            "25 K",
            hints=_BARE_DEGREES,
        ),
        Kind(
            "power_per_temperature",
            "a power for each kelvin",
            "W/K",
            _dim(kg=1, m=2, s=-3, k=-1),
            ("W/K", "kW/K", "Btu/(h degF)"),
            "850 W/K",
        ),
        Kind(
            "heat_transfer_coefficient",
            "a heat transfer coefficient",
            "W/(m2 K)",
            _dim(kg=1, s=-3, k=-1),
            ("W/(m2 K)", "kW/(m2 K)", "Btu/(h ft2 degF)"),
            "10 W/(m2 K)",
        ),
        Kind(
            "thermal_conductivity",
            "a thermal conductivity",
            "W/(m K)",
            _dim(kg=1, m=1, s=-3, k=-1),
            ("W/(m K)", "Btu/(h ft degF)"),
            "0.04 W/(m K)",
        ),
        Kind(
            "specific_heat",
            "a specific heat capacity",
            "J/(kg K)",
            _dim(m=2, s=-2, k=-1),
            ("kJ/(kg K)", "J/(kg K)", "Btu/(lb degF)"),
            "3.57 kJ/(kg K)",
        ),
        Kind(
            "specific_energy",
            "an energy for each mass",
            "J/kg",
            _dim(m=2, s=-2),
            ("MJ/kg", "kJ/kg", "kWh/kg", "Btu/lb"),
            "42.7 MJ/kg",
        ),
        Kind(
            "thermal_expansion",
            "a coefficient of thermal expansion",
            "1/K",
            _dim(k=-1),
            ("1/K", "%/K"),
            "1.2e-5 1/K",
        ),
        # flow
        Kind(
            "mass_flow",
            "a mass flow",
            "kg/s",
            _dim(kg=1, s=-1),
            ("kg/s", "g/s", "kg/h", "lb/min", "lb/h"),
            "0.19 kg/s",
        ),
        Kind(
            "volume_flow",
            "a volume flow",
            "m3/s",
            _dim(m=3, s=-1),
            ("L/min", "L/h", "m3/h", "cfm", "US gpm", "US gph"),
            "130 L/h",
        ),
        Kind(
            "density",
            "a density",
            "kg/m3",
            _dim(kg=1, m=-3),
            ("kg/m3", "kg/L", "g/cm3", "lb/ft3"),
            "835 kg/m3",
        ),
        Kind(
            "kinematic_viscosity",
            "a kinematic viscosity",
            "m2/s",
            _dim(m=2, s=-1),
            ("mm2/s", "cSt"),
            "4.5 mm2/s",
        ),
        Kind(
            "dynamic_viscosity",
            "a dynamic viscosity",
            "Pa s",
            _dim(kg=1, m=-1, s=-1),
            ("mPa s", "Pa s", "cP"),
            "3.6 mPa s",
        ),
        Kind(
            "specific_fuel_consumption",
            "a fuel consumption for each work done",
            "kg/J",
            _dim(m=-2, s=2),
            ("g/kWh", "kg/kWh", "lb/hp h"),
            "215 g/kWh",
        ),
        # electrics and network
        Kind(
            "conductor",
            "a conductor size",
            "m2",
            _AREA,
            ("mm2", "AWG", "SAE", "kcmil"),
            "35 mm2",
            same_as={"qmm": "mm2", "mmq": "mm2"},
            hints=_GAUGE_SIZE,
        ),
        Kind("current", "a current", "A", _dim(a=1), ("A", "mA"), "80 A"),
        Kind(
            "current_density",
            "a current for each area of conductor",
            "A/m2",
            _dim(a=1, m=-2),
            ("A/mm2",),
            "5 A/mm2",
        ),
        Kind(
            "voltage",
            "a voltage",
            "V",
            _dim(kg=1, m=2, s=-3, a=-1),
            ("V", "mV"),
            "12.6 V",
            same_as={"vdc": "V", "v dc": "V"},
        ),
        Kind(
            "resistance",
            "a resistance",
            "ohm",
            _dim(kg=1, m=2, s=-3, a=-2),
            ("ohm", "mohm", "kohm"),
            "120 ohm",
        ),
        Kind(
            "resistance_per_length",
            "a resistance for each length",
            "ohm/m",
            _dim(kg=1, m=1, s=-3, a=-2),
            ("mohm/m", "ohm/km", "ohm/1000 ft"),
            "0.55 mohm/m",
        ),
        Kind("charge", "a charge", "A s", _dim(a=1, s=1), ("Ah", "mAh"), "110 Ah"),
        Kind("capacitance", "a capacitance", "F", _dim(kg=-1, m=-2, s=4, a=2), ("pF", "nF", "µF"), "100 nF"),
        Kind(
            "capacitance_per_length",
            "a capacitance for each length",
            "F/m",
            _dim(kg=-1, m=-3, s=4, a=2),
            ("pF/m",),
            "70 pF/m",
        ),
        Kind("inductance", "an inductance", "H", _dim(kg=1, m=2, s=-2, a=-2), ("mH", "µH", "H"), "15 mH"),
        Kind(
            "bit_rate",
            "a bit rate",
            "bit/s",
            _dim(s=-1, bit=1),
            ("kbit/s", "kbps", "Mbit/s"),
            "250 kbit/s",
            asks=_BITS_OR_BYTES,
        ),
        Kind("frequency", "a frequency", "Hz", _dim(s=-1), ("Hz", "kHz", "MHz"), "25 Hz"),
    ]


KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _kinds()})
"""Every kind by its name."""
