"""swaplint: checks a declarative engine-swap build spec with rule plugins."""
