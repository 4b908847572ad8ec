"""The validator of a build spec's model.

pydantic makes one from the annotations of each section, in small steps that take longer, for some two thousand fields,
than to read a spec. What stands under each key of a section is known here already (`swaplint.spec.shape`), and the same
validator is put together from that at once. pydantic itself is asked about the sections of rule packs, which may hold
more than fields.

Of a spec that is read again after an edit, only the sections that hold the edit are validated again.
"""

from __future__ import annotations

import functools
import pickle
from collections import Counter
from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic_core import CoreSchema, SchemaValidator, core_schema

from swaplint.spec.facts import ListOf
from swaplint.spec.fields import Section
from swaplint.spec.shape import Member, members

S = TypeVar("S", bound=Section)


Path = tuple[str, ...]
Before = dict[Path, tuple[bytes, Section]]
"""Sections that were validated, by path, each with its data to the letter: 1, 1.0 and true are not the same."""


def validated(model: type[S], data: Mapping[str, Any], before: Before | None = None) -> S:
    """The data of a spec as an instance of its model. Raises pydantic's `ValidationError`.

    `before` holds the sections of the same spec as it was read last, and afterwards as it is now. What a section is
    hangs on its model and its data alone: one with the same of both is taken as it was.
    """
    if before is None:
        made: S = _validator(model).validate_python(data)
        return made
    anew: dict[Path, bytes] = {}
    made = _validator(model).validate_python(_with_known(model, data, (), before, anew))
    before.update({path: (letters, _at(made, path)) for path, letters in anew.items()})
    return made


def _with_known(
    model: type[Section], data: Mapping[str, Any], path: Path, before: Before, anew: dict[Path, bytes]
) -> dict[str, Any]:
    """The data with the sections in them that are known; of all others the letters are put into `anew`."""

    def section(shape: type[Section], value: Any, *keys: str) -> Any:
        if not isinstance(value, dict) or not _is_own(shape):
            return value
        here, letters = (*path, *keys), pickle.dumps(value)
        known = before.get(here)
        if known is not None and known[0] == letters and type(known[1]) is shape:
            return known[1]
        anew[here] = letters
        return _with_known(shape, value, here, before, anew)

    out, shape = dict(data), members(model)
    for key, value in data.items():
        member = shape.get(key)
        below = None if member is None else member.model
        if member is None or below is None:
            continue
        if member.role == "part":
            out[key] = section(below, value, key)
        elif member.role == "parts" and isinstance(value, dict):
            out[key] = {name: section(below, part, key, name) for name, part in value.items()}
    return out


def _at(made: Section, path: Path) -> Section:
    node: Any = made
    for key in path:
        node = node[key] if isinstance(node, dict) else getattr(node, key)
    section: Section = node
    return section


@functools.cache
def _validator(model: type[Section]) -> SchemaValidator:
    return SchemaValidator(_Schemas(model).schema)


class _Schemas:
    """The schema of a model: sections that stand in several places are described once."""

    def __init__(self, model: type[Section]) -> None:
        self.uses: Counter[type[Section]] = Counter()
        self._count(model)
        self.shared: dict[type[Section], CoreSchema] = {}
        schema = self._section(model)
        self.schema = core_schema.definitions_schema(schema, list(self.shared.values())) if self.shared else schema

    def _count(self, model: type[Section]) -> None:
        self.uses[model] += 1
        if self.uses[model] == 1:
            for member in members(model).values():
                if member.model is not None:
                    self._count(member.model)

    def _section(self, model: type[Section]) -> CoreSchema:
        if not _is_own(model):
            return _as_pydantic_has_it(model)
        if self.uses[model] == 1:
            return self._made(model)
        name = f"{model.__module__}.{model.__qualname__}"
        if model not in self.shared:
            self.shared[model] = self._made(model, name)
        return core_schema.definition_reference_schema(name)

    def _made(self, model: type[Section], name: str | None = None) -> CoreSchema:
        return core_schema.model_schema(
            model,
            core_schema.model_fields_schema(
                {
                    key: core_schema.model_field(core_schema.with_default_schema(self._member(member), default=None))
                    for key, member in members(model).items()
                },
                model_name=model.__name__,
            ),
            config=core_schema.CoreConfig(title=model.__name__, extra_fields_behavior="forbid"),
            ref=name,
        )

    def _member(self, member: Member) -> CoreSchema:
        if member.facts is not None:
            read = member.facts.read if member.role == "plain" else ListOf(member.facts).read
            return core_schema.no_info_plain_validator_function(read)
        assert member.model is not None
        below = self._section(member.model)
        if member.role == "parts":
            return core_schema.dict_schema(core_schema.str_schema(), below)
        return core_schema.list_schema(below) if member.role == "items" else below


def _is_own(model: type[Section]) -> bool:
    return model.__module__.partition(".")[0] == "swaplint"


def _as_pydantic_has_it(model: type[Section]) -> CoreSchema:
    model.model_rebuild()
    return model.__pydantic_core_schema__
