"""The wiring as a network: which cables and grounds there are, and which way current takes through them.

Feed and return are two networks of named nodes: cables lead from `battery-positive`, and from `auxiliary-positive`
where other batteries than the starting ones are fitted; grounds lead to `battery-negative`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from swaplint.api import Build, given, is_fitted, name_of, once, path_of
from swaplint.engineering import circuits, conductors

POSITIVE = "battery-positive"
NEGATIVE = "battery-negative"
AUXILIARY = "auxiliary-positive"
"""The positive of the batteries that do not start the engine."""
ENGINE = "engine"
FRAME = "frame"
CAB = "cab"
STARTER = "starter"
ALTERNATOR = "alternator"
ISOLATOR = "isolator"
SOLENOID = "solenoid"
KEY = "key"
"""The supply of the key switch; its terminals are `key-` and their names."""

STARTING = ("starter", "battery-link")
"""Roles of the cables that carry the cranking current."""
HEATERS = ("intake-heater", "glow-plugs")
"""Roles of the cables of what heats the air for a cold start."""
OWN_RULES = (*STARTING, "alternator")
"""Roles whose voltage drop has a limit of its own kind."""


@once
def cables(build: Build) -> tuple[Any, ...]:
    """Every cable that is fitted."""
    return tuple(cable for cable in build.electrics.cables.values() if is_fitted(cable))


def cables_for(build: Build, role: str) -> list[Any]:
    """The fitted cables of one role."""
    return [cable for cable in cables(build) if cable.role == role]


@once
def grounds(build: Build) -> tuple[Any, ...]:
    """Every ground conductor that is fitted."""
    return tuple(ground for ground in build.electrics.grounds.values() if is_fitted(ground))


@once
def consumer_cables(build: Build) -> tuple[Any, ...]:
    """The cables whose voltage drop is judged as a circuit: all but starter, battery links and alternator."""
    return tuple(cable for cable in cables(build) if cable.role not in OWN_RULES)


def engine_pin(feed: str) -> str:
    """The node where a feed of the engine's data sheet enters the control unit."""
    return f"ecm-{feed}"


def is_engine_feed(build: Build, cable: Any) -> bool:
    """Whether a cable ends at a pin of the control unit that the engine's data sheet names."""
    feeds = given(lambda: build.engine.ecm.feeds) or {}
    return any(cable.end == engine_pin(name) for name in feeds)


def ask_whether_engine_feed(build: Build, cable: Any) -> None:
    """Read which pins the control unit has, where a cable may end at one: not stated, that ends the rule."""
    if cable.end.startswith(engine_pin("")) and is_fitted(build.engine.ecm):
        len(build.engine.ecm.feeds)


def may_end_at_a_pin(build: Build, cable: Any) -> bool:
    """Whether a cable may end at a pin of the control unit, while nobody states which there are."""
    return cable.end.startswith(engine_pin("")) and given(lambda: build.engine.ecm.feeds) is None


def heater_cables(build: Build) -> list[Any]:
    """The cables of intake heater and glow plugs; the heater itself where it is fitted and has none."""
    found: list[Any] = []
    for role, heater in heaters(build).items():
        found += cables_for(build, role) or [heater]
    return found


def heaters(build: Build) -> dict[str, Any]:
    """What heats the air for a cold start, by the role of its cables; glow plugs that nobody states are none."""
    found = {"intake-heater": build.engine.intake_heater} if is_fitted(build.engine.intake_heater) else {}
    plugs = build.engine.glow_plugs
    if given(lambda: is_fitted(plugs) and plugs.current):
        found["glow-plugs"] = plugs
    return found


def heater_of(build: Build, cable: Any) -> Any:
    """The heater that a cable of its role feeds."""
    return build.engine.glow_plugs if cable.role == "glow-plugs" else build.engine.intake_heater


def alternator_cables(build: Build) -> list[Any]:
    """The cables of the alternators; an alternator itself where it is fitted and has none."""
    own = [build.engine.alternator] if is_fitted(build.engine.alternator) else []
    every = [*own, *further_alternators(build)]
    found = cables_for(build, "alternator") if every else []
    with_cable = [path_of(alternator_of(build, cable)) for cable in found]
    return found + [one for one in every if path_of(one) not in with_cable]


