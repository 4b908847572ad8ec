"""Trials of the first drive: marks in the gaps, laden shaft angles, shifting, noise."""

from typing import Any

from swaplint.spec.fields import METER, PROTRACTOR, TRIAL, Section, count, measure, number, numbers, parts
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


class NoiseTrial(Trial):
    """The stationary test of noise: is the figure in `vehicle.noise.now` one that holds?"""

    readings: list[float] = numbers(
        "what the meter showed each time, in dB(A)", typical=(85.0, 84.6, 85.2), plausible=(40, 130), where=METER
    )
    background: float = number(
        "what it showed with the engine stopped, in dB(A)", typical=52, plausible=(20, 110), where=METER
    )
    speed: float = turning("engine speed that was held", 2000)
    calibrated_before: float = number(
        "what the meter showed of its calibrator before the test, in dB", typical=94.0, plausible=(60, 130), where=METER
    )
    calibrated_after: float = number(
        "what it showed of the calibrator after the test, in dB", typical=94.1, plausible=(60, 130), where=METER
    )
