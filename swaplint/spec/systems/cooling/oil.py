"""The oil of an automatic gearbox on its way through its cooler and back."""

from swaplint.engineering.pipes import HOSE_BORES
from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DECISION,
    DRIVELINE_SHEET,
    MARKING,
    TAPE,
    TYPICAL,
    Section,
    flag,
    measure,
    number,
)

OIL_BORES_MM = tuple(round(bore * 1e3, 3) for bore in HOSE_BORES if bore <= 0.025)


class GearboxOil(Section):
    """The cooler circuit of an automatic gearbox: what the gearbox asks of it, and its lines."""

    flow: float = measure(
        "oil that the gearbox sends through its cooler when hot, cruising",
        "volume_flow",
        "L/min",
        typical=10,
        plausible=(1, 80),
        where=DRIVELINE_SHEET,
    )
    drop_max: float = measure(
        "greatest pressure that cooler and lines together may take at that flow",
        "pressure_difference",
        "kPa",
        typical=150,
        plausible=(10, 700),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    pressure_max: float = measure(
        "highest pressure in the cooler lines, cold oil and hard work included",
        "gauge_pressure",
        "kPa",
        typical=1000,
        plausible=(100, 3000),
        where=DRIVELINE_SHEET,
    )
    temp_max: float = measure(
        "hottest oil that leaves the gearbox",
        "temperature",
        "degC",
        typical=135,
        plausible=(90, 180),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    bore_min: float = measure(
        "least inside diameter of the lines",
        "length",
        "mm",
        typical=8,
        plausible=(5, 25),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    cooler_flow: float = measure(
        "flow of oil that the cooler's heat is stated at",
        "volume_flow",
        "L/min",
        typical=10,
        plausible=(1, 80),
        where=COMPONENT_SHEET,
    )
    cooler_drop: float = measure(
        "pressure that the cooler takes at that flow in hot oil; of several in a row the sum",
        "pressure_difference",
        "kPa",
        typical=40,
        plausible=(1, 500),
        where=COMPONENT_SHEET,
    )
    bore: float = measure(
        "narrowest inside diameter of the lines",
        "length",
        "mm",
        typical=10,
        plausible=(4, 25),
        where=DECISION,
        series=OIL_BORES_MM,
    )
    length: float = measure(
        "length of the lines there and back together", "length", "m", typical=3, plausible=(0.3, 20), where=TAPE
    )
    fittings_k: float = number(
        "sum of the loss coefficients K of all elbows and unions; a hose elbow is 0.9 to 1.5",
        typical=6,
        plausible=(0, 40),
        where=TYPICAL,
        zero=True,
    )
    hose_for_oil: bool = flag(
        "whether the hose is made for hot gearbox oil, and not fuel or coolant hose", typical=True, where=MARKING
    )
    hose_pressure: float = measure(
        "working pressure that the hose is rated for",
        "gauge_pressure",
        "kPa",
        typical=1700,
        plausible=(200, 20000),
        where=MARKING,
    )
    hose_temperature: float = measure(
        "hottest oil that the hose is rated for",
        "temperature",
        "degC",
        typical=150,
        plausible=(80, 230),
        where=MARKING,
    )
