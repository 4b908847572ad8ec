"""One rule for each system that has fields: could a real vehicle have the values that are stated there?

A field belongs to the system whose module declares its section. The job itself, what identifies the vehicle and the
engine, and the sections of rule packs belong to none: they are judged under `compliance`, whose papers state them.
"""

from __future__ import annotations

from dataclasses import replace

from swaplint.api import (
    SYSTEMS,
    Build,
    Rule,
    Verdict,
    declared_fields,
    does_not_apply,
    fields,
    holds,
    practice,
    rule,
    shown,
    stated_values,
    value_at,
    within,
)

from . import slips

RANGES = practice("the range that each field has on real vehicles, light and heavy, as the field's description states")

HOME_OF_THE_REST = "compliance"
"""The system under which the fields that belong to no system are judged."""

_DOCSTRING = """Could a real vehicle have the values stated for {subject}?

Computes: nothing. Each stated number, also one from a data sheet, is compared with the range that its field has on
real vehicles. For a number outside it, the slip is sought that would explain it: a number in pounds, inches, feet,
psi, bar, gallons, horsepower, pound-feet, miles an hour or degrees Fahrenheit with a metric unit behind it or the
other way round, a grade for an angle, a lost or an extra decimal place. Of the slips that lead back into the range,
the unit and the decimal place that come nearest to the field's typical value are named.
Limit: the plausible range in the description of the field: common practice, drawn wide.
Consequence: A slip of the pen goes into every sum that uses the value: parts are bought or made wrong.
Remedy: look at the number and its unit in the document or on the instrument that it came from; correct the line, or
leave it where the vehicle really is out of the ordinary.
Cannot tell: a slip that stays inside the range. A person decides: the rule never fails.
"""


def every_rule() -> list[Rule]:
    """The rules: one for each system of the job that has a field with a plausible range."""
    return [
        _rule_of(system, owners, ranged)
        for system in SYSTEMS
        if (owners := _owners(system)) and (ranged := _ranged(owners))
    ]


def _owners(system: str) -> tuple[str, ...]:
    return (system, "") if system == HOME_OF_THE_REST else (system,)


def _ranged(owners: tuple[str, ...]) -> list[tuple[str, fields.FieldFacts]]:
    return [(path, facts) for owner in owners for path, facts in declared_fields(owner) if _has_range(facts)]


def _has_range(facts: fields.FieldFacts) -> bool:
    return facts.plausible is not None and facts.plausible[0] < facts.plausible[1]


def _is_number(where: str, stated: fields.Stated, facts: fields.FieldFacts) -> bool:
    """Whether a stated value is one that can be out of the ordinary: not that a maker sets no limit."""
    return _has_range(facts) and stated.value != fields.NO_LIMIT


def _rule_of(system: str, owners: tuple[str, ...], ranged: list[tuple[str, fields.FieldFacts]]) -> Rule:
    path, facts = _example_field(ranged)
    subject = "the job, the vehicle and the engine as such" if "" in owners else f"the {system} system"

    def doubtful(build: Build) -> list[str]:
        """The fields whose values lie outside their ranges; a single empty name where there is none."""
        found = []
        for owner in owners:
            for where, stated, about in stated_values(build, owner):
                bounds = about.plausible_si() if _is_number(where, stated, about) else None
                if bounds is not None and not slips.inside(float(stated.value), *bounds):
                    found.append(where)
        return found or [""]

    def judge(build: Build, where: str) -> Verdict:
        stated_here = [entry for owner in owners for entry in stated_values(build, owner) if _is_number(*entry)]
        if not where:
            number = len(stated_here)
            if not number:
                return does_not_apply(f"The spec states no value of {subject} that has a range.")
            return holds(True, f"{number} stated value{'' if number == 1 else 's'} looked at, all plausible.")
        _, stated, about = next(entry for entry in stated_here if entry[0] == where)
        return doubt(value_at(build, where), stated, about, where)

    judge.__doc__ = _DOCSTRING.format(subject=subject)
    assert facts.plausible is not None
    low, high = facts.plausible
    return rule(
        f"{system}.plausible-value",
        level="warning",
        due="plan",
        sources=[RANGES.giving("limit", "plausible range of a field")],
        about="build",
        each=doubtful,
        bad=[{path: _written(high + (high - low), facts)}],
        good=[{path: _written(facts.typical, facts)}],
        bad_ends="review",
    )(judge)


def doubt(value: float, stated: fields.Stated, facts: fields.FieldFacts, where: str) -> Verdict:
    """The verdict on a value outside its plausible range: a person must look at it."""
    bounds = facts.plausible_si()
    assert bounds is not None
    low, high = (shown(bound, facts.kind_name, facts.unit) for bound in bounds)
    says = f"{stated.written} is out of the ordinary here: real vehicles have {low} to {high}."
    readings = [
        f"{slip.how} it would be {shown(slip.value, facts.kind_name, facts.unit)}"
        for slip in slips.explain(float(value), stated.written, facts)
    ]
    if readings:
        sentence = "; ".join(readings)
        says += f" {sentence[0].upper()}{sentence[1:]}. Is that what is meant?"
    else:
        says += " Look at the number and its unit again."
    unit = (facts.kind_name, facts.unit)
    # A share of an absolute temperature would say nothing.
    scale = bounds[1] - bounds[0] if facts.kind_name == "temperature" else None
    return replace(within(float(value), *bounds, says, on=where, unit=unit, scale=scale), kind="review")


def _example_field(candidates: list[tuple[str, fields.FieldFacts]]) -> tuple[str, fields.FieldFacts]:
    """A field to show the rule on: one outside named parts and lists, where there is one."""
    path, facts = min(candidates, key=lambda c: (isinstance(c[1].typical, str), "[]" in c[0], "*" in c[0]))
    return path.replace("*", "example").replace("[]", "[1]"), facts


def _written(number: float | str | bool | None, facts: fields.FieldFacts) -> float | str:
    """A number as it is written in a spec."""
    assert isinstance(number, int | float)
    return number if facts.kind is None else f"{number:.12g} {facts.unit}"
