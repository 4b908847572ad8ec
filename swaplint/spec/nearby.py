"""The files beside a spec: only those in its own folder, and in the folders that the caller gives, are read."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from pathlib import Path
from types import MappingProxyType

from swaplint.spec.facts import nearest
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.toml_source import MAX_BYTES, ParsedFiles, TomlFile, bytes_of

MAX_LAID_IN = 4 * MAX_BYTES
"""How much text of other files a spec may lay in, counted as often as it is laid in: keeps hostile specs quick."""

MOST_LOOKED_AT = 500
"""How many files of a folder are looked at for one with a like name."""


class NotThere(Exception):
    """No file of that name may be read; the message goes on after a place."""


class Nearby:
    """The folders that a spec's data sheets, base specs and tables may stand in, and those of them that were read."""

    def __init__(
        self,
        label: str,
        folder: Path,
        sheet_folders: Iterable[Path],
        parsed: ParsedFiles,
        of_packs: Mapping[str, Path] = MappingProxyType({}),
    ) -> None:
        """`label` is the spec's, and `folder` the one that it stands in; `of_packs` the folders that packs bring."""
        given = [folder, *sheet_folders]
        self.folders = [one.resolve() for one in (*given, *of_packs.values())]
        self.shown_as = [*given, *map(Path, of_packs)]
        """How each of them is named in output."""
        self._of_packs = self.folders[len(given) :]
        self.laid_in = 0
        self._label, self._parsed = label, parsed

    def find(self, name: str, folder: Path, what: str) -> Path:
        """The file of a name, looked for in the folder of the file that names it, then in the others.

        `what` says what kind of file it is, for a sentence. Raises `NotThere`.
        """
        if "\0" in name or not 0 < len(name) <= 300:
            raise NotThere("is not a file name")
        outside = False
        for base in (folder, *self.folders):
            try:
                path = (base / name).resolve()
                FILES_READ.note(path)
                if not any(path.is_relative_to(allowed) for allowed in self.folders):
                    outside = True
                    continue
                if path.exists():
                    return path
            except (OSError, RuntimeError, ValueError):
                continue
        if outside:
            raise NotThere(
                f"the {what} {name!r} lies outside the spec's folder; "
                f"{what}s are read from there and from the folders given with --sheets"
            )
        raise NotThere(
            f"there is no {what} {name!r} in the spec's folder or in a folder given with --sheets{self._meant(name)}"
        )

    def _meant(self, name: str) -> str:
        """The file that a name was perhaps meant to be, as the end of a sentence; empty where none is like it."""
        kind = "".join(Path(name).suffixes[-2:])
        there = {
            other.removesuffix(kind) for folder in self.folders for other in _names_in(folder) if other.endswith(kind)
        }
        like = nearest(Path(name).name.removesuffix(kind), there) if kind else None
        return f"; did you mean {like + kind!r}?" if like else ""

    def of_pack(self, path: Path) -> bool:
        """Whether a file that was found came with a rule pack: nobody but its author changes that."""
        return any(path.is_relative_to(folder) for folder in self._of_packs)

    def read(self, path: Path) -> TomlFile:
        """A TOML file that was found. Raises `SpecError`."""
        return self._parsed.read(path, self.label(path))

    def read_raw(self, path: Path) -> bytes:
        """The bytes of a table that was found. Raises `SpecError`."""
        return bytes_of(path, self.label(path), "CSV")

    def lay_in(self, text: str, what: str) -> None:
        """Count a text that is laid in. Raises `NotThere` where that is too much, the first time."""
        before = self.laid_in
        self.laid_in += len(text) + 1000
        if self.laid_in > MAX_LAID_IN:
            raise NotThere(
                f"the {what}s come to more than {MAX_LAID_IN // 1000} kB in all" if before <= MAX_LAID_IN else ""
            )

    def label(self, path: Path) -> str:
        """A file as seen from where the tool runs: its folder as the caller gave it, and the path below that."""
        for folder, given in zip(self.folders, self.shown_as, strict=True):
            if path.is_relative_to(folder):
                above = Path(self._label).parent if folder == self.folders[0] else given
                return (above / path.relative_to(folder)).as_posix()
        return path.name


def _names_in(folder: Path) -> list[str]:
    try:
        return [path.name for path in itertools.islice(folder.iterdir(), MOST_LOOKED_AT)]
    except OSError:
        return []
