"""For tests that ask a pack's functions directly: the sound spec with edits as a build, and cables by their ends."""

from __future__ import annotations

from typing import Any

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base


def build(edits: dict[str, Any] | None = None) -> Any:
    """What a rule is given of the sound spec with some edits."""
    return View(sound_spec(rule_base(), edits or {}).build).build


def wires(*joined: tuple[str, str], **more: Any) -> dict[str, Any]:
    """Cables w0, w1 ... from node to node."""
    laid = {"role": "other", "size": "4 mm2", "length": "1 m", "current": "1 A", "insulation_temp": "105 degC"}
    laid |= {"place": "cab", "bundled_with": 0, "fused": False, "sleeved": True} | more
    ends = enumerate(joined)
    return {f"electrics.cables.w{number}": {**laid, "start": start, "end": end} for number, (start, end) in ends}
