"""What the models refuse, as sentences with a place: unknown fields, wrong kinds of values."""

from __future__ import annotations

from pydantic import ValidationError

from swaplint.spec.fields import ItemError, Section, nearest, shown_value
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_text
from swaplint.spec.shape import members
from swaplint.spec.toml_source import PathKey, SpecError

MOST = 200
"""How many errors of one spec are put into words."""


def refusals(error: ValidationError, model: type[Section], loaded: LoadedSpec) -> list[SpecError]:
    """A model's errors as sentences, each with its place."""
    out: list[SpecError] = []
    for entry in error.errors(include_url=False, include_input=True)[:MOST]:
        path = entry["loc"]
        text = path_shown(path)
        if entry["type"] == "extra_forbidden":
            place = loaded.place_at(path, want_key=True)
            what = _unknown_key(model, path)
        elif entry["type"] == "value_error":
            problem = entry["ctx"]["error"]
            if isinstance(problem, ItemError):
                path, problem = (*path, problem.index), problem.what
            place = loaded.place_at(path)
            what = f"{path_shown(path)}: {problem}"
        else:
            place = loaded.place_at(path)
            wanted = "a list" if "list" in entry["type"] else "a table"
            what = f"{text} takes {wanted}, not {shown_value(entry['input'])}"
        out.append(SpecError(what, place.file, place.line, place.column))
    return out


def path_shown(path: PathKey) -> str:
    """A path for a sentence: a part's name may be anything here, until it is refused."""
    return "".join(c if c.isprintable() else "�" for c in path_text(path)[:200])


def _unknown_key(model: type[Section], path: PathKey) -> str:
    shape: type[Section] | None = model
    named = False  # whether the key is the name of one of several alike parts
    for key in path[:-1]:
        if shape is None or isinstance(key, int) or named:
            named = False
            continue
        member = members(shape).get(key)
        if member is not None:
            shape, named = member.model, member.role == "parts"
    table = path_shown(path[:-1]) or "the spec"
    known = list(members(shape)) if shape is not None else []
    key = str(path[-1])
    shown = key if len(key) <= 60 else key[:57] + "..."
    near = nearest(key, known)
    if near:
        return f"{table} has no field {shown!r}; did you mean '{near}'?"
    listed = ", ".join(known[:12]) + (" …" if len(known) > 12 else "")
    return f"{table} has no field {shown!r}; it has {listed}"
