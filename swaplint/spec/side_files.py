"""Files that a call names beside the specs, such as a shop's policy: read and checked as strictly as a spec."""

from __future__ import annotations

from pathlib import Path

from pydantic import ValidationError

from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.refusals import refusals
from swaplint.spec.toml_source import SpecError, bytes_of, read_bytes


def load_side_file(path: str, model: type[Section], what: str) -> LoadedSpec:
    """A TOML file as an instance of a model, with the place of each value. Raises `SpecErrors`.

    `what` says what kind of file it is, for a sentence.
    """
    try:
        if not path:
            raise SpecError(f"the name of the {what} is empty", what)
        file = read_bytes(bytes_of(Path(path), path, what=what), path, what=what)
    except SpecError as error:
        raise SpecErrors([error]) from None
    loaded = LoadedSpec(path, file, model.model_construct())
    try:
        loaded.build = model.model_validate(file.data)
    except ValidationError as error:
        raise SpecErrors(refusals(error, model, loaded, whole=f"the {what}")) from None
    return loaded
