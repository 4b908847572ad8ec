"""What must hold of a quantity that stands in for a field, whatever it computes."""

from __future__ import annotations

from typing import Any

from swaplint.build.estimates import about_a_part
from swaplint.build.nodes import NoLimit, NotFitted, Unknown
from swaplint.build.reading import path_of
from swaplint.build.reads import Reads
from swaplint.build.stated import value_at
from swaplint.build.view import View
from swaplint.declare.quantities import Quantity
from swaplint.host.packs import RuleBase
from swaplint.host.problems import first_line
from swaplint.kit.edits import sound_spec
from swaplint.spec.facts import Stated
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.shape import facts_at, pattern_at

ABSURD = (1e-6, 1e-2, 1e2, 1e6)
"""Factors on what is measured that no estimate may stumble over."""


def check_estimate(base: RuleBase, quantity: Quantity[Any]) -> list[str]:
    """On the sound spec without its field, measured as is typical, an estimate gives a value that a vehicle could have.

    It does not ask for its own field, it lacks what is not measured, and absurd measurements raise nothing.
    """
    try:
        spec = sound_spec(base, quantity.example)
    except (SpecErrors, ValueError) as error:
        return [f"{quantity.id}: its example does not give a spec that can be read: {error}"]
    view = View(spec.build)
    holders = [path_of(arguments[0]) for arguments in quantity.subjects(view) if arguments]
    if about_a_part(quantity.stands_in_for) and not holders:
        return [f"{quantity.id}: the sound spec has no part with the field {quantity.stands_in_for}"]
    holder = holders[0] if holders else quantity.stands_in_for.rpartition(".")[0]
    field = f"{holder}.{quantity.stands_in_for.rpartition('.')[2]}"
    facts = facts_at(base.model, field)
    assert facts is not None
    missing = _asked(View(spec.build, {field: None}, probing=True), quantity, holder)[1].unknown
    typical: dict[str, Stated | None] = {field: None}
    for path in missing:
        of_path = facts_at(base.model, path)
        if of_path is None or pattern_at(base.model, path)[0].endswith("[]"):
            return [f"{quantity.id}: with the sound spec as it is it lacks {path}, which no single value answers"]
        typical[path] = Stated(of_path.typical_value())
    measured = view.changed(typical)
    value, reads = _asked(measured, quantity, holder)
    if isinstance(value, Exception):
        return [f"{quantity.id}: measured as is typical it gives no value: {first_line(value)}"]
    faults = []
    if field in reads.fields:
        faults.append(f"{quantity.id} reads {field}, the field that it stands in for")
    low, high = facts.plausible_si() or (value, value)
    if not low <= value <= high:
        faults.append(f"{quantity.id}: measured as is typical it gives {value:g} (SI), outside {low:g} to {high:g}")
    for path in reads.fields:
        stated = measured.changes.get(path) or spec.stated(path)
        if stated is not None:
            faults += _faults_with(measured, quantity, holder, path, stated)
    return faults


def _faults_with(view: View, quantity: Quantity[Any], holder: str, path: str, stated: Stated) -> list[str]:
    """What goes wrong where one of the fields that it reads is missing or absurd."""
    tries: list[Stated | None] = [None]
    if not isinstance(stated.value, bool | str):
        tries += [Stated(stated.value * factor) for factor in ABSURD]
    faults = []
    for new in tries:
        value, _ = _asked(view.changed({path: new}), quantity, holder)
        if isinstance(value, Exception) and not isinstance(value, Unknown | NotFitted | NoLimit | ValueError):
            said = "not stated" if new is None else f"{float(new.value):g} (SI)"
            faults.append(f"{quantity.id}: with {path} {said} it raises {first_line(value)}")
    return faults


def _asked(view: View, quantity: Quantity[Any], holder: str) -> tuple[Any, Reads]:
    """What an estimate gives on a view, or the exception that it ends in, and what it reads."""
    reads = Reads()
    try:
        part = [value_at(view.build, holder)] if about_a_part(quantity.stands_in_for) else []
        view.stack.append(reads)
        return float(quantity(view.build, *part)), reads
    except Exception as error:
        return error, reads
    finally:
        view.settle()
