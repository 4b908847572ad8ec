"""The fields of each system, one module per system; `swaplint.spec.model` puts them in their sections.

These modules do without postponed annotations: pydantic would compile the text of each of more than a thousand of them
every time that the program starts.
"""
