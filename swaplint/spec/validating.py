"""The validator of a build spec's model.

pydantic makes one from the annotations of each section, in small steps that take longer, for some two thousand fields,
than to read a spec. What stands under each key of a section is known here already (`swaplint.spec.shape`), and the same
validator is put together from that at once. pydantic itself is asked about the sections of rule packs, which may hold
more than fields.
"""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic_core import CoreSchema, SchemaValidator, core_schema

from swaplint.spec.fields import ListOf, Section
from swaplint.spec.shape import Member, members

S = TypeVar("S", bound=Section)


def validated(model: type[S], data: Mapping[str, Any]) -> S:
    """The data of a spec as an instance of its model. Raises pydantic's `ValidationError`."""
    made: S = _validator(model).validate_python(data)
    return made


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
