"""Pumps and filters between tank and engine."""

from swaplint.spec.fields import COMPONENT_SHEET, LOOK, Part, Section, flag, items, measure, word
from swaplint.spec.systems.chassis import consumer
from swaplint.spec.systems.streams import side_by_side


class PumpPoint(Section):
    """One point of a pump's delivery curve."""

    pressure: float = measure(
        "pressure at the pump's outlet",
        "gauge_pressure",
        "kPa",
        typical=300,
        plausible=(0, 1200),
        where=COMPONENT_SHEET,
        zero=True,
    )
    flow: float = measure(
        "flow that the pump gives there",
        "volume_flow",
        "L/h",
        typical=150,
        plausible=(0, 800),
        where=COMPONENT_SHEET,
        zero=True,
    )


class FuelPump(Part):
    """A pump between tank and engine."""

    load: str = consumer("an electric pump", "fuel_pump")
    kind: str = word(
        "what drives it and where it sits",
        "in-tank-electric",
        "in-line-electric",
        "mechanical",
        typical="in-tank-electric",
        where=LOOK,
    )
    place: str = word(
        "where an in-line electric pump stands: beside the tank, or at the engine's end of the line, which it then "
        "sucks through",
        "beside-tank",
        "engine-space",
        typical="beside-tank",
        where=LOOK,
    )
    pressure: float = measure(
        "pressure that its regulator, or the pump itself without flow, holds",
        "gauge_pressure",
        "kPa",
        typical=50,
        plausible=(5, 1200),
        where=COMPONENT_SHEET,
    )
    curve: list[PumpPoint] = items("delivery curve, lowest pressure first", needed=True)
    curve_voltage: float = measure(
        "voltage at the pump that the curve was taken at",
        "voltage",
        "V",
        typical=13.5,
        plausible=(6, 30),
        where=COMPONENT_SHEET,
    )
    stops_with_engine: bool = flag(
        "whether the pump stops by itself when the engine stops or the vehicle crashes", typical=True, where=LOOK
    )


class FuelFilter(Part):
    """A fuel filter."""

    stage: str = word(
        "which filter it is: the first one, the last one ahead of the injection pump, or one behind that",
        "primary",
        "final",
        "extra",
        typical="primary",
        where=LOOK,
    )
    place: str = word(
        "where it stands: between tank and pump, between feed pump and engine, or inside the engine package",
        "suction",
        "feed",
        "engine",
        typical="suction",
        where=LOOK,
    )
    side_by_side: float = side_by_side("filters")
    fineness: float = measure(
        "size of particle that it keeps back",
        "length",
        "µm",
        typical=10,
        plausible=(1, 200),
        where=COMPONENT_SHEET,
    )
    rated_flow: float = measure(
        "flow that it is rated for", "volume_flow", "L/h", typical=150, plausible=(5, 1000), where=COMPONENT_SHEET
    )
    water_separator: bool = flag("whether it parts water off and has a bowl for it", typical=True, where=LOOK)
    water_sensor: bool = flag("whether a water sensor is fitted and wired", typical=True, where=LOOK)
    drop_dirty: float = measure(
        "pressure that one takes at the engine's whole supply flow in warm fuel, when due to be changed",
        "pressure_difference",
        "kPa",
        typical=3,
        plausible=(0.1, 40),
        where=COMPONENT_SHEET,
    )
    drop_cold: float = measure(
        "the same in the coldest fuel that the vehicle meets, where its maker states it",
        "pressure_difference",
        "kPa",
        typical=6,
        plausible=(0.1, 80),
        where=COMPONENT_SHEET,
    )
    heater_power: float = measure(
        "power of its heater; 0 where there is none",
        "power",
        "W",
        typical=0,
        plausible=(0, 1500),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("its heater", "fuel_heater")
