"""Layers: files that lie under a build spec, as a data sheet lies under a part and fills in what the spec leaves out.

A layer knows where its table stands, in the spec and in the file that it is written in. What a lower layer fills in is
noted in the origins, so that each value is traced to its file and line.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

from swaplint.spec.loaded import Origins
from swaplint.spec.toml_source import PathKey, TomlFile


class At(NamedTuple):
    """Where a table stands: in the spec, and in the file that it is written in."""

    path: PathKey
    file: TomlFile
    file_path: PathKey
    folder: Path
    """The folder of that file: sheets named in it are looked for there first."""
    chain: tuple[Path, ...]
    """The sheets that led here, to notice a circle."""

    def below(self, *keys: str | int) -> At:
        """The same for a table below this one."""
        return At((*self.path, *keys), self.file, (*self.file_path, *keys), self.folder, self.chain)


def overlay(out: dict[str, Any], data: dict[str, Any], at: At, inner: Origins, origins: Origins) -> None:
    """Put into `out` what only the sheet states, and note where it came from."""
    for key, value in data.items():
        here = at.below(key)
        if key == "sheet":
            continue
        if key not in out:
            out[key] = value
            origins[here.path] = (at.file, here.file_path)
            depth = len(here.path)
            origins.update({p: o for p, o in inner.items() if p[:depth] == here.path})
        elif isinstance(out[key], dict) and isinstance(value, dict) and "value" not in out[key]:
            out[key] = dict(out[key])
            overlay(out[key], value, here, inner, origins)
