"""A spec with other data sheets: each read as the spec itself was, with all that depends on it.

A value is changed on the view; a data sheet holds many values, may name further sheets, and gives way to what the
spec itself states. So the spec is read again with the sheet that is asked about, and judged on a view that follows the
one as stated: what reads nothing that differs stands.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from swaplint.build.view import View
from swaplint.solving.what_if import Changes, WhatIf
from swaplint.spec.differences import differences
from swaplint.spec.facts import Stated
from swaplint.spec.fields import Part, Section
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.loading import with_sheets
from swaplint.spec.paths import path_key, path_text
from swaplint.spec.shape import facts_at, members
from swaplint.spec.toml_source import ParsedFiles

MOST_NAMED = 3
"""How many faults of a data sheet a sentence names."""


class BadSheet(ValueError):
    """A data sheet that the spec cannot be read with, with a sentence that says why."""


def names_a_sheet(model: type[Section], path: str) -> bool:
    """Whether a field, named by its path or pattern, is that of a part's data sheet."""
    return path.split(".")[-1] == "sheet" and facts_at(model, path) == members(Part)["sheet"].facts


class Variants:
    """The questions to a spec with other data sheets, each of which is read once."""

    def __init__(self, what_if: WhatIf) -> None:
        """`what_if` is that of the spec as stated."""
        self.what_if = what_if
        self._known: dict[tuple[tuple[str, str], ...], WhatIf] = {}
        self._parsed = ParsedFiles()

    def case(self, changes: Changes) -> tuple[WhatIf, dict[str, Stated | None]]:
        """The question that some changes are asked of, and those of them that are values. Raises `BadSheet`."""
        model = self.what_if.base.model
        sheets = {
            path: str(new.value) for path, new in changes.items() if new is not None and names_a_sheet(model, path)
        }
        rest = {path: new for path, new in changes.items() if path not in sheets}
        return (self._with(sheets) if sheets else self.what_if), rest

    def _with(self, sheets: Mapping[str, str]) -> WhatIf:
        key = tuple(sheets.items())
        if key not in self._known:
            try:
                spec = with_sheets(self.what_if.spec, sheets, self._parsed)
            except SpecErrors as errors:
                raise BadSheet(_told(sheets, errors)) from None
            before = self.what_if.view
            view = View.following(before, spec.build, differences(before.build_model, spec.build))
            self._known[key] = dataclasses.replace(self.what_if, spec=spec, view=view, as_stated={})
        return self._known[key]

    def rules_touched(self, changes: Changes) -> set[str]:
        """The ids of the rules that could say something else with some changes."""
        what_if, rest = self.case(changes)
        touched = {rule.id for rule in what_if.rules_touched(rest)} if rest else set()
        if what_if is not self.what_if:
            touched |= {rule.id for rule in self.what_if.rules_touched_by(what_if.view)}
        return touched

    def stated_anyway(self, sheet: str) -> list[str]:
        """The fields of a part that the spec itself states, by the field of its data sheet: they stand beside any."""
        node: object = self.what_if.spec.stated_data
        part = path_key(sheet)[:-1]
        for key in part:
            node = node.get(key) if isinstance(node, dict) else None
        return [path_text((*part, key)) for key in node if key != "sheet"] if isinstance(node, dict) else []


def _told(sheets: Mapping[str, str], errors: SpecErrors) -> str:
    named = " and ".join(f"{path} = {name!r:.300}" for path, name in sheets.items())
    faults = [f"{error.what} ({error.file}{f', line {error.line}' if error.line else ''})" for error in errors.errors]
    more = f"; and {len(faults) - MOST_NAMED} more" if len(faults) > MOST_NAMED else ""
    return f"with {named} the spec cannot be read: {'; '.join(faults[:MOST_NAMED])}{more}"
