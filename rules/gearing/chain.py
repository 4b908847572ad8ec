"""The chain from crank to wheels: which part is joined to which, whatever vehicles they come from.

Each part states its own faces and splines, so that a joint is two statements by two parts, and a break in the chain
is seen where two of them do not meet. A joint is named by the side further from the crank.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    given,
    is_fitted,
    name_of,
    once,
    only_asking,
    part_named,
    path_of,
)

TRANSFER = "transfer"


@dataclass(frozen=True, slots=True)
class Joint:
    """Two sides that meet: the one that the joint is named by, and how to find the other.

    A bolted joint is named by the side further from the crank. `ahead` returns None where nothing stands ahead; `gap`
    then says what is missing.
    """

    side: Any
    ahead: Callable[[], Any | None]
    gap: str = ""

    def __str__(self) -> str:
        """The path of the side that it is named by."""
        return path_of(self.side)


def left_out(part: Any) -> bool:
    """Whether a part is stated as not fitted. A part that is not stated at all counts as one still to be stated."""
    return given(lambda: is_fitted(part)) is False


def has_converter(build: Build) -> bool:
    """Whether a torque converter takes the place of the clutch: an automatic may also be an automated clutch."""
    return build.driveline.gearbox.kind == "automatic" and not left_out(build.driveline.converter)


# -- shafts and axles -------------------------------------------------------------------------------------------------
@once
def shafts(build: Build) -> tuple[Any, ...]:
    """The propshafts that are fitted."""
    return tuple(shaft for shaft in build.driveline.shafts.values() if not left_out(shaft))


@once
def shaft_named(build: Build, name: str) -> Any | None:
    """The shaft of a name, or None."""
    return next((shaft for shaft in shafts(build) if name_of(shaft) == name), None)


def _axle_of(build: Build, shaft: Any) -> Any | None:
    """The axle that a shaft is said to drive, or None."""
    goal = given(lambda: shaft.drives)
    return None if goal is None else build.driveline.axles.get(goal)


def _ends_at_an_axle(build: Build, shaft: Any) -> bool:
    """Whether a shaft ends at an axle through which another is driven. Else what follows it does so at a bearing."""
    axle = _axle_of(build, shaft)
    return axle is not None and given(lambda: axle.through_output.pattern) is not None


@once
def axle_ahead(build: Build, shaft: Any) -> Any | None:
    """The axle through which a shaft is driven, as the second one of a tandem is; None where another part drives it."""
    driver = shaft.driven_by
    ahead = shaft_named(build, driver)
    if ahead is None:
        return build.driveline.axles.get(driver)
    return _axle_of(build, ahead) if _ends_at_an_axle(build, ahead) else None


@once
def shaft_behind(build: Build, shaft: Any) -> Any | None:
    """The shaft that another one drives, or None where it drives an axle or the transfer case."""
    return None if _ends_at_an_axle(build, shaft) else _driven_by(build, name_of(shaft))


@once
def _driven_by(build: Build, name: str) -> Any | None:
    """The shaft that says that one of a name drives it. By itself: of hundreds of shafts all rest on the same reads."""
    return next((other for other in shafts(build) if other.driven_by == name), None)


def target(build: Build, shaft: Any) -> str:
    """What the line of shafts drives that a shaft belongs to: `transfer` or the name of an axle."""
    for _ in range(len(shafts(build))):
        behind = shaft_behind(build, shaft)
        if behind is None:
            drives: str = shaft.drives
            return drives
        shaft = behind
    raise OutsideRange(f"the shafts from {path_of(shaft)} on drive each other in a circle")


@once
def line_to(build: Build, shaft: Any) -> tuple[Any, ...]:
    """The shafts from the gearbox, transfer case or axle ahead to a shaft, in order, itself the last."""
    line = [shaft]
    for _ in range(len(shafts(build))):
        ahead = shaft_named(build, line[0].driven_by)
        if ahead is None or axle_ahead(build, line[0]) is not None:
            return tuple(line)
        line.insert(0, ahead)
    raise OutsideRange(f"the shafts up to {path_of(shaft)} drive each other in a circle")


def last_shafts(build: Build) -> list[Any]:
    """The last shaft of every line: the one that drives an axle or the transfer case."""
    return [shaft for shaft in shafts(build) if shaft_behind(build, shaft) is None]


def shaft_to(build: Build, wanted: str) -> Any | None:
    """The last shaft of the line to an axle or to the transfer case, or None."""
    return next((shaft for shaft in last_shafts(build) if shaft.drives == wanted), None)


@once
def axles_behind(build: Build, axle: Any) -> tuple[Any, ...]:
    """An axle and those that are driven through it."""
    found = [axle]
    for _ in range(len(build.driveline.axles)):
        names = {path_of(one) for one in found}
        further = [_axle_of(build, shaft) for shaft in last_shafts(build) if _driven_through(build, shaft, names)]
        new = [one for one in further if one is not None and path_of(one) not in names]
        if not new:
            break
        found += new
    return tuple(found)


def _driven_through(build: Build, shaft: Any, names: set[str]) -> bool:
    ahead = axle_ahead(build, line_to(build, shaft)[0])
    return ahead is not None and path_of(ahead) in names


# -- which axles the engine drives, and when ---------------------------------------------------------------------------
ALWAYS, SELECTED, LOW_ONLY, NEVER = "always", "when-selected", "low-range", "never"


def engaged(build: Build, axle: Any) -> str:
    """When the engine can drive an axle: always, when it is selected, in low range only, or never.

    What is stated of it counts, also against a `driven` that says otherwise: driveline.axle-torque reports the two.
    An axle that is not driven on the road and has a shaft all the same can be selected, where nobody says more.
    """
    on_the_road = axle.driven
    stated = given(lambda: axle.engaged)
    if stated is None:
        return ALWAYS if on_the_road else SELECTED if _has_shaft(build, axle) else NEVER
    return str(stated)


def driven_on_the_road(axle: Any) -> bool:
    """Whether the engine drives an axle on the road without anybody selecting it."""
    stated = given(lambda: axle.engaged)
    return bool(axle.driven) if stated is None else stated == ALWAYS


def says_otherwise(axle: Any) -> bool:
    """Whether an axle is stated as driven in road use and as engaged at times only, or the other way round."""
    stated = given(lambda: axle.engaged)
    return stated is not None and (stated == ALWAYS) != axle.driven


def words(when: str) -> str:
    """When an axle is engaged, in words."""
    return {SELECTED: "when selected", LOW_ONLY: "in low range only"}.get(when, when)


@once
def powered_axles(build: Build) -> tuple[Any, ...]:
    """The axles that the engine can drive in any range."""
    fitted = [axle for axle in build.driveline.axles.values() if not left_out(axle)]
    return tuple(axle for axle in fitted if engaged(build, axle) != NEVER)


@once
def powered_or_asked(build: Build) -> tuple[Any, ...]:
    """The same; of a vehicle with one axle listed the other, too, of which nobody says whether the engine drives it."""
    listed = list(build.driveline.axles.values())
    if len(listed) != 1 or left_out(listed[0]) or only_asking(build):
        return powered_axles(build)
    other = "rear" if name_of(listed[0]).startswith("front") else "front"
    return (*powered_axles(build), part_named(build.driveline, "axles", other))


@once
def oiled_axles(build: Build) -> tuple[Any, ...]:
    """The axles with a final drive that holds oil: those that the engine can drive, and any whose oil is stated.

    A trailing axle, or a front axle that only steers, has greased hubs and no oil to fill.
    """
    fitted = [axle for axle in build.driveline.axles.values() if not left_out(axle)]
    return tuple(axle for axle in fitted if _oil_stated(axle) or engaged(build, axle) != NEVER)


def _oil_stated(axle: Any) -> bool:
    return given(lambda: axle.oil.volume) is not None


@dataclass(frozen=True, slots=True)
class Drive:
    """A state in which the engine drives the vehicle: the range of the transfer case, and the axles that it drives."""

    low: bool
    axles: tuple[Any, ...]

    @property
    def key(self) -> tuple[bool, int]:
        """What tells the states of a build apart: with the same range more axles are driven in one than in another."""
        return self.low, len(self.axles)


@once
def drives(build: Build) -> tuple[Drive, ...]:
    """The states in which the engine drives: on the road, with the axles that can be selected, and in low range.

    In low range every powered axle is taken as engaged.
    """
    powered = powered_axles(build)
    road = tuple(axle for axle in powered if engaged(build, axle) == ALWAYS)
    high = tuple(axle for axle in powered if engaged(build, axle) != LOW_ONLY)
    found = [Drive(False, road)] if road else []
    if len(high) > len(road):
        found.append(Drive(False, high))
    return (*found, Drive(True, powered))


def drives_of(build: Build, axle: Any) -> list[Drive]:
    """The states in which an axle is driven."""
    own = path_of(axle)
    return [drive for drive in drives(build) if own in _driven_in(build, *drive.key)]


@once
def _driven_in(build: Build, low: bool, count: int) -> frozenset[str]:
    """The paths of the axles that are driven in a state."""
    return frozenset(path_of(axle) for axle in drive_of(build, low, count).axles)


def drive_of(build: Build, low: bool, count: int) -> Drive:
    """A state by its key."""
    return next(drive for drive in drives(build) if drive.key == (low, count))


def turns_with_the_wheels(build: Build, axle: Any) -> bool:
    """Whether an axle's shaft turns whenever the vehicle moves, be it driven or dragged along."""
    if engaged(build, axle) == ALWAYS or given(lambda: axle.engaged) is None:
        return True
    return bool(axle.freed_by == "nothing")


