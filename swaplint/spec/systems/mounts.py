"""Fields of the mounts system: what carries the engine."""

from __future__ import annotations

from swaplint.spec.fields import LOOK, Part, flag


class Mount(Part):
    """One mount of the engine or gearbox."""

    insulating: bool = flag(
        "whether rubber or the like keeps engine and frame from touching there, so that no current passes",
        typical=True,
        where=LOOK,
    )
