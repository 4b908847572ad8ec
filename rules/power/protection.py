"""Rules of what protects the cables: a fuse near the battery, and one that fits each cable."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import conductors, fuses

from .. import sources
from . import network, unsaid
from . import quantities as q

FUSE_PLACE = practice("a fuse within 450 mm of the source where the cable up to it is sleeved")
FUSE_LOAD = practice("continuous load of at most 75 to 80 % of a fuse's rating")
STARTER_SLEEVE = practice("a starter cable without a fuse is sleeved along its whole length")
FUSE_CHOICE = practice("a fuse at a battery of 1.25 times the continuous current, that breaks 2 kA or more")
STARTER_FUSE = practice("a fuse in a starter cable is chosen for cranking and guards against a dead short only")

FUSE_DISTANCE = 0.200
"""ISO 10133: from memory."""
FUSE_DISTANCE_SLEEVED = 0.450
"""Common practice."""
INSULATED = practice("a cable lies in air no hotter than its insulation is rated for")
FUSE_LASTS = 1.35
"""How many times its rating a fuse link carries for a minute and more, longer than anybody cranks."""
FUSE_LOAD_MAX = 0.80


def smallest_carrying(build: Build, cable: Any, current: float) -> float | None:
    """The smallest size that carries a current where the cable lies; None where none of the table does."""
    size = conductors.smallest_size(
        conductors.METRIC_SERIES,
        length=1.0,
        current=current,
        installation=q.installation(build, cable),
        material=network.material_of(cable),
    )
    return size.area if size is not None else None


def largest_protecting(rating: float) -> float | None:
    """The largest fuse that protects a cable of a current rating; None where none of the series does."""
    try:
        return fuses.largest_fuse(rating)
    except (ImpossibleInput, OutsideRange):
        return None


@rule(
    "power.main-fuse",
    level="error",
    due="quote",
    sources=[
        sources.SMALL_CRAFT_METRIC.giving(
            "limit", "200 mm of cable up to the fuse", known="from memory", demands=["bare-distance"]
        ),
        FUSE_PLACE.giving("limit", "450 mm, and sleeved"),
        STARTER_SLEEVE.giving("limit", "starter cables without a fuse"),
        FUSE_CHOICE.giving("formula", "the fuse that the remedy asks for"),
    ],
    cautions=[cautions.BATTERY_ARC, cautions.FUEL_FIRE],
    adjust=["electrics.cables.*.fuse_distance", "electrics.cables.*.sleeved"],
    each=network.live_cables,
    without=unsaid.BATTERY_USE,
    bad=[
        {"electrics.cables.ecm.fuse_distance": "600 mm"},
        {"electrics.cables.heater.fuse_distance": "250 mm"},
        {"electrics.cables.starter.sleeved": False},
    ],
    good=[{"electrics.cables.ecm.fuse_distance": "100 mm"}],
)
def main_fuse(build: Build, cable: Any) -> Verdict:
    """Has every cable that is live from a battery a fuse close to where its current comes from?

    Computes: which cables touch a battery, or a node with no fuse between it and a battery; for each, whether it
    has a fuse, and the length of cable up to it. A charge cable counts from its battery end. The batteries that start
    the engine are at battery-positive, others at auxiliary-positive.
    Limit: 450 mm of cable up to the fuse, sleeved (common practice); bare 200 mm (ISO 10133, from memory: a person
    decides between the two). A starter cable or a link between batteries may go without, sleeved along its whole
    length; some trades ask for a fuse even there. A cable from one battery to another is live from both ends and takes
    a fuse at each.
    Consequence: Nothing stops a short in that cable: the cable burns, and the vehicle with it.
    Remedy: a fuse at the battery of at least 1.25 times the continuous current and not above the cable's rating.
    Cannot tell: the real route up to the fuse; whether the fuse can break what the battery can deliver: ask for a
    breaking capacity of 2 kA or more.
    """
    path = path_of(cable)
    if network.is_battery(cable):
        return holds(
            False,
            f"No cable is stated to start at the node {network.AUXILIARY}, where this battery's positive is: state "
            "its cables, each with its fuse.",
            on="electrics.cables",
        )
    if {cable.start, cable.end} == {network.POSITIVE, network.AUXILIARY}:
        return holds(
            False,
            "The cable leads from one battery to another and is live from both ends: it takes a fuse at each. State "
            "it as two cables that meet at the separator, each with the fuse at its own battery.",
            on=f"{path}.end",
        )
    if not network.has_fuse(cable):
        if cable.role not in network.STARTING:
            return holds(
                False,
                f"The cable from {cable.start} to {cable.end} is live from the battery and has no fuse: fit one there.",
                on=f"{path}.fused",
            )
        return holds(
            cable.sleeved,
            "A starter cable without a fuse, sleeved along its whole length."
            if cable.sleeved
            else "A starter cable without a fuse: sleeve it along its whole length and keep it clear of edges, heat "
            "and "
            "moving parts, or fuse it at the battery.",
            on=f"{path}.sleeved",
            advice=advice(f"{path}.sleeved", True),
        )
    demands = {"distance": lambda: _near(cable, FUSE_DISTANCE_SLEEVED)}
    if not given(lambda: cable.sleeved) and given(lambda: cable.fuse_distance <= FUSE_DISTANCE_SLEEVED):
        demands = {"bare-distance": lambda: _near(cable, FUSE_DISTANCE)}
    return all_of(demands)


def _near(cable: Any, limit: float) -> Verdict:
    """Whether the fuse is near enough to where the current comes from."""
    on = f"{path_of(cable)}.fuse_distance"
    sleeved = given(lambda: cable.sleeved)
    says = f"{shown(cable.fuse_distance)} of the cable from {cable.start} to {cable.end} lie before its fuse"
    says += "." if sleeved else ", unsleeved."
    return at_most(
        cable.fuse_distance,
        limit,
        says,
        on=on,
        advice=advice(on, FUSE_DISTANCE_SLEEVED if sleeved else FUSE_DISTANCE),
    )


@rule(
    "power.fuse-cable-match",
    level="error",
    due="quote",
    sources=[
        *q.LIMITING_RATINGS,
        sources.FUSE_LINKS.giving("formula", "series of fuses that are advised", known="from memory"),
        FUSE_LOAD.giving("limit", "80 % of the fuse's rating"),
        sources.FUSE_LINKS.giving(
            "limit", "1.35 times its rating for a minute and more", known="from memory", demands=["cranking"]
        ),
        INSULATED.giving("limit", "air no hotter than the insulation bears", demands=["insulation"]),
        STARTER_FUSE.giving("limit", "a starter cable's fuse above the cable's rating"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=[q.ENGINE_SPACE_AIR],
    adjust=["electrics.cables.*.fuse", "electrics.cables.*.size"],
    each=network.cables,
    instead={"electrics.cables.*.fuse": "electrics.cables.*.fused"},
    without={
        "electrics.cables.*.place_temperature": "Left unsaid it is 50 °C in an engine space and 30 °C elsewhere, "
        "less than any class of insulation bears, 70 °C and more.",
    },
    bad=[
        {"electrics.cables.ecm.fuse": "60 A"},
        {"electrics.cables.ecm.fuse": "40 A"},
        {"electrics.cables.cab.current": "45 A"},
        {"electrics.cables.starter.place_temperature": "110 degC"},
    ],
    good=[
        {"electrics.cables.ecm.fuse": "25 A"},
        {
            "electrics.cables.battery.size": "95 mm2",
            "electrics.cables.starter.size": "95 mm2",
            "electrics.cables.starter.fused": True,
            "electrics.cables.starter.fuse": "300 A",
            "electrics.cables.starter.fuse_distance": "150 mm",
        },
    ],
)
def fuse_cable_match(build: Build, cable: Any) -> Verdict:
    """Will the fuse blow before the cable overheats, and not in normal duty?

    Computes: the cable's current rating from its size and insulation, times the factors for the air around it and for
    the loaded conductors bundled with it. The air is that stated of the place, of a battery in the same engine space,
    or 50 °C there and 30 °C elsewhere. A cable without a fuse of its own is protected by the next one towards the
    battery. A feeder carries what its branches take together, times the share that runs at one time. Where the end of
    a cable is fed by another way too, the smallest fuse on that way counts as well, as if every relay were closed.
    Limit: the fuse's rating must not exceed the cable's: an error, but a note for a starter cable or a link between
    batteries, whose fuse must stand the cranking current. The continuous current may take 80 % of the fuse's
    rating, better 75 %: a warning. No road-vehicle standard prints a general table of ratings; those for small craft
    are used by analogy, which is common practice. The table of gauges is published (33 CFR 183.425), and holds between
    two gauges by area; the metric one is from memory: above it and not above the other a person decides.
    A starter cable's fuse takes the cranking current over 1.35, which fuse links bear for a minute and more (from
    memory): a warning.
    Consequence: The cable overheats before the fuse blows and may catch fire, or the fuse blows in normal duty.
    Remedy: the smallest cable that takes the fuse, or the largest fuse that the cable takes; never a bigger fuse to
    stop it blowing. A thin cable that branches off a thick one takes a fuse of its own there.
    Cannot tell: inrush against the fuse's time curve.
    """
    air = given(lambda: cable.place_temperature)
    if air is not None and air > cable.insulation_temp:
        says = f"The air around it has {shown(air)}, and its insulation bears {shown(cable.insulation_temp)}: "
        says += "lead it elsewhere, or take a cable of a higher class."
        return all_of(insulation=lambda: holds(False, says, on=f"{path_of(cable)}.insulation_temp"))
    guard = network.protecting(build, cable)
    if guard is None:
        if network.is_fed(build, cable):
            return does_not_apply("No fuse protects this cable: see power.main-fuse.")
        says = (
            f"It has no fuse, and no cable leads from a battery to '{cable.start}', where it starts: state what feeds "
        )
        return needs_review(f"{says}it, each cable from the side of its source.", on=f"{path_of(cable)}.start")
    if path_of(guard) != path_of(cable):
        nothing = _guarded_otherwise(build, cable, guard)
        if nothing is not None:
            return nothing
        name = "metric-size" if given(lambda: _above_metric_only(build, cable, guard)) else "cable"
        return all_of({name: lambda: _behind(build, cable, guard), **_backwards(build, cable)})
    demands: dict[str, Callable[[], Verdict]] = {"cable": lambda: _cable_stands_fuse(build, cable)}
    if cable.role not in network.STARTING and given(lambda: _above_metric_only(build, cable, cable)):
        demands = {"metric-size": lambda: _cable_stands_fuse(build, cable)}
    demands |= _backwards(build, cable)
    if cable.role == "starter":
        demands["cranking"] = lambda: _stands_cranking(build, cable)
    if cable.role not in (*network.OWN_RULES, *network.HEATERS):
        demands["load"] = lambda: _load_on_fuse(build, cable)
    return all_of(demands)


def _above_metric_only(build: Build, cable: Any, guard: Any) -> bool:
    """Whether a fuse is above the cable's rating by the metric table, and not above that by the published one."""
    rating = q.rating_or_none(build, cable)
    return rating is not None and bool(rating < guard.fuse <= q.published_rating(build, cable, rating))