def moves_with_the_wheels(build: Build, shaft: Any) -> bool:
    """Whether the driven end of a shaft goes up and down with the suspension.

    It does not where another shaft follows at a centre bearing, where it drives the transfer case, and where the
    axle's final drive hangs on the frame.
    """
    if shaft_behind(build, shaft) is not None:
        return False
    goal = given(lambda: shaft.drives)
    if goal == TRANSFER:
        return False
    axle = build.driveline.axles.get(goal) if goal is not None else None
    return axle is None or given(lambda: axle.final_drive_on) != "frame"


THROUGH = {"chain": "a chain", "belt": "a belt", "hydraulic": "hydraulic motors", "electric": "electric motors"}
"""What may drive an axle instead of a shaft, in words."""
MOTORS = ("hydraulic", "electric")
"""What drives an axle at a ratio that is not fixed."""


def driven_through(axle: Any) -> str:
    """What brings the torque to an axle; a shaft, where nobody says more."""
    return given(lambda: str(axle.driven_through)) or "shaft"


def fixed_ratio(axle: Any) -> float:
    """The ratio of an axle's final drive, which motors have none of."""
    through = driven_through(axle)
    if through in MOTORS:
        raise OutsideRange(
            f"{path_of(axle)} is driven by {THROUGH[through]}, whose ratio is not fixed: what the wheels get from the "
            "engine is for the maker of that drive to say"
        )
    return float(axle.ratio)


