"""The fuel itself."""

from swaplint.spec.fields import COMPONENT_SHEET, FUEL_SUPPLIER, TYPICAL, Section, flag, items, measure


class ViscosityPoint(Section):
    """One point of the fuel's viscosity line."""

    temperature: float = measure(
        "fuel temperature", "temperature", "degC", typical=20, plausible=(-50, 100), where=TYPICAL
    )
    viscosity: float = measure(
        "kinematic viscosity there",
        "kinematic_viscosity",
        "mm2/s",
        typical=4.6,
        plausible=(0.3, 60),
        where=TYPICAL,
    )


class FuelGrade(Section):
    """The fuel that goes into the tank."""

    density: float = measure("density at 15 °C", "density", "kg/m3", typical=835, plausible=(700, 900), where=TYPICAL)
    viscosity: list[ViscosityPoint] = items("points of the viscosity line, two or more", needed=True)
    cfpp: float = measure(
        "cold filter plugging point of the grade used in the coldest season",
        "temperature",
        "degC",
        typical=-20,
        plausible=(-50, 10),
        where=FUEL_SUPPLIER,
    )
    biodiesel: float = measure(
        "share of biodiesel (fatty acid methyl ester) in the fuel",
        "share",
        "%",
        typical=7,
        plausible=(0, 100),
        where=FUEL_SUPPLIER,
        zero=True,
    )
    ethanol: float = measure(
        "greatest share of ethanol in the petrol by volume: 10 % for E10, 85 % for E85",
        "share",
        "%",
        typical=10,
        plausible=(0, 100),
        where=FUEL_SUPPLIER,
        zero=True,
    )
    vapour_pressure: float = measure(
        "vapour pressure of the petrol at 37.8 °C (Reid, DVPE), of the grade sold in the hottest season",
        "pressure",
        "kPa",
        typical=60,
        plausible=(35, 105),
        where=FUEL_SUPPLIER,
    )
    parts_for_ethanol: bool = flag(
        "whether pump, seals, hoses and level sender are made for that share of ethanol",
        typical=True,
        where=COMPONENT_SHEET,
    )