def _beyond_any(build: Build, cable: Any, fuse: float, on: str) -> Verdict | None:
    """The verdict on a cable that no table knows, behind a fuse that is too big for any of its area."""
    if q.rating_or_none(build, cable) is not None:
        return None
    most = conductors.ampacity_at_most(cable.size, q.installation(build, cable))
    if fuse <= most:
        return None
    says = (
        f"The fuse is {shown(fuse)}. No table has a {shown(cable.size)} {network.material_of(cable).value} cable; the "
        f"next copper gauge may carry {shown(most, 'current', 'A')} {q.where_it_lies(build, cable)}, and this one less."
    )
    return at_most(fuse, most, says, on=on, unit=("current", "A"))


def _cable_stands_fuse(build: Build, cable: Any) -> Verdict:
    beyond = _beyond_any(build, cable, cable.fuse, f"{path_of(cable)}.fuse")
    if beyond is not None and cable.role not in network.STARTING:
        return beyond
    rating, fuse = q.cable_rating(build, cable), cable.fuse
    lies = q.where_it_lies(build, cable)
    says = f"The fuse is {shown(fuse)}; the {shown(cable.size)} cable may carry {shown(rating)} {lies}."
    if cable.role in network.STARTING:
        says += (
            " Cranking takes more than a starter cable carries for long, so that its fuse guards against a dead short, "
            "and not against a starter that sticks: have a main switch in reach."
        )
        return at_most(fuse, rating, says, level="note", on=f"{path_of(cable)}.fuse")
    return _stands(build, cable, fuse, rating, says)