def in_the_housing(axle: Any) -> bool:
    """Whether an axle's final drive is said to stand in the housing of gearbox or transfer case."""
    return given(lambda: axle.integral) is True


def needs_no_shaft(axle: Any) -> bool:
    """Whether something else than a propshaft is said to drive an axle."""
    return in_the_housing(axle) or driven_through(axle) != "shaft"


def _has_shaft(build: Build, axle: Any) -> bool:
    return given(lambda: shaft_to(build, name_of(axle))) is not None


# -- the stack between engine and gearbox ---------------------------------------------------------------------------
HOUSING_SIDE, CRANK_SIDE, CONVERTER_SIDE = "housing", "crank", "flywheel"


def pieces(build: Build) -> list[Any]:
    """The further pieces between engine and gearbox that are fitted."""
    listed = given(lambda: list(build.driveline.adapter_pieces.values())) or []
    return [piece for piece in listed if not left_out(piece)]


def pieces_on(build: Build, root: str) -> list[Any]:
    """The further pieces of one side in order from the engine: behind the housing or adapter, crank, or flex-plate."""
    meets = {CRANK_SIDE: "crank", CONVERTER_SIDE: "flywheel"}.get(root)
    at = {meets} if meets is not None else {"housing", "adapter"}
    listed, found = pieces(build), []
    for _ in listed:
        behind = [piece for piece in listed if piece.meets in at]
        if not behind:
            break
        if len(behind) > 1:
            raise ImpossibleInput(f"{path_of(behind[0])} and {path_of(behind[1])} bolt to the same face")
        found.append(behind[0])
        at = {name_of(behind[0])}
    return found


