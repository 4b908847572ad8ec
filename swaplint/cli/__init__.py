"""The command line: one module per command."""

from __future__ import annotations

from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the `swaplint` command. Returns the exit status."""
    from swaplint.cli.program import run

    return run(arguments)
