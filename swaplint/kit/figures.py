"""What must hold of a figure, whatever it draws."""

from __future__ import annotations

import re

from swaplint.build.nodes import NoLimit, NotFitted, Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.figures import DeclaredFigure, is_empty, wrong_with_form
from swaplint.host.packs import RuleBase
from swaplint.host.problems import first_line
from swaplint.kit.derived import ABSURD, accepts
from swaplint.kit.edits import sound_spec
from swaplint.spec.facts import Stated
from swaplint.spec.shape import facts_at

_LATER_ITEM = re.compile(r"\[(?!1\])\d+\]")
"""A field of an item of a list behind the first: those of the first stand for them."""


def check_figure_drawn(base: RuleBase, figure: DeclaredFigure) -> list[str]:
    """On the sound spec a figure has something to draw, from what the build states.

    With a field that it reads missing or absurd it has a drawing, or says why not; it raises nothing else.
    """
    spec = sound_spec(base)
    view = View(spec.build)
    faults, reads, drawn = _asked(view, figure)
    if faults:
        return [f"on the sound spec {figure.id} {fault}" for fault in faults]
    if not drawn:
        return [f"{figure.id} has nothing to draw on the sound spec"]
    if not reads.fields:
        return [f"{figure.id} reads nothing of the build: it draws the same whatever is built"]
    for path in reads.fields:
        stated, facts = spec.stated(path), facts_at(base.model, path)
        if stated is None or facts is None or _LATER_ITEM.search(path):
            continue
        tries: list[Stated | None] = [None]
        if not isinstance(stated.value, bool | str):
            tries += [Stated(v) for v in (stated.value * factor for factor in ABSURD) if accepts(facts, v)]
        for new in tries:
            said = "not stated" if new is None else f"{float(new.value):g} (SI)"
            wrong, _, _ = _asked(view.changed({path: new}), figure)
            faults += [f"with {path} {said} {figure.id} {fault}" for fault in wrong]
    return faults


def _asked(view: View, figure: DeclaredFigure) -> tuple[list[str], Reads, bool]:
    """What is wrong with what a figure does on a view, what it reads, and whether it has something to draw."""
    reads = Reads()
    view.stack.append(reads)
    try:
        form = figure(view.build)
        wrong = wrong_with_form(form)
        return ([f"returns {wrong}"], reads, False) if wrong else ([], reads, not is_empty(form))
    except (Unknown, NotFitted, NoLimit, ValueError):
        return [], reads, False
    except Exception as error:
        return [f"raises {first_line(error)}"], reads, False
    finally:
        view.settle()