def thickness_on(build: Build, root: str) -> float:
    """Thickness of the further pieces of one side together."""
    return sum((float(piece.thickness) for piece in pieces_on(build, root)), 0.0)


def _last_face(build: Build, root: str, otherwise: Any) -> Any:
    """The face that what follows bolts to: of the last piece of a side, or what stands there without one."""
    found = pieces_on(build, root)
    return found[-1].gearbox_side if found else otherwise


def _face_that_it_meets(build: Build, piece: Any) -> Any | None:
    """The face that a further piece's engine side bolts to, or None where it names nothing that the build has."""
    engine, driveline = build.engine, build.driveline
    meets = piece.meets
    if meets == "adapter":
        return None if left_out(driveline.adapter) else driveline.adapter.gearbox_side
    if meets == "housing":
        return engine.flywheel_housing if left_out(driveline.adapter) else None
    if meets in ("crank", "flywheel"):
        return engine.crank.flange if meets == "crank" else engine.flywheel.clutch_side
    ahead = next((other for other in pieces(build) if name_of(other) == meets), None)
    return None if ahead is None else ahead.gearbox_side


# -- bolted joints ----------------------------------------------------------------------------------------------------
def joints(build: Build) -> list[Joint]:
    """Every bolted joint of the chain, from the crank on."""
    return [*_to_the_gearbox(build), *_behind_it(build), *_at_the_axles(build)]


def _to_the_gearbox(build: Build) -> Iterator[Joint]:
    engine, driveline = build.engine, build.driveline
    yield Joint(engine.flywheel.crank_side, lambda: _last_face(build, CRANK_SIDE, engine.crank.flange))
    automatic = has_converter(build)
    coupled = driveline.converter.flex_plate_side if automatic else driveline.clutch.cover
    yield Joint(coupled, lambda: _last_face(build, CONVERTER_SIDE, engine.flywheel.clutch_side))
    adapter = driveline.adapter
    if left_out(adapter):
        yield Joint(driveline.gearbox.front_face, lambda: _last_face(build, HOUSING_SIDE, engine.flywheel_housing))
    else:
        yield Joint(adapter.engine_side, lambda: engine.flywheel_housing)
        yield Joint(driveline.gearbox.front_face, lambda: _last_face(build, HOUSING_SIDE, adapter.gearbox_side))
    for piece in pieces(build):
        gap = f"{path_of(piece)}.meets names nothing that the build has there"
        yield Joint(piece.engine_side, partial(_face_that_it_meets, build, piece), gap)


