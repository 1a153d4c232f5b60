"""Units at the edge: reads and shows quantities such as "15 kn"; everything inside is SI floats."""

from spreadwright.quantity.text import QuantityError, System, quote, read, show, show_given, show_turned, show_unit
from spreadwright.quantity.units import DIMENSIONS, Dimension

__all__ = [
    "DIMENSIONS",
    "Dimension",
    "QuantityError",
    "System",
    "quote",
    "read",
    "show",
    "show_given",
    "show_turned",
    "show_unit",
]
