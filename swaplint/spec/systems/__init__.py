"""The fields of each system, one module or package of that name; `swaplint.spec.model` puts them in their sections.

These modules do without postponed annotations: pydantic would compile the text of each of more than a thousand of them
every time that the program starts.
"""
