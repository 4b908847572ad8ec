"""Trials of the first drive: marks in the gaps, laden shaft angles, shifting, noise."""

from typing import Any

from swaplint.spec.fields import METER, PROTRACTOR, TRIAL, Section, count, measure, parts
from swaplint.spec.systems.commissioning.trial import Trial, turning


class GapMark(Section):
    """The mark that was put into one gap."""

    least: float = measure(
        "least gap that the mark still shows after the drive; 0 where something touched",
        "length",
        "mm",
        typical=20,
        plausible=(0, 500),
        where=TRIAL,
        zero=True,
    )


class LaunchTrial(Trial):
    """A hard start in first gear, a hard stop and rough ground, with putty in every gap around the engine."""

    gaps: dict[str, GapMark] = parts("what the mark in each gap shows, under the gap's own name", grows=True)


def _angle(where: str) -> Any:
    return measure(
        f"change of direction at the joint at its {where} in side view, laden; upwards positive seen along the drive",
        "angle",
        "deg",
        typical=3,
        plausible=(-25, 25),
        where=PROTRACTOR,
        signed=True,
    )


class ShaftAngles(Section):
    """The angles of one propshaft's joints on the finished vehicle."""

    input: float = _angle("driving end")
    output: float = _angle("driven end")


class LadenTrial(Trial):
    """The finished vehicle, laden as it will mostly run, on level ground."""

    shafts: dict[str, ShaftAngles] = parts(
        "the joints' angles of each propshaft, under the shaft's own name", grows=True
    )


class ShiftTrial(Trial):
    """One up-shift at full load: the one into top gear, or into the highest gear that the place allows."""

    gear: float = count("gear that was left, 1 for the first", typical=4, plausible=(1, 20), where=TRIAL)
    before: float = turning("engine speed at which that shift began", 2600)
    after: float = turning("engine speed at which the engine pulls again in the next gear", 2000)


def _heard(what: str, typical: float) -> Any:
    return measure(what, "sound_level", "dB(A)", typical=typical, plausible=(20, 130), where=METER)


class NoiseTrial(Trial):
    """The stationary test of noise: is the figure in `vehicle.noise.now` one that holds?"""

    loudest: float = _heard("loudest of three readings or more", 85.2)
    quietest: float = _heard("quietest of them", 84.6)
    background: float = _heard("what the meter showed with the engine stopped", 52)
    speed: float = turning("engine speed that was held", 2000)
    calibrator: float = _heard("level that the calibrator is marked with", 94)
    calibrated_before: float = _heard("what the meter showed of its calibrator before the test", 94.0)
    calibrated_after: float = _heard("what it showed of the calibrator after the test", 94.1)
