"""A number that knows where it comes from and in which unit of the trade it is shown."""

from __future__ import annotations


class Value(float):
    """A number that knows where it comes from and which unit of the trade it is shown in. Otherwise a float, in SI."""

    __slots__ = ("kind", "path", "unit")
    unit: str
    kind: str
    path: str

    @classmethod
    def of(cls, number: float, kind: str, unit: str, path: str) -> Value:
        """A value with its kind of quantity, the unit it is shown in and the field or quantity it is."""
        self = cls(number)
        self.kind, self.unit, self.path = kind, unit, path
        return self