def _behind_it(build: Build) -> Iterator[Joint]:
    transfer, gearbox = build.driveline.transfer, build.driveline.gearbox
    if not left_out(transfer):
        if given(lambda: transfer.mounting) == "remote":
            gap = "no shaft drives the transfer case"
            yield Joint(transfer.input_flange, lambda: _output_of(shaft_to(build, TRANSFER)), gap)
        else:
            yield Joint(transfer.front_face, lambda: gearbox.rear_face if transfer.mounting == "bolted" else None)
    for shaft in given(lambda: shafts(build)) or []:
        gap = f"{path_of(shaft)}.driven_by names nothing that the build has"
        yield Joint(shaft.input_flange, partial(_face_ahead_of, build, shaft), gap)


def _at_the_axles(build: Build) -> Iterator[Joint]:
    axles = given(lambda: list(build.driveline.axles.values())) or []
    if not axles:
        # Nobody says which axles there are: the chain has no end to look at, and that is what must be found out.
        yield Joint(build.driveline, lambda: list(build.driveline.axles.values()))
    for axle in axles:
        if not left_out(axle) and _asks_for_a_shaft(build, axle):
            gap = f"no shaft drives {path_of(axle)}"
            if _handed_on(build, axle):
                gap += ": where another axle is driven through it, state its through_output"
            yield Joint(axle.input_flange, partial(_face_at, build, axle), gap)


def _handed_on(build: Build, axle: Any) -> bool:
    """Whether a shaft that is said to drive an axle has another one behind it."""
    there = given(lambda: shafts(build)) or ()
    said = [shaft for shaft in there if given(partial(getattr, shaft, "drives")) == name_of(axle)]
    return any(shaft_behind(build, shaft) is not None for shaft in said)


def _asks_for_a_shaft(build: Build, axle: Any) -> bool:
    if in_the_housing(axle):
        return False
    if driven_through(axle) != "shaft":
        return _has_shaft(build, axle)
    if given(lambda: axle.driven) is not False or _has_shaft(build, axle):
        return True
    return given(lambda: axle.engaged) is not None


def _face_at(build: Build, axle: Any) -> Any | None:
    # Read first: where nobody says whether it is driven, or stands in the gearbox's housing, that is what is missing.
    axle.driven  # noqa: B018
    given(lambda: axle.engaged)
    given(lambda: axle.integral)
    shaft = shaft_to(build, name_of(axle))
    if shaft is None and given(lambda: axle.integral) is None and not _drives_nothing(build):
        axle.driven_through  # noqa: B018
    return _output_of(shaft)


@once
def _drives_nothing(build: Build) -> bool:
    """Whether a shaft is said to drive what the build has not: its name is wrong, and no other drive is missing."""
    goals = (given(partial(getattr, shaft, "drives")) for shaft in shafts(build))
    return any(goal is not None and goal != TRANSFER and goal not in build.driveline.axles for goal in goals)


def _output_of(shaft: Any | None) -> Any | None:
    return None if shaft is None else shaft.output_flange


def _face_ahead_of(build: Build, shaft: Any) -> Any | None:
    driver = shaft.driven_by
    if driver == "gearbox":
        return build.driveline.gearbox.output_flange
    transfer = build.driveline.transfer
    if driver in ("transfer-front", "transfer-rear"):
        if left_out(transfer):
            return None
        return transfer.front_output if driver == "transfer-front" else transfer.rear_output
    through = axle_ahead(build, shaft)
    return _output_of(shaft_named(build, driver)) if through is None else through.through_output


# -- splined joints ---------------------------------------------------------------------------------------------------
def splines(build: Build) -> list[Joint]:
    """Every splined joint of the chain, named by what slides onto one of the gearbox's shafts."""
    driveline = build.driveline
    coupling = driveline.converter if has_converter(build) else driveline.clutch
    found = [Joint(coupling.hub_spline, lambda: driveline.gearbox.input_spline)]
    transfer = driveline.transfer
    if not left_out(transfer) and given(lambda: transfer.mounting) != "remote":
        gap = "the transfer case is not bolted to the gearbox"
        found.append(
            Joint(
                transfer.input_spline,
                lambda: driveline.gearbox.output_spline if transfer.mounting == "bolted" else None,
                gap,
            )
        )
    return found
