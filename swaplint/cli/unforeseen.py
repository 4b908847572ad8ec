"""The last line of defence: what nobody foresaw, as one sentence that asks for a report."""

from __future__ import annotations

import traceback

from swaplint import __version__
from swaplint.cli.output import LONGEST_SAID
from swaplint.host.problems import first_line, short_file
from swaplint.reports.layout import safe

DEEPEST = 3
"""How many of the places where it happened are named, the innermost last."""


def sentence(error: Exception) -> str:
    """What ended the command, with what a report of it must say."""
    frames = traceback.extract_tb(error.__traceback__)[-DEEPEST:]
    places = " > ".join(f"{short_file(frame.filename)}:{frame.lineno}" for frame in frames)
    what = f"{first_line(error)} (version {__version__}, at {places})"
    return (
        safe(
            "swaplint: this was not foreseen, and is a fault of swaplint, not of your files: "
            f"{what[:LONGEST_SAID]}. The results are missing; please report it with what you called and the files "
            "that it read."
        )
        + "\n"
    )