def _stands(build: Build, cable: Any, fuse: float, rating: float, says: str) -> Verdict:
    path = path_of(cable)
    if fuse <= rating:
        return at_most(fuse, rating, says, on=f"{path}.fuse")
    ways = [
        advice(f"{path}.fuse", largest_protecting(rating)),
        advice(f"{path}.size", smallest_carrying(build, cable, fuse)),
    ]
    return at_most(fuse, rating, says, on=f"{path}.fuse", advice=ways)


def _guarded_otherwise(build: Build, cable: Any, guard: Any) -> Verdict | None:
    """The verdict on a cable that only the fuse of another one protects, where that one is judged instead."""
    guards = given(lambda: q.rating_or_none(build, guard))
    where = f"the cable from {guard.start} to {guard.end}"
    if guard.role in network.STARTING:
        if cable.role in network.STARTING:
            return does_not_apply(f"The fuse in {where} guards it against a dead short, as a starter cable's does.")
    elif guards is not None and guard.fuse > guards:
        return does_not_apply(f"The fuse in {where}, which protects it, is too big for that cable already.")
    return None


def _behind(build: Build, cable: Any, guard: Any) -> Verdict:
    """The verdict on a cable that only the fuse of another one protects: that is wrong where this one is thinner."""
    on = f"{path_of(cable)}.size"
    beyond = _beyond_any(build, cable, guard.fuse, on)
    if beyond is not None:
        return beyond
    fuse, rating = guard.fuse, q.cable_rating(build, cable)
    where = f"the cable from {guard.start} to {guard.end}"
    says = (
        f"It has no fuse of its own, and the next one, in {where}, is {shown(fuse)}; this {shown(cable.size)} cable "
        f"may carry {shown(rating)} {q.where_it_lies(build, cable)}."
    )
    if fuse <= rating:
        return at_most(fuse, rating, says, on=on)
    says += " It takes a fuse of its own where it branches off, or more copper."
    return at_most(fuse, rating, says, on=on, advice=advice(on, smallest_carrying(build, cable, fuse)))


