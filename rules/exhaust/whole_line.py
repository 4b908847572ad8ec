"""The rule about an exhaust without gaps: every pipe between engine and open air, and a silencer."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    cautions,
    each_of,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    part_named,
    path_of,
    practice,
    rule,
)
from swaplint.spec.systems.exhaust import ExhaustDevice
from swaplint.spec.systems.exhaust.pipework import ENGINE, OPEN_AIR

from .. import sources
from . import quantities as q

PIPES = "plumbing.exhaust.pipes"

JOINED = practice("the exhaust leads from the engine's outlet to the open air without a gap")
SILENCER = "silencer"
ALSO_QUIETEN = ("particulate-filter", "selective-catalyst")
"""Devices that may take the place of a silencer; whether one does only a measurement tells."""


@rule(
    "exhaust.whole-line",
    level="error",
    due="build",
    sources=[
        JOINED.giving("limit", "from the engine to the open air", demands=["joined"]),
        sources.US_MUFFLER.giving("limit", "a silencer on every road vehicle", demands=["silencer"]),
    ],
    cautions=[cautions.EXHAUST_GAS],
    about=PIPES,
    bad=[
        {f"{PIPES}.down.end": "flange"},
        {f"{PIPES}.tail.end": "side"},
    ],
    good=[{f"{PIPES}.down.end": "joint", f"{PIPES}.tail.start": "joint"}],
)
def whole_line(build: Build) -> Verdict:
    """Do the pipes lead from the engine to the open air without a gap, and is there a silencer?

    Computes: nothing; it follows the pipes from what each starts at to what it ends at.
    Limit: a pipe that starts at the engine, for each joint or device that one ends at another that starts there,
    and one that ends in the open air: common practice, an error. A silencer: a law for road vehicles of one
    state, which others have alike, held against every vehicle: a warning. A particulate filter or a catalyst for
    reductant may do its work: a person decides, by what the test of the noise comes to.
    Consequence: A pipe that nobody listed is neither bought nor judged: gas leaks out under the cab.
    Remedy: state the pipe that is missing; give the two ends that meet one name.
    Cannot tell: whether the ends meet on the vehicle, and leaks at the joints.
    """
    return all_of(joined=lambda: _joined(build), silencer=lambda: _silencer(build))


def _joined(build: Build) -> Verdict:
    pipes = q.pipes(build)
    ends = [(name_of(pipe), _plain(pipe.start), _plain(pipe.end)) for pipe in pipes]
    starts = {start for _, start, _ in ends}
    reached = {ENGINE}
    for _ in ends:
        reached |= {end for _, start, end in ends if start in reached}
    wrong: list[str] = []
    if ENGINE not in starts:
        wrong.append("No pipe starts at the engine: state the one that does.")
    else:
        loose = sorted(reached - starts - {OPEN_AIR})
        wrong += [f"A pipe ends at {end}, and none starts there: state the one that leads on." for end in loose]
        wrong += [
            f"No pipe leads to {start}, where {name} starts: state it, or put the name right."
            for name, start, _ in ends
            if start not in reached
        ]
        if not wrong and OPEN_AIR not in reached:
            wrong.append("The pipes lead in a circle and never into the open: put their ends right.")
    wrong += [f"{name} starts in the open air: turn it round." for name, start, _ in ends if start == OPEN_AIR]
    return holds(not wrong, " ".join(wrong) or "The pipes lead from the engine to the open air.", on=PIPES)


def _plain(name: str) -> str:
    """A joint's name as it is compared: Open-Air and open-air are one."""
    return str(name).strip().casefold()


def _silencer(build: Build) -> Verdict:
    every = each_of(build.plumbing.exhaust.devices)
    may_be = [device for device in every if _may_be_silencer(device)]
    silencers = may_be or [part_named(build.plumbing.exhaust, "devices", SILENCER)]
    on = path_of(silencers[0])
    if any(is_fitted(device) and device.kind == SILENCER for device in silencers):
        return holds(True, "A silencer is fitted.", level="warning", on=on)
    others = sorted(name_of(device) for device in every if is_fitted(device) and device.kind in ALSO_QUIETEN)
    if others:
        says = f"There is no silencer, only {' and '.join(others)}: whether that is quiet enough the noise test tells."
        return needs_review(says, on=on)
    return holds(False, "There is no silencer: no road vehicle may go without. Fit one.", level="warning", on=on)


def _may_be_silencer(device: ExhaustDevice) -> bool:
    """Whether it is one, or nobody says what it is; one that is not fitted goes by its name."""
    if not is_fitted(device):
        return SILENCER in name_of(device)
    return given(lambda: str(device.kind)) in (SILENCER, None)
