"""What the models refuse, as sentences with a place: unknown fields, wrong kinds of values."""

from __future__ import annotations

import re
from typing import Any

from pydantic import ValidationError

from swaplint.spec.facts import ItemError, nearest, shown_value
from swaplint.spec.fields import Part, Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_text
from swaplint.spec.shape import Member, members
from swaplint.spec.toml_source import PathKey, Place, SpecError

MOST = 200
"""How many errors of one spec are put into words."""


def refusals(
    error: ValidationError, model: type[Section], loaded: LoadedSpec, whole: str = "the spec"
) -> list[SpecError]:
    """A model's errors as sentences, each with its place; `whole` names the file as a whole."""
    out: list[SpecError] = []
    if error.error_count() > MOST:
        what = f"{whole} is refused in {error.error_count():,} places; the first {MOST} are named"
        out.append(SpecError(what, loaded.label))
    for entry in error.errors(include_url=False, include_input=True)[:MOST]:
        path = entry["loc"]
        if entry["type"] == "extra_forbidden":
            place = loaded.place_at(path, want_key=True)
            what = _unknown_key(model, path, loaded, place, whole)
        elif entry["type"] == "value_error":
            problem = entry["ctx"]["error"]
            value = entry["input"]
            if isinstance(problem, ItemError):
                value = value[problem.index] if isinstance(value, list) and problem.index < len(value) else None
                path, problem = (*path, problem.index), problem.what
            place = loaded.place_at(path)
            what = f"{path_shown(path)}: {problem}"
            what = what.rstrip(".") + _numbers_meant(str(problem), value)
        else:
            place = loaded.place_at(path)
            what = _wrong_shape(model, path, entry["type"], entry["input"])
            if "list" not in entry["type"]:
                commented = _still_commented(model, path, loaded, loaded.place_at(path, want_key=True))
                what += commented or _table_meant(model, path, entry["input"])
        out.append(SpecError(what, place.file, place.line, place.column))
    return out


def path_shown(path: PathKey) -> str:
    """A path for a sentence: a part's name may be anything here, until it is refused."""
    return "".join(c if c.isprintable() else "�" for c in path_text(path)[:200])


def _unknown_key(model: type[Section], path: PathKey, loaded: LoadedSpec, place: Place, whole: str) -> str:
    # Imported here: only a mistake needs it.
    from swaplint.spec.hints import did_you_mean, fields_meant

    shape = _shape_at(model, path[:-1])
    table = path_shown(path[:-1]) or whole
    known = list(members(shape)) if shape is not None else []
    key = str(path[-1])
    has_no = f"{table} has no field {key if len(key) <= 60 else key[:57] + '...'!r}"
    commented = _still_commented(model, path, loaded, place)
    if commented:
        return has_no + commented
    near = nearest(key, known, cutoff=0.8)
    if near:
        return f"{has_no}; did you mean '{near}'?"
    meant = fields_meant(model, key, ".".join(str(piece) for piece in path[:-1] if isinstance(piece, str)))
    if meant:
        return has_no + did_you_mean(meant)
    near = nearest(key, known)
    if near:
        return f"{has_no}; did you mean '{near}'?"
    listed = ", ".join(known[:12]) + (" …" if len(known) > 12 else "")
    return f"{has_no}; it has {listed}"


def _still_commented(model: type[Section], path: PathKey, loaded: LoadedSpec, place: Place) -> str:
    """What is said where the header of the table that a key belongs to is a comment still; empty where it is not."""
    from swaplint.spec.hints import commented_header

    file = next((file for file in loaded.files() if file.label == place.file), loaded.file)
    found = commented_header(model, file, path, place.line)
    return f": the header in line {found[0]} is still commented out: {found[1]!r}" if found else ""


_NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?")


