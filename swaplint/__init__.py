"""swaplint: checks a declarative engine-swap build spec with rule plugins.

Rule authors import from `swaplint.api`; the command line is `swaplint`.
"""

__version__ = "0.2.0"
