"""`python -m swaplint`: the same as the command `swaplint`."""

from __future__ import annotations

import sys

from swaplint.cli import command

if __name__ == "__main__":
    sys.exit(command())
