"""Files, places and URIs as SARIF names them.

A URI is relative, percent-encoded and has forward slashes. Its base is the folder that the tool was run in; files
outside that folder have a base of their own, the deepest folder that holds them all. Neither base is given as an
absolute address: the log must not depend on the machine or tell of it.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any
from urllib.parse import quote

from swaplint.reports.sarif.texts import message
from swaplint.spec.loaded import LoadedSpec, SheetDocument
from swaplint.spec.paths import path_key
from swaplint.spec.table_file import TableFile
from swaplint.spec.toml_source import PathKey, Place, TomlFile

Json = dict[str, Any]

ROOT = "SPECROOT"
OUTSIDE = "OUTSIDE"
BASES = {
    ROOT: "The folder that the tool was run in.",
    OUTSIDE: "The deepest folder that holds all files outside the folder that the tool was run in.",
}
STDIN_LABEL = "standard input"
STDIN_NAME = "standard-input.toml"

_UNREAD = "File that could not be read."
_BESIDE = {"policy": "The shop's policy.", "userSpecifiedConfiguration": "Departures that the shop signed for."}
_NOTHING: Mapping[str, str] = MappingProxyType({})
_TOML = {"mimeType": "application/toml", "encoding": "UTF-8", "sourceLanguage": "toml"}
_ABSOLUTE = re.compile(r"""(?<![\w/.:])/(?:[^\s/'"]+/)+|(?<!\w)[A-Za-z]:\\(?:[^\s\\'"]+\\)+""")
_SEGMENT_SAFE = "!$&'()*+,;=@"  # RFC 3986, section 3.3; a colon may not stand in the first segment


class Files:
    """The files that a report speaks of: the specs in the order given, the sheets, and what could not be read."""

    def __init__(
        self, specs: Sequence[LoadedSpec], unread: Iterable[str] = (), beside: Mapping[str, str] = _NOTHING
    ) -> None:
        """`unread` holds the labels of files that were named, but could not be read.

        `beside` holds those that the call judges by, each with its role.
        """
        roles: dict[str, list[str]] = {}
        about: dict[str, str] = {}
        tables: dict[str, str] = {}
        for spec in specs:
            roles[spec.label] = ["analysisTarget"]
            about[spec.label] = "Build spec."
        for spec in specs:
            for file in spec.files()[1:]:
                roles.setdefault(file.label, ["analysisTarget"])
                about.setdefault(file.label, _about(spec, file.label))
                if isinstance(file, TableFile):
                    tables[file.label] = file.encoding
        for label in sorted(unread):
            roles.setdefault(label, ["analysisTarget"])
            about.setdefault(label, _UNREAD)
        for label, role in beside.items():
            roles.setdefault(label, [role])
            about.setdefault(label, _BESIDE[role])
        self._paths, self._outside = _relative(roles)
        self._index: dict[tuple[str, str], int] = {}
        self._locations: dict[str, Json] = {}
        self.artifacts: list[Json] = []
        self.has_stdin = STDIN_LABEL in roles
        for label, given in roles.items():
            base, path = self._paths[label]
            if (base, path) in self._index:
                continue
            self._index[base, path] = len(self.artifacts)
            self.artifacts.append(
                {
                    "location": self.location(label),
                    "description": message(about[label]),
                    "roles": [*given, "standardStream"] if label == STDIN_LABEL else given,
                    **({} if about[label] == _UNREAD else _written(tables.get(label))),
                }
            )

    def location(self, label: str) -> Json:
        """A file as an artifactLocation."""
        if label not in self._locations:
            base, path = self._paths[label]
            self._locations[label] = {"uri": _uri(path), "uriBaseId": base, "index": self._index[base, path]}
        return dict(self._locations[label])

    def knows(self, label: str) -> bool:
        """Whether a file is one that the report speaks of."""
        return label in self._paths

    def shown(self, label: str) -> str:
        """A file as people read it; one that the report does not speak of without the folders of this machine."""
        if label in self._paths:
            return self._paths[label][1]
        return os.path.basename(label) if os.path.isabs(label) else label

    def physical(self, place: Place) -> Json:
        """A place as a physicalLocation."""
        return {"artifactLocation": self.location(place.file), "region": region(place)}

    def bases(self) -> Json:
        """The bases in use, for `originalUriBaseIds`: described, not located."""
        used = sorted({base for base, _ in self._index})
        out = {base: {"description": message(BASES[base])} for base in used}
        if OUTSIDE in out and self._outside:
            # As a `uri` it would need dot segments, which a base must not have.
            out[OUTSIDE]["properties"] = {"fromSpecRoot": _uri(self._outside) + "/"}
        return out

    def tidy(self, text: str) -> str:
        """A text without the folders of this machine."""
        for label in sorted(self._paths, key=len, reverse=True):
            if os.path.isabs(label):
                text = text.replace(label, self._paths[label][1])
        return _ABSOLUTE.sub("", text)


def region(place: Place) -> Json:
    """A place as a region: from 1, `endColumn` one past the end."""
    return {
        "startLine": place.line,
        "startColumn": place.column,
        "endLine": place.end_line,
        "endColumn": place.end_column,
    }


def keys_of(path: str) -> PathKey:
    """The keys of a field path; none for anything that is not one, such as a rule's free words."""
    try:
        return path_key(path) if path else ()
    except ValueError:
        return ()


def act_place(spec: LoadedSpec, path: str) -> Place:
    """Where the builder can act on what a finding is about; the first line where that is no field path."""
    return spec.act_place(path if keys_of(path) else "", own=True)


def own_value(spec: LoadedSpec, path: str) -> tuple[TomlFile, tuple[int, int]] | None:
    """Where the spec, or a table of it, states a field's value, without tolerance and basis: the file, and the text."""
    keys = keys_of(path)
    file: TomlFile = spec.file
    in_table = spec.in_table(keys)
    if in_table is not None:
        file, _, keys = in_table
    elif any(keys[:cut] in spec.origins for cut in range(1, len(keys) + 1)):
        return None
    spans = file.spans.get((*keys, "value")) or file.spans.get(keys)
    return (file, spans.value) if keys and spans is not None and spans.value is not None else None


def _about(spec: LoadedSpec, label: str) -> str:
    if label in spec.sheets:
        return _sheet_text(spec, label)
    return "Table of parts." if isinstance(spec.lower[label], TableFile) else "Build spec that another stands on."


def _written(encoding: str | None) -> Json:
    """How a file is written; `encoding` is that of a table, None for TOML."""
    return _TOML if encoding is None else {"mimeType": "text/csv", "encoding": encoding}


def _sheet_text(spec: LoadedSpec, label: str) -> str:
    about = spec.sheets[label].data.get("document")
    about = about if isinstance(about, dict) else {}
    cited = str(SheetDocument(*(str(about.get(key, "")) for key in ("title", "revision", "date"))))
    return f"Data sheet: {cited}." if cited else "Data sheet."


def _relative(labels: Iterable[str]) -> tuple[dict[str, tuple[str, str]], str]:
    """The base and path of each file; and the way from the one base to the other, where no label is absolute."""
    here = os.getcwd()
    out: dict[str, tuple[str, str]] = {}
    outside: dict[str, str] = {}
    for label in labels:
        full = os.path.abspath(label)
        inside = _below(full, here)
        if label == STDIN_LABEL:
            out[label] = ROOT, STDIN_NAME
        elif inside is not None:
            out[label] = ROOT, inside
        else:
            outside[label] = full
    if outside:
        try:
            common = os.path.commonpath([os.path.dirname(full) for full in outside.values()])
        except ValueError:  # files on several drives
            common = ""
        for label, full in outside.items():
            out[label] = OUTSIDE, _below(full, common) or os.path.basename(full)
        same_drive = os.path.splitdrive(common)[0].lower() == os.path.splitdrive(here)[0].lower()
        if common and same_drive and not any(os.path.isabs(label) for label in outside):
            return out, os.path.relpath(common, here).replace(os.sep, "/")
    return out, ""


def _below(full: str, folder: str) -> str | None:
    """A path as seen from a folder that holds it, with forward slashes; None where the folder does not."""
    try:
        common = os.path.commonpath([full, folder]) if folder else ""
        if not folder or os.path.normcase(common) != os.path.normcase(os.path.normpath(folder)):
            return None
    except ValueError:
        return None
    return os.path.relpath(full, folder).replace(os.sep, "/")


def _uri(path: str) -> str:
    return "/".join(quote(os.fsencode(segment), safe=_SEGMENT_SAFE) for segment in path.split("/"))