def _backwards(build: Build, cable: Any) -> dict[str, Callable[[], Verdict]]:
    """What is asked of a cable whose end is fed by another way too: current runs backwards through it into a short."""
    other = network.from_its_end(build, cable)
    return {} if not other else {"cable.from-its-end": lambda: _stands_from_its_end(build, cable, other)}


def _stands_from_its_end(build: Build, cable: Any, other: list[Any]) -> Verdict:
    on, last = f"{path_of(cable)}.end", other[-1]
    says = f"Its end, {cable.end}, is fed by the cable from {last.start} to {last.end} too, "
    fuses_there = [part.fuse for part in other if network.has_fuse(part)]
    if not fuses_there:
        says += "with no fuse on that way, and this cable's own fuse is at its other end: join it to one feed only."
        return holds(False, says, on=on)
    rating, least = q.cable_rating(build, cable), min(fuses_there)
    most = q.published_rating(build, cable, rating)
    says += f"behind a fuse of {shown(least)}; this {shown(cable.size)} cable may carry "
    says += f"{shown(most, 'current', 'A')} {q.where_it_lies(build, cable)}."
    if least > most:
        says += " A short in it is fed backwards past its own fuse: join its end to one feed only, or fit a diode."
    return at_most(least, most, says, on=on, unit=("current", "A"))


def _stands_cranking(build: Build, cable: Any) -> Verdict:
    """Whether a starter cable's fuse stands a long start."""
    drawn, on = build.engine.starter.cranking_current, f"{path_of(cable)}.fuse"
    least = drawn / FUSE_LASTS
    says = f"Its fuse is {shown(cable.fuse)}; the starter takes {shown(drawn)} as long as somebody cranks."
    if cable.fuse < least:
        says += " It blows in a long start: a larger one, or none and a sleeve."
    return at_least(cable.fuse, least, says, level="warning", on=on, advice=advice(on, least))


def _load_on_fuse(build: Build, cable: Any) -> Verdict:
    load, fuse, on = q.carried(build, cable), cable.fuse, f"{path_of(cable)}.fuse"
    says = f"{shown(load, 'current', 'A')} run through a fuse of {shown(fuse)} continuously."
    if load > q.current_in(build, cable):
        says = (
            f"The branches behind it take {shown(load, 'current', 'A')} together, continuously, through a fuse of "
            f"{shown(fuse)}; {shown(cable.current)} are stated."
        )
    help = advice(on, _fuse_for(load))
    return at_most(load, FUSE_LOAD_MAX * fuse, says, level="warning", on=on, advice=help, unit=("current", "A"))


def _fuse_for(load: float) -> float | None:
    """The smallest fuse that stands a continuous load; None where none of the series does, or nothing flows."""
    try:
        return fuses.smallest_fuse(load)
    except (ImpossibleInput, OutsideRange):
        return None
