"""Examples of what a spec holds: typical values, names for parts, a curve in a few points."""

from __future__ import annotations

import datetime
import functools
import re
from collections.abc import Mapping
from typing import Any, cast

import tomli_w

from swaplint.kit.edits import edited_data
from swaplint.spec.facts import FieldFacts
from swaplint.spec.fields import Part, Section
from swaplint.spec.job import Job
from swaplint.spec.schema import example_of
from swaplint.spec.shape import members
from swaplint.units.showing import SHOWING

EXAMPLE_NAME = "example"


def example_data(model: type[Section], *, values: bool = True, path: str = "") -> dict[str, Any]:
    """A spec that has every part and list once, with each field at its typical value, or with no other field stated."""
    out: dict[str, Any] = {}
    for name, member in members(model).items():
        here = f"{path}.{name}" if path else name
        if member.facts is not None:
            if member.role == "plain-list":
                out[name] = [example_value(member.facts)]
            elif values and not _names_a_file(model, name):
                out[name] = example_value(member.facts)
            continue
        below = example_data(cast(type[Section], member.model), values=values, path=here)
        if member.role == "parts":
            out[name] = {example_name(here): below}
        else:
            out[name] = [below] if member.role == "items" else below
    return out


def _names_a_file(model: type[Section], name: str) -> bool:
    """Whether a field names a file beside the spec: an example of it would be looked for."""
    return (name == "sheet" and issubclass(model, Part)) or (name == "base" and model is Job)


def example_value(facts: FieldFacts) -> Any:
    """The typical value of a field as TOML data."""
    example = example_of(facts)
    return datetime.date.fromisoformat(example) if facts.type == "date" else example


def example_shown(facts: FieldFacts, path: str) -> Any:
    """The typical value of a field as TOML data, in units of the system in force."""
    return facts.typical_written(path) if facts.type == "measure" else example_value(facts)


def example_name(path: str) -> str:
    """A name for a named part: the first that the sound spec has there, if it has one."""
    node: Any = _sound_data()
    for key in path.split("."):
        if not isinstance(node, dict):
            return EXAMPLE_NAME
        node = node.get(key)
    return next(iter(node), EXAMPLE_NAME) if isinstance(node, dict) else EXAMPLE_NAME


@functools.cache
def _sound_data() -> dict[str, Any]:
    return edited_data({})


def curve_example(path: str, example: Mapping[str, Any]) -> list[dict[str, Any]]:
    """A curve by its first, middle and last point in the sound spec, with the keys of an example: one point is none.

    Empty for a list that is no curve of measured values, and in inch-pound units, in which it is not written.
    """
    node: Any = _sound_data()
    for key in path.split("."):
        node = node.get(key) if isinstance(node, dict) else None
    points = node if isinstance(node, list) and len(node) >= 3 and not SHOWING.inch_pound else []
    kept = [{key: points[n].get(key) for key in example} for n in (0, len(points) // 2, -1) if points]
    measured = all(isinstance(v, str) and re.match(r"-?[0-9]", v) for point in kept for v in point.values())
    return kept if measured else []


def inline(value: Any) -> str:
    """A value as TOML writes it within a line.

    >>> inline([{"speed": "1500 r/min", "steps": 3}])
    '[{ speed = "1500 r/min", steps = 3 }]'
    """
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {inline(child)}" for key, child in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(inline, value)) + "]"
    return tomli_w.dumps({"v": value}).removeprefix("v = ").rstrip("\n")
