"""What the electrics look like: charge balance, the starting circuit, the wiring."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Axis,
    Budget,
    Budgets,
    Build,
    Chart,
    Curve,
    Link,
    Network,
    Node,
    OutsideRange,
    Point,
    figure,
    given,
    is_fitted,
    name_of,
    shown,
)

from ..drawable import where_known
from ..gearing.quantities import cruise_speed_engine
from . import charging_quantities as charge
from . import network, starting
from . import quantities as q

_STEPS = 40


@figure("power.charge-balance")
def charge_balance(build: Build) -> Chart:
    """Charging current against engine speed, beside what is wanted.

    Output of the hot alternators together over the engine's speeds. Each dot below the line is what the consumers and
    the battery's recovery want on average in that kind of running, at night; one above the line is short.
    """
    speeds = build.engine.speed
    top = given(lambda: speeds.governed_max) or speeds.rated
    wanted = [
        ("idle", speeds.idle, charge.output_idle(build), charge.demand_idle(build)),
        *_cruise(build),
        *_standing(build),
    ]
    low = min(speeds.idle, *(speed for _, speed, _, _ in wanted))
    line = []
    for step in range(_STEPS + 1):
        speed = low + (top - low) * step / _STEPS
        line.append((speed, charge.hot_output(build, speed)))
    # The points of the worksheet are on the line itself, so that it passes through them exactly.
    line = sorted({*line, *((float(speed), float(output)) for _, speed, output, _ in wanted)})
    points = [
        Point(f"wanted, {name} ({shown(output, 'current', 'A')} given)", speed, demand)
        for name, speed, output, demand in wanted
    ]
    return Chart(
        Axis("engine speed", "rotation", "r/min"),
        Axis("current", "current", "A"),
        [Curve("hot alternators give", line)],
        points=points,
    )


def _cruise(build: Build) -> list[tuple[str, float, float, float]]:
    speed = where_known(lambda: cruise_speed_engine(build))
    if speed is None:
        return []
    return [("cruise", speed, charge.output_cruise(build), charge.demand_cruise(build))]


def _standing(build: Build) -> list[tuple[str, float, float, float]]:
    speed = given(lambda: build.build.duty.stationary_speed)
    if speed is None or given(lambda: build.build.duty.stationary_power) is None:
        return []
    return [("standing work", speed, charge.output_stationary(build), charge.demand_stationary(build))]


@figure("power.starting-circuit")
def starting_circuit(build: Build) -> Budgets:
    """Voltage along the starting circuit in the coldest start.

    The battery three-quarters charged, its own resistance first, then the way to the starter and the way back.
    """
    current = build.engine.starter.cranking_current
    inside = q.battery_resistance(build)
    steps = [("in the battery", -current * inside)]
    heater = given(lambda: q.heater_while_cranking(build)) or 0.0
    if heater:
        steps.append(("in the battery, by the intake heater", -heater * inside))
    steps += [
        ("on the way to the starter", -current * q.crank_feed(build)),
        ("on the way back", -current * q.crank_return(build)),
    ]
    q.crank_voltage(build)
    name = f"cranking with {shown(current)} at {shown(build.build.design.ambient_min)}"
    limits = [given(lambda: float(build.engine.starter.min_voltage))]
    if given(lambda: is_fitted(build.engine.ecm)) is True:
        limits.append(where_known(lambda: starting.control_unit_limit(build)))
    known = [limit for limit in limits if limit is not None]
    budget = Budget(
        name,
        q.open_circuit_voltage(build),
        steps,
        max(known) if known else None,
        start_name="battery at rest",
        end_name="left at the starter",
        least=True,
    )
    return Budgets(Axis("voltage", "voltage", "V"), [budget], "least voltage that is needed")


# -- wiring -----------------------------------------------------------------------------------------------------------
@figure("power.wiring")
def wiring(build: Build) -> Network:
    """The wiring from the battery to the consumers, and the grounds back to it.

    At each cable its size and its fuse, at what it ends at the current that it carries continuously. Joints in the way
    of several cables are drawn once.
    """
    cables, grounds = network.cables(build), given(lambda: network.grounds(build)) or ()
    if not cables:
        raise OutsideRange("no cable is stated")
    links = [_link(build, cable) for cable in cables]
    ends = {link.end: _carried(cable) for cable, link in zip(cables, links, strict=True)}
    starts = {link.start for link in links}
    nodes = []
    for id in dict.fromkeys(node for link in links for node in (link.start, link.end)):
        look = "source" if id in (network.POSITIVE, network.AUXILIARY) else "joint" if id in starts else "end"
        nodes.append(Node(id, id.replace("-", " "), ends.get(id, ""), look))  # type: ignore[arg-type]
    terminals = [link.start for link in links if link.start.startswith(f"{network.KEY}-")]
    links += [Link(network.KEY, terminal, "key switch") for terminal in dict.fromkeys(terminals) if network.KEY in ends]
    back = [Link(*_towards(ground), given(lambda ground=ground: shown(ground.size)) or "") for ground in grounds]  # type: ignore[misc]
    for id in dict.fromkeys(node for link in back for node in (link.start, link.end)):
        if not any(node.id == f"ground-{id}" for node in nodes):
            source = id == network.NEGATIVE
            nodes.append(Node(f"ground-{id}", id.replace("-", " "), "", "source" if source else "joint"))
    links += [Link(f"ground-{link.start}", f"ground-{link.end}", link.name) for link in back]
    return Network(nodes, links)


def _link(build: Build, cable: Any) -> Link:
    start, end = str(cable.start), str(cable.end)
    if cable.role == "alternator":
        start, end = end, start  # drawn from the battery on, as all else
    return Link(start, end, _conductor(cable))


def _towards(ground: Any) -> tuple[str, str]:
    """A ground from the battery on, whichever way round it is stated."""
    start, end = str(ground.start), str(ground.end)
    return (end, start) if end == network.NEGATIVE or start not in (network.NEGATIVE, network.FRAME) else (start, end)


def _conductor(cable: Any) -> str:
    size = given(lambda: shown(cable.size))
    fuse = given(lambda: shown(cable.fuse)) if given(lambda: cable.fused) is not False else None
    return ", ".join([*([f"fuse {fuse}"] if fuse else []), *([size] if size else [])]) or name_of(cable)


def _carried(cable: Any) -> str:
    current = given(lambda: shown(cable.current))
    return str(current) if current else ""
