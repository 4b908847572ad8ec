"""The shared sound spec, and edits to it.

An edit names a field and the value that it shall have, as TOML would hold it; None takes the field or part away. `*`
in a path stands for every part that is there: `driveline.axles.*.ratio`.
"""

from __future__ import annotations

import copy
import functools
from collections.abc import Mapping
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import Any

import tomli
import tomli_w

from swaplint.host.packs import RuleBase
from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load, load_text
from swaplint.spec.model import Build
from swaplint.spec.paths import path_key
from swaplint.spec.shape import members
from swaplint.spec.toml_source import PathKey, TomlFile


@functools.cache
def sound_text() -> str:
    """The sound spec as TOML: every built-in rule passes on it or does not apply."""
    return (resources.files("swaplint.kit") / "sound.toml").read_text(encoding="utf-8")


@functools.cache
def _sound_data() -> dict[str, Any]:
    return tomli.loads(sound_text())


def edited_data(edits: Mapping[str, Any], base: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The sound spec's data, or those of another spec, with edits made. Raises `ValueError` for what is no path."""
    data = copy.deepcopy(dict(_sound_data() if base is None else base))
    for path, value in edits.items():
        for keys in _expanded(data, path_key(path), path):
            _put(data, keys, copy.deepcopy(value), path)
    return data


class EditedFile(TomlFile):
    """A file that was never written: its text is that of its data, made when somebody asks for it."""

    def __init__(self, label: str, data: dict[str, Any]) -> None:
        """`data` as TOML would hold it."""
        super().__init__(label, "", data)

    @functools.cached_property
    def written(self) -> str:
        """Its data as TOML."""
        return tomli_w.dumps(self.data)

    @property
    def text(self) -> str:
        """The text that it would have."""
        return self.written

    @text.setter
    def text(self, nothing: str) -> None:
        pass

    @property
    def raw(self) -> bytes:
        """The same as bytes."""
        return self.written.encode()

    @raw.setter
    def raw(self, nothing: bytes) -> None:
        pass

    def mentions(self, word: str) -> bool:
        """Whether the word stands anywhere in it."""
        return word in repr(self.data)


def edited_spec(edits: Mapping[str, Any], model: type[Section] = Build) -> LoadedSpec:
    """The sound spec with edits made, loaded. Raises `SpecErrors` where an edit is not a value of its field."""
    if not edits:
        return load_text(sound_text(), label="sound.toml", model=model)
    # What an edit holds goes once through TOML, as the text of a whole spec would: it then holds what TOML can.
    edits = {path: value if value is None else _as_toml_holds_it(value) for path, value in edits.items()}
    return _with_other_sections(edits, model) or load(_edited_file(edited_data(edits)), Path.cwd(), model=model)


def _edited_file(data: dict[str, Any]) -> EditedFile:
    return EditedFile("sound.toml", data)


def _with_other_sections(edits: Mapping[str, Any], model: type[Section]) -> LoadedSpec | None:
    """The sound spec as loaded, but for the sections that edits are made in: those alone are read.

    None where that is not all there is to it: where they cannot be read, stand under an older name, or name files.
    """
    touched = {str(path_key(path)[0]) for path in edits}
    if not touched <= members(model).keys():
        return None
    whole, sound = _sound_data(), _sound_loaded(model)
    edited = edited_data(edits, {name: section for name, section in whole.items() if name in touched})
    data = {name: edited.get(name, section) for name, section in whole.items() if name in edited or name not in touched}
    data |= edited
    file = _edited_file(edited)
    try:
        own = load(file, Path.cwd(), model=model)
    except SpecErrors:
        return None
    if own.file is not file or own.sheets or own.lower or own.origins or sound.origins:
        return None
    read = {member.name: getattr(own.build, member.name) for member in (members(model)[name] for name in touched)}
    return replace(
        own,
        file=_edited_file(data),
        build=sound.build.model_copy(update=read),
        stated_data={name: (own if name in touched else sound).stated_data[name] for name in data},
    )


@functools.cache
def _sound_loaded(model: type[Section]) -> LoadedSpec:
    return load(_edited_file(_sound_data()), Path.cwd(), model=model)


def _as_toml_holds_it(value: Any) -> Any:
    return tomli.loads(tomli_w.dumps({"value": value}))["value"]


def sound_spec(base: RuleBase, edits: Mapping[str, Any] | None = None) -> LoadedSpec:
    """The sound spec, completed with what each pack needs for its own fields, with edits made."""
    own = {path: value for pack in base.packs for path, value in pack.sound.items()}
    return edited_spec({**own, **(edits or {})}, base.model)


def _expanded(data: Any, keys: PathKey, path: str) -> list[PathKey]:
    if "*" not in keys:
        return [keys]
    cut = keys.index("*")
    node = data
    try:
        for key in keys[:cut]:
            node = node[key]
    except (KeyError, IndexError, TypeError):
        node = None
    if not isinstance(node, dict):
        raise ValueError(f"{path}: the sound spec has no parts there to edit")
    return [found for name in node for found in _expanded(data, (*keys[:cut], name, *keys[cut + 1 :]), path)]


def _put(data: dict[str, Any], keys: PathKey, value: Any, path: str) -> None:
    node: Any = data
    for key, following in zip(keys[:-1], keys[1:], strict=True):
        if isinstance(node, dict) and key not in node:
            if value is None:
                return
            node[key] = [] if isinstance(following, int) else {}
        if isinstance(node, list) and key == len(node) and value is not None:
            node.append([] if isinstance(following, int) else {})
        try:
            node = node[key]
        except (KeyError, IndexError, TypeError):
            raise ValueError(f"{path}: the sound spec has nothing there to edit") from None
    last = keys[-1]
    if isinstance(node, list) and isinstance(last, int):
        if last == len(node) and value is not None:
            node.append(value)
            return
        if last >= len(node):
            raise ValueError(f"{path}: the list has only {len(node)} items")
        if value is None:
            del node[last]
        else:
            node[last] = value
    elif isinstance(node, dict):
        if value is None:
            node.pop(last, None)
        else:
            node[last] = value
    else:
        raise ValueError(f"{path}: the sound spec has nothing there to edit")
