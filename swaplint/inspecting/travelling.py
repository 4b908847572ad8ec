"""On the way to another process, which has rule packs of its own: a rule travels by its id, the model by its name."""

from __future__ import annotations

import io
import pickle
from typing import Any

from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase


def packed(thing: object) -> bytes:
    """A thing as bytes."""
    stream = io.BytesIO()
    _Packer(stream, pickle.HIGHEST_PROTOCOL).dump(thing)
    return stream.getvalue()


def unpacked(packed_thing: bytes, base: RuleBase) -> Any:
    """The thing again, with the rules and the model of this process."""
    unpacker = _Unpacker(io.BytesIO(packed_thing))
    unpacker.base = base
    return unpacker.load()


class _Packer(pickle.Pickler):
    def persistent_id(self, thing: object) -> Any:
        if isinstance(thing, Rule):
            return "rule", thing.id
        return ("model", None) if isinstance(thing, type) and thing.__name__ == "Build" else None


class _Unpacker(pickle.Unpickler):
    base: RuleBase

    def persistent_load(self, key: Any) -> object:
        kind, id = key
        return self.base.model if kind == "model" else self.base.find(id)
