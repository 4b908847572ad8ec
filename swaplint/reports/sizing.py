"""The report of `size`, as text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swaplint.declare.cautions import CLOSING
from swaplint.host.problems import Problem
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.reports.json_report import problem_json, selection_json
from swaplint.reports.judging import NOTHING_KNOWN, Judging, add_not_judged, judging_json
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted, listed
from swaplint.reports.values import margin_words, number_words, size_words
from swaplint.solving.sizing import Sizing
from swaplint.solving.trial import Choice
from swaplint.solving.windows import Window
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.loaded import LoadedSpec
from swaplint.units.output import in_unit, plain_number
from swaplint.units.prose import told


def value_json(stated: Stated | None, facts: FieldFacts) -> float | str | bool | None:
    """A value in the unit of its field."""
    if stated is None or isinstance(stated.value, bool | str):
        return None if stated is None else stated.value
    return in_unit(stated.value, facts.kind_name, facts.unit)


def sizing_json(
    label: str,
    sizing: Sizing,
    judging: Sequence[Judging],
    selection: Selection = EVERYTHING,
    problems: Sequence[Problem] = (),
) -> dict[str, Any]:
    """The contract's JSON. `judging` is what can be said of the value in the answer, then of each choice.

    `problems` is what could not be read, loaded or run: what it would have said of a value is missing.
    """
    return {
        "spec": label,
        "field": sizing.pattern,
        "unit": sizing.facts.unit or None,
        "now": value_json(sizing.now, sizing.facts),
        "rules": [id for id in sizing.rules if any(id in (*of.judging, *of.opens, *of.broken) for of in judging)],
        "windows": [_window_json(window, sizing.facts) for window in sizing.windows],
        "choices": [
            _choice_json(choice, sizing.facts)
            | {"opens": of.opens, "broken": list(dict.fromkeys((*choice.broken, *of.broken)))}
            for choice, of in zip(sizing.choices, judging[1:], strict=True)
        ],
        "best": value_json(sizing.best, sizing.facts),
        "reviews": sizing.reviews,
        "breaks": sizing.breaks,
        "set_aside": sizing.set_aside,
        **judging_json(judging[0]),
        "by_rule": [
            {"rule": id, "windows": [_window_json(window, sizing.facts) for window in windows]}
            for id, windows in sizing.by_rule
        ],
        "strict_windows": [_window_json(window, sizing.facts) for window in sizing.strict_windows],
        "stated_anyway": sizing.stated_anyway,
        "cut_short": sizing.cut_short,
        "looked_at": sizing.looked_at or None,
        "selection": selection_json(selection),
        "problems": [problem_json(problem) for problem in problems],
    }


def _window_json(window: Window, facts: FieldFacts) -> dict[str, Any]:
    return {
        "low": in_unit(window.low, facts.kind_name, facts.unit),
        "high": in_unit(window.high, facts.kind_name, facts.unit),
        "bound_low": window.bound_low,
        "bound_high": window.bound_high,
    }


def _choice_json(choice: Choice, facts: FieldFacts) -> dict[str, Any]:
    return {
        "value": value_json(choice.value, facts),
        "written": choice.value.written,
        "passes": choice.passes,
        "fails": list(choice.fails),
        "reviews": list(choice.reviews),
        "worst_margin": None if choice.worst_margin is None else plain_number(choice.worst_margin),
    }


def sizing_sheet(
    spec: LoadedSpec, sizing: Sizing, judging: Judging, width: int, selection: Selection = EVERYTHING
) -> Sheet:
    """The answer as a person reads it. `judging` is what can be said of the value that the answer speaks of."""
    sheet = Sheet.of_width(width)
    add_question(sheet, spec, sizing, judging, selection)
    add_passes(sheet, sizing, judging)
    sheet.blank()
    add_answer(sheet, sizing, judging)
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet


def add_question(sheet: Sheet, spec: LoadedSpec, sizing: Sizing, judging: Judging, selection: Selection) -> None:
    """Add what is chosen, what it is now and who judges it."""
    now = "not stated" if sizing.now is None else value_words(sizing.now, sizing)
    sheet.wrapped(f"{sizing.pattern}: {told(sizing.facts.description, sizing.pattern)}", style="bold")
    rules = judging.judging
    judges = counted(len(rules), "rule judges it", "rules judge it") if rules else "no rule judges it yet"
    sheet.wrapped(f"{spec.label}; now {now}; {judges}{': ' if rules else ''}{', '.join(rules)}")
    if selection:
        sheet.wrapped(f"Judged only by: {selection.words}. What other rules say is not looked at.")
    if sizing.set_aside:
        sheet.blank()
        sheet.wrapped(f"Set aside below, because another field must mend it: {', '.join(sizing.set_aside)}.")


def add_passes(sheet: Sheet, sizing: Sizing, judging: Judging) -> None:
    """Add what passes, and what binds; then what cannot be judged yet."""
    if judging.judging and sizing.choices:
        _choices(sheet, sizing)
    elif judging.judging:
        _windows(sheet, sizing, judging)
    if judging.judging and sizing.cut_short:
        sheet.blank()
        sheet.wrapped(cut_words(sizing), style="bold")
    add_not_judged(sheet, judging, sizing.pattern)


def cut_words(sizing: Sizing) -> str:
    """What was not looked at, because too much hangs on the field."""
    much = f"Too much hangs on this field to look everywhere, {sizing.each_value:,} results at each value."
    if sizing.choices:
        return f"{much} Not every choice was looked at within the tolerances."
    return (
        f"{much} Of its plausible range {counted(sizing.looked_at, 'value was', 'values were')} looked at: between two "
        "of them that pass it may fail, and it may pass beyond the ends named."
    )


def _windows(sheet: Sheet, sizing: Sizing, judging: Judging) -> None:
    windows = sizing.windows
    sheet.heading("PASSES")
    if not windows:
        sheet.wrapped("At none of the values looked at." if sizing.cut_short else "Nowhere in the plausible range.")
    for window in windows:
        low, high = ends_words(window, sizing)
        sheet.wrapped(f"from {low} to {high}", style="bold")
        for value, rule, side in ((low, window.bound_low, "below"), (high, window.bound_high, "above")):
            why = f"{rule} does not pass" if rule else "the plausible range ends"
            sheet.wrapped(f"{side} {value} {why}", indent=3)
    if len(sizing.by_rule) > 1:
        _by_rule(sheet, sizing, judging)


def _by_rule(sheet: Sheet, sizing: Sizing, judging: Judging) -> None:
    sheet.heading("EACH RULE BY ITSELF")
    column = max(len(id) for id, _ in sizing.by_rule) + 2
    nowhere = "passes at none of them" if sizing.cut_short else "passes nowhere"
    for id, windows in sizing.by_rule:
        words = "; ".join(_stretch(window, sizing) for window in windows) or nowhere
        sheet.wrapped(words, label=id.ljust(column), hang=column)
    everywhere = [id for id in judging.all_passing if id not in dict(sizing.by_rule)]
    if everywhere:
        sheet.wrapped(f"At every plausible value: {', '.join(everywhere)}.")


def ends_words(window: Window, sizing: Sizing) -> tuple[str, str]:
    """Where a window begins and ends."""
    kind, unit, about = sizing.facts.kind_name, sizing.facts.unit, sizing.pattern
    return number_words(window.low, kind, unit, about), number_words(window.high, kind, unit, about)


def _stretch(window: Window, sizing: Sizing) -> str:
    low, high = ends_words(window, sizing)
    if window.bound_low and window.bound_high:
        return f"from {low} to {high}"
    return f"up to {high}" if window.bound_high else f"from {low} on"


def _choices(sheet: Sheet, sizing: Sizing) -> None:
    sheet.heading("CHOICES")
    column = max(len(value_words(c.value, sizing)) for c in sizing.choices) + 2
    ignored = set(sizing.set_aside)
    always_open = set.intersection(*(set(choice.opens) for choice in sizing.choices))
    if sizing.stated_anyway:
        add_stated_anyway(sheet, sizing.stated_anyway)
    for choice in sizing.choices:
        fails = [id for id in choice.fails if id not in ignored]
        reviews = list(choice.reviews)
        words = "passes" if not fails else f"fails {', '.join(fails)}"
        if not fails and not choice.passes and not choice.fails:
            words = "not judged" if not choice.broken else "not judged by all"
        if reviews:
            words += f"; to review {', '.join(reviews)}"
        if choice.broken:
            words += f"; could not be run {', '.join(choice.broken)}"
        opens = [id for id in choice.opens if id not in always_open]
        if opens:
            words += f"; open {', '.join(opens)}"
        if choice.worst_margin is not None:
            words += f"; worst margin {margin_words(choice.worst_margin)}"
            if choice.worst_margin < 0 and not fails:
                words += ", of a rule set aside"
        mark = "now" if sizing.now is not None and choice.value.value == sizing.now.value else ""
        style = "green" if not fails else ""
        sheet.wrapped(words, label=mark.ljust(5) + value_words(choice.value, sizing), hang=column + 5, style=style)


MOST_STATED = 6
"""How many fields that a spec states beside a data sheet are named."""


def add_stated_anyway(sheet: Sheet, fields: Sequence[str]) -> None:
    """Add which values of the spec stand beside every data sheet that is compared."""
    named = list(fields[:MOST_STATED]) + ([f"{len(fields) - MOST_STATED} more"] if len(fields) > MOST_STATED else [])
    sheet.wrapped(f"The spec itself states {listed(named)}: that stands whatever a sheet says.", style="dim")


def add_answer(sheet: Sheet, sizing: Sizing, judging: Judging) -> None:
    """Add which value to choose, and what it would break."""
    if not judging.judging:
        sheet.wrapped(NOTHING_KNOWN if judging.opens else "No rule reads it: any value is as good.", style="bold")
        return
    if sizing.best is None:
        sheet.wrapped("No value passes.", style="bold")
        return
    words = value_words(sizing.best, sizing)
    so_far = f", as far as {counted(len(judging.judging), 'rule')} can judge" if judging.opens else ""
    if sizing.now is not None and sizing.best.value == sizing.now.value:
        sheet.wrapped(f"The present value, {words}, passes{so_far}.", style="bold")
    elif sizing.choices:
        sheet.wrapped(f"The first of these that passes is {words}{so_far}.", style="bold")
    elif any(w.bound_low and w.bound_high and _inside(w, sizing.best) for w in sizing.windows):
        which = (
            ""
            if len(sizing.windows) == 1
            else " in the widest window"
            if sizing.now is None
            else " in the nearest window"
        )
        sheet.wrapped(f"The value with the widest margin{which} is {words}{so_far}.", style="bold")
    else:
        sheet.wrapped(f"The nearest value that passes is {words}{so_far}.", style="bold")
    if sizing.now is None and not sizing.choices:
        sheet.wrapped("Among what can be bought, --among VALUE,VALUE tells which passes.", style="dim")
    if sizing.reviews:
        sheet.wrapped(f"With it a person must decide on {listed(sizing.reviews)}.")
    if sizing.breaks:
        now = "which does not fail now" if len(sizing.breaks) == 1 else "which do not fail now"
        sheet.wrapped(f"Changing to it breaks {listed(sizing.breaks)}, {now}.")


def _inside(window: Window, value: Stated) -> bool:
    return window.low <= float(value.value) <= window.high


def value_words(stated: Stated, sizing: Sizing) -> str:
    """A value of the field, as people read it."""
    if isinstance(stated.value, bool | str):
        return stated.written
    return size_words(stated.value, sizing.facts, sizing.pattern)