def _numbers_meant(problem: str, value: object) -> str:
    """How numbers are written that stand as text, or without the list that they belong to; empty for anything else."""
    if "takes a list" in problem and isinstance(value, int | float) and not isinstance(value, bool):
        return f": write [{value}]"
    if not isinstance(value, str) or ("without a unit" not in problem and "takes a list" not in problem):
        return ""
    pieces = [piece for piece in re.split(r"[;,\s]+", value.strip()) if piece]
    if not pieces or len(pieces) > 20 or not all(_NUMBER.fullmatch(piece) for piece in pieces):
        return ""
    if len(pieces) == 1:
        return f": write {pieces[0]}, without quotes"
    return f": write each number by itself, without quotes: [{', '.join(pieces)}]"


def _wrong_shape(model: type[Section], path: PathKey, wrong: str, value: Any) -> str:
    """A sentence for something that is no table or no list, where one is needed."""
    member = _member_at(model, path)
    several = member.role if member is not None else ""
    if "list" in wrong:
        none = ": write [] for none" if several == "items" and value == {} else ""
        return f"{path_shown(path)} takes a list, not {shown_value(value)}{none}"
    if value != []:
        return f"{path_shown(path)} takes a table, not {shown_value(value)}"
    how = "write {} for none" if several == "parts" else f"like {_example_of(_shape_at(model, path))}"
    return f"{path_shown(path)} takes a table, not []: {how}"


def _table_meant(model: type[Section], path: PathKey, value: object) -> str:
    """What may be meant where a value stands in the place of a table, as the rest of a sentence."""
    if value == []:
        return ""
    shown, above, key = path_shown(path), path_shown(path[:-1]), str(path[-1])
    shape, member = _shape_at(model, path), _member_at(model, path)
    several = member.role if member is not None else ""
    if several == "parts":
        return f": write one for each, [{shown}.NAME]"
    if shape is None or several == "items":
        return ""
    if not several and key in members(shape):  # one of several alike parts, for whose name its field was written
        return f"; did you mean '{above}.NAME.{key}'?"
    # Of two fields that begin alike, the name of the table may be written for that of the value beside it.
    beside = members(_shape_at(model, path[:-1])) if several else {}
    meant = [name for name, of in beside.items() if of.facts is not None and name.startswith(f"{key}_")]
    if len(meant) == 1:
        return f"; did you mean '{meant[0]}'?"
    every = members(Part) if issubclass(shape, Part) else {}
    own = {name: of.facts for name, of in members(shape).items() if of.facts is not None and name not in every}
    says = [name for name, facts in own.items() if isinstance(value, str) and value.lower() in facts.options]
    if says:
        return f"; did you mean '{shown}.{says[0]}'?"
    kind = "measure" if isinstance(value, str) else "number" if isinstance(value, int | float) else ""
    alike = [name for name, facts in own.items() if facts.type == kind] or list(own)
    return f": it holds fields of its own, like {shown}.{min(alike, key=len)}" if alike else ""


def _example_of(shape: type[Section] | None) -> str:
    """A table with one field, as TOML writes it."""
    every = members(Part) if shape is not None and issubclass(shape, Part) else {}
    for name, member in members(shape).items() if shape is not None else ():
        if member.facts is not None and name not in every:
            example = member.facts.example()
            return f"{{ {name} = {f'[{example}]' if member.role == 'plain-list' else example} }}"
    return "{ fitted = false }"


def _shape_at(model: type[Section], path: PathKey) -> type[Section] | None:
    """The model of the table at a path; None where there is none."""
    shape: type[Section] | None = model
    named = False  # whether the key is the name of one of several alike parts
    for key in path:
        if shape is None or isinstance(key, int) or named:
            named = False
            continue
        member = members(shape).get(key)
        if member is not None:
            shape, named = member.model, member.role == "parts"
    return shape


def _member_at(model: type[Section], path: PathKey) -> Member | None:
    """What stands at a path, where that is a key of a section and no name or number."""
    if not path or isinstance(path[-1], int):
        return None
    above = _shape_at(model, path[:-1])
    holder = _member_at(model, path[:-1])
    if above is None or (holder is not None and holder.role == "parts"):
        return None
    return members(above).get(path[-1])
