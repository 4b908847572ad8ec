"""The system that a section belongs to, whether the fields of that system stand in one module or in several."""

from __future__ import annotations

import importlib
import pkgutil
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from swaplint.spec import systems
from swaplint.spec.fields import Section
from swaplint.spec.model import Build
from swaplint.spec.schema import sections_below
from swaplint.spec.shape import system_of

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = sorted(module.name for module in pkgutil.iter_modules(systems.__path__) if module.ispkg)


def declared_in(package: str) -> Iterator[type[Section]]:
    """The sections that the modules of a package declare."""
    above = importlib.import_module(f"{systems.__name__}.{package}")
    for found in pkgutil.iter_modules(above.__path__):
        module = importlib.import_module(f"{above.__name__}.{found.name}")
        for each in vars(module).values():
            if isinstance(each, type) and issubclass(each, Section) and each.__module__ == module.__name__:
                yield each


def test_the_four_largest_systems_are_packages() -> None:
    assert {"chassis", "cooling", "driveline", "fuel"} <= set(PACKAGES)


@pytest.mark.parametrize("package", PACKAGES)
def test_a_section_in_a_package_belongs_to_the_system_of_the_package(package: str) -> None:
    sections = list(declared_in(package))
    assert len(sections) > 5
    assert {system_of(section) for section in sections} == {package}


@pytest.mark.parametrize("package", PACKAGES)
def test_every_section_of_a_package_stands_in_the_build_or_is_inherited_from(package: str) -> None:
    in_build = sections_below(Build)
    left_out = [s for s in declared_in(package) if not any(issubclass(section, s) for section in in_build)]
    assert left_out == []


@pytest.mark.parametrize("package", PACKAGES)
def test_the_package_is_built_into_the_distribution(package: str) -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    assert f"{systems.__name__}.{package}" in settings["packages"]
