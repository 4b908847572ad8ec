"""What the engine asks of the fuel system."""

from swaplint.spec.fields import DATA_SHEET, Section, flag, measure, number, word

INJECTIONS = ("common-rail", "mechanical-injection", "direct-petrol", "port-petrol", "carburettor")
"""How fuel gets into the cylinders."""


class EngineFuel(Section):
    """What the engine asks of the fuel system."""

    injection: str = word(
        "how the fuel gets into the cylinders",
        *INJECTIONS,
        typical="common-rail",
        where=DATA_SHEET,
    )
    feed: str = word(
        "how the engine takes its fuel: its own pump sucks it from the tank, or it must be fed under pressure",
        "suction",
        "pressure",
        typical="suction",
        where=DATA_SHEET,
    )
    supply_flow: float = measure(
        "greatest flow that the engine draws from the tank, burnt or returned",
        "volume_flow",
        "L/h",
        typical=110,
        plausible=(3, 600),
        where=DATA_SHEET,
    )
    return_flow: float = measure(
        "flow that the engine sends back while it draws its supply flow; 0 where nothing returns",
        "volume_flow",
        "L/h",
        typical=80,
        plausible=(0, 550),
        where=DATA_SHEET,
        zero=True,
    )
    burn: float = measure(
        "fuel burnt at rated power, of diesel or ordinary petrol",
        "volume_flow",
        "L/h",
        typical=25,
        plausible=(2, 250),
        where=DATA_SHEET,
    )
    ethanol_max: float = measure(
        "greatest share of ethanol by volume that the engine and its calibration allow in petrol",
        "share",
        "%",
        typical=10,
        plausible=(0, 100),
        where=DATA_SHEET,
        zero=True,
        limit=True,
    )
    biodiesel_max: float = measure(
        "greatest share of biodiesel (fatty acid methyl ester) that the engine and its calibration allow in diesel",
        "share",
        "%",
        typical=7,
        plausible=(0, 100),
        where=DATA_SHEET,
        zero=True,
        limit=True,
    )
    canister_purge: bool = flag(
        "whether the engine package has a purge valve for a canister, as it was certified",
        typical=True,
        where=DATA_SHEET,
    )
    max_inlet_restriction: float = measure(
        "greatest depression allowed at the inlet of the engine's fuel pump, with the filter at its change limit",
        "pressure_difference",
        "kPa",
        typical=20,
        plausible=(2, 60),
        where=DATA_SHEET,
        limit=True,
    )
    inlet_pressure_min: float = measure(
        "least feed pressure at the engine's fuel inlet at full flow",
        "gauge_pressure",
        "kPa",
        typical=30,
        plausible=(0, 900),
        where=DATA_SHEET,
        zero=True,
        limit=True,
    )
    inlet_pressure_max: float = measure(
        "greatest feed pressure allowed at the engine's fuel inlet",
        "gauge_pressure",
        "kPa",
        typical=60,
        plausible=(5, 1000),
        where=DATA_SHEET,
        limit=True,
    )
    feed_pump: str = word(
        "whether the engine maker wants a pump between the tank and the engine's own",
        "required",
        "allowed",
        "forbidden",
        typical="allowed",
        where=DATA_SHEET,
    )
    feed_flow_margin: float = number(
        "flow that a feed pump must be able to give, as a multiple of the engine's need",
        typical=1.2,
        plausible=(1, 2),
        where=DATA_SHEET,
    )
    max_return_pressure: float = measure(
        "greatest pressure allowed where fuel leaves the engine for the tank",
        "pressure_difference",
        "kPa",
        typical=20,
        plausible=(2, 400),
        where=DATA_SHEET,
        limit=True,
    )
    inlet_temp_max: float = measure(
        "hottest fuel allowed at the engine's fuel inlet",
        "temperature",
        "degC",
        typical=70,
        plausible=(40, 100),
        where=DATA_SHEET,
        limit=True,
    )
    return_temp_rise: float = measure(
        "how much hotter than the supply the fuel comes back",
        "temperature_difference",
        "K",
        typical=30,
        plausible=(1, 60),
        where=DATA_SHEET,
    )
    final_filter_fineness: float = measure(
        "coarsest final filter allowed, as particle size kept back",
        "length",
        "µm",
        typical=5,
        plausible=(1, 60),
        where=DATA_SHEET,
        limit=True,
    )
    own_final_filter: bool = flag(
        "whether the engine package brings its own final filter, mounted and piped", typical=True, where=DATA_SHEET
    )
    extra_filter_allowed: bool = flag(
        "whether a filter may stand behind the final one", typical=False, where=DATA_SHEET
    )