def further_alternators(build: Build) -> list[Any]:
    """The alternators besides the engine package's; one that nobody states is not there."""
    stated = given(lambda: list(build.electrics.alternators.values())) or []
    return [alternator for alternator in stated if is_fitted(alternator)]


def alternator_of(build: Build, cable: Any) -> Any:
    """The alternator that a cable of its role leads from: a further one is the node of its name."""
    further = {name_of(alternator): alternator for alternator in further_alternators(build)}
    return further.get(cable.start) or further.get(cable.end) or build.engine.alternator


def node_of(build: Build, alternator: Any) -> str:
    """The node that an alternator is."""
    return ALTERNATOR if path_of(alternator) == path_of(build.engine.alternator) else name_of(alternator)


def ends(parts: Sequence[Any]) -> list[tuple[str, str]]:
    """The two nodes that each conductor joins; the key switch counts as one node, as it does while it is closed."""
    return [(_closed(part.start), _closed(part.end)) for part in parts]


def _closed(node: str) -> str:
    return KEY if node.startswith(f"{KEY}-") else node


def path(parts: Sequence[Any], start: str, end: str) -> list[Any] | None:
    """The conductors that current takes from one node to another; None where none lead there."""
    found = circuits.route(ends(parts), _closed(start), _closed(end))
    return None if found is None else [parts[position] for position in found]


def alongside(parts: Sequence[Any], part: Any) -> list[Any]:
    """Those of some conductors that join the same two nodes as one of them, that one included."""
    mine = {part.start, part.end}
    return [other for other in parts if {other.start, other.end} == mine]


def consumers_alongside(build: Build, cable: Any) -> Sequence[Any]:
    """The same of the consumers' cables: asked for each of them, and for all that hang on it."""
    return _consumers_by_ends(build).get(frozenset((cable.start, cable.end)), ())


@once
def _consumers_by_ends(build: Build) -> Mapping[frozenset[str], tuple[Any, ...]]:
    found: dict[frozenset[str], list[Any]] = {}
    for cable in consumer_cables(build):
        found.setdefault(frozenset((cable.start, cable.end)), []).append(cable)
    return {both: tuple(of_them) for both, of_them in found.items()}


def starter_feed(build: Build) -> list[Any] | None:
    """The starter cables from the battery to the starter; None where they do not lead there."""
    return path(cables_for(build, "starter"), POSITIVE, STARTER)


def return_path(build: Build, node: str) -> list[Any] | None:
    """The grounds from a node to the battery's negative; None where none lead there."""
    return path(grounds(build), node, NEGATIVE)


def is_cut_off(parts: Sequence[Any], start: str, end: str) -> bool:
    """Whether an open main switch parts two nodes that these conductors join."""
    return circuits.route(ends(parts), _closed(start), _closed(end), avoiding=[ISOLATOR]) is None


def passes(parts: Sequence[Any], node: str) -> bool:
    """Whether conductors in series meet at a node."""
    return any(node in pair for pair in ends(parts))


def upstream(build: Build, cable: Any, *, from_end: bool = False) -> list[Any] | None:
    """The cables between the nearest battery and the start of a cable; None where it cannot be traced back.

    `from_end` asks for those before its end.
    """
    own, every = path_of(cable), cables(build)
    others = [number for number, other in enumerate(every) if path_of(other) != own]
    pairs = _ends_of_cables(build)
    beside, start = [pairs[number] for number in others], _closed(cable.end if from_end else cable.start)
    ways = [circuits.route(beside, source, start) for source in (POSITIVE, AUXILIARY)]
    found = min((way for way in ways if way is not None), key=len, default=None)
    return None if found is None else [every[others[position]] for position in found]


def from_its_end(build: Build, cable: Any) -> list[Any] | None:
    """The cables by which a battery feeds the end of a cable past that cable itself; None where there is no such way.

    There is none where a diode stands in the way, or in the cable: current then runs forwards in it only.
    """
    if cable.role in OWN_RULES or cable.end in reached_unfused(build) or given(lambda: cable.diode) is True:
        return None
    way = upstream(build, cable, from_end=True)
    node = None if way is None else _closed(way[0].start if _at_battery(way[0].start) else way[0].end)
    for part in way or []:
        start, end = _closed(part.start), _closed(part.end)
        if node == end and given(lambda part=part: part.diode) is True:  # type: ignore[misc]
            return None
        node = end if node == start else start
    return way


