"""What must hold of what a pack adds to the take-off, whatever it lists."""

from __future__ import annotations

from dataclasses import replace

from swaplint.declare.listings import Listing
from swaplint.host.packs import RuleBase
from swaplint.inspecting.results import Inspection
from swaplint.kit.edits import sound_spec
from swaplint.making.takeoff import take_off
from swaplint.spec.job import STAGES
from swaplint.spec.loading import load_text


def check_listing(base: RuleBase, one: Listing) -> list[str]:
    """It lists what the sound spec has, and on a spec that states nothing it says what it lacks."""
    packs = [replace(pack, listings=[one]) for pack in base.packs if one in pack.listings]
    alone = RuleBase(packs, [], base.model)
    sheet = one.kind.on[0]
    sound = take_off(alone, Inspection(sound_spec(base), STAGES[-1]), sheet)
    faults = [problem.what for problem in sound.problems]
    faults += [
        f"{one.id}: on the sound spec a row lacks {path}" for row in sound.rows[one.list] for path in row.unknown
    ]
    empty = take_off(alone, Inspection(load_text("", model=base.model), STAGES[0]), sheet)
    faults += [problem.what for problem in empty.problems]
    stated = [cell for row in empty.rows[one.list] for cell in row.cells.values() if isinstance(cell.value, float)]
    if stated:
        faults.append(f"{one.id}: gives {stated[0].source or 'a number'} on a spec that states nothing")
    return faults
