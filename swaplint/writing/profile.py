"""What is known of a build before anything is measured: a few words that say what of a draft does not apply."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

AXLES = "driveline.axles"


class Profile(NamedTuple):
    """A build in a few words; each is empty where it is not known."""

    fuel: str = ""
    """What the engine burns."""
    gearbox: str = ""
    """How the gearbox is shifted."""
    driven: str = ""
    """Which wheels are driven: front, rear or all."""
    brakes: str = ""
    """What helps the driver's foot."""
    bus: str = ""
    """Whether there is a data bus: yes or no."""

    def stated(self) -> dict[str, bool | str]:
        """What it says, as fields of the spec: what does not apply is not fitted."""
        out: dict[str, bool | str] = {}
        if self.fuel:
            out["engine.fuel_type"] = self.fuel
        if self.gearbox:
            out["driveline.gearbox.kind"] = self.gearbox
            other = "converter" if self.gearbox == "manual" else "clutch"
            out[f"driveline.{other}.fitted"] = False
        if self.driven:
            if self.driven != "all":
                out["driveline.transfer.fitted"] = False
            out.update({f"{AXLES}.{name}.driven": self.driven in (name, "all") for name in ("front", "rear")})
        if self.brakes:
            out["vehicle.brakes.assist"] = self.brakes
            if self.brakes == "none":
                out["vehicle.brakes.booster.fitted"] = False
        if self.bus:
            out["engine.network.fitted"] = out["electrics.network.fitted"] = self.bus == "yes"
        return out

    def names(self) -> dict[str, Sequence[str]]:
        """The names of parts that it knows, by their collection."""
        return {AXLES: ("front", "rear")} if self.driven else {}


NOTHING_KNOWN = Profile()
