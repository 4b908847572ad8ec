"""The fields of each system, one module per system; `swaplint.spec.model` puts them in their sections."""