def _at_battery(node: str) -> bool:
    return node in (POSITIVE, AUXILIARY)


@once
def _ends_of_cables(build: Build) -> tuple[tuple[str, str], ...]:
    return tuple(ends(cables(build)))


@once
def branches(build: Build, cable: Any) -> tuple[Any, ...]:
    """The cables that take their lasting current from the end of a cable; those of the starter's solenoid are left out.

    The key switch counts as one node. An intake heater takes its current for seconds and has limits of its own.
    """
    node, path = _closed(cable.end), path_of(cable)
    from_there = [other for other in cables(build) if path_of(other) != path and _closed(other.start) == node]
    return tuple(other for other in from_there if other.role not in (*OWN_RULES, *HEATERS) and other.end != SOLENOID)


def reached_unfused(build: Build) -> set[str]:
    """The nodes of the batteries, and those that starter cables join to them."""
    found = {POSITIVE, AUXILIARY, STARTER, ISOLATOR}
    for cable in cables_for(build, "starter"):
        found |= {cable.start, cable.end}
    return found


def feeders(build: Build) -> list[Any]:
    """The cables that feed others, those of starter and alternator left out."""
    return [cable for cable in consumer_cables(build) if branches(build, cable)]


def has_fuse(cable: Any) -> bool:
    """Whether a cable has a fuse of its own. Not stating one is not the same as having none."""
    if given(lambda: cable.fuse) is not None:
        return True
    return bool(cable.fused)


def protecting(build: Build, cable: Any) -> Any | None:
    """The cable whose fuse protects a cable: itself, or the nearest towards the battery that has one; None if none.

    A charge cable is live from the battery, which its end is nearer to.
    """
    if has_fuse(cable):
        return cable
    return next((other for other in reversed(_before(build, cable) or []) if has_fuse(other)), None)


def is_fed(build: Build, cable: Any) -> bool:
    """Whether cables lead from a battery to a cable; a starter cable or a link stands at one itself."""
    return cable.role in STARTING or _before(build, cable) is not None


def _before(build: Build, cable: Any) -> list[Any] | None:
    charges = cable.role == "alternator" and cable.start in (ALTERNATOR, *map(name_of, further_alternators(build)))
    return upstream(build, cable, from_end=charges)


def is_battery(part: Any) -> bool:
    """Whether a part is one of the batteries."""
    return path_of(part).startswith("electrics.batteries.")


def live_cables(build: Build) -> list[Any]:
    """The cables with an end at a battery, or at a node that is live with no fuse between it and a battery.

    An auxiliary battery that no cable is stated for stands for its cables itself.
    """
    others = [battery for battery in auxiliaries(build) if not _reached(build, AUXILIARY)]
    return [*_unguarded(build), *others]


def auxiliaries(build: Build) -> list[Any]:
    """The batteries that are stated to serve other loads than the starter."""
    fitted = [battery for battery in build.electrics.batteries.values() if is_fitted(battery)]
    return [battery for battery in fitted if given(lambda battery=battery: battery.use) == "auxiliary"]  # type: ignore[misc]


def _reached(build: Build, node: str) -> bool:
    return any(node in (cable.start, cable.end) for cable in cables(build))


def _unguarded(build: Build) -> list[Any]:
    live = {POSITIVE, AUXILIARY}
    found: list[Any] = []
    waiting = list(cables(build))
    while True:
        touching = [cable for cable in waiting if cable.start in live or cable.end in live]
        if not touching:
            return found
        for cable in touching:
            waiting.remove(cable)
            found.append(cable)
            if given(lambda cable=cable: has_fuse(cable)) is False:  # type: ignore[misc]
                live.update((cable.start, cable.end))


def material_of(part: Any) -> conductors.Material:
    """What a conductor is made of; copper, as cables sold by their size are, where nothing else is stated."""
    return conductors.Material(given(lambda: part.material) or "copper")


def joints_of(part: Any) -> int:
    """Joints along a conductor: its two ends where nothing else is stated."""
    stated = given(lambda: part.joints)
    return 2 if stated is None else int(stated)
