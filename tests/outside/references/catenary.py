"""Lines that hang in still fluid: the catenary, rigid and elastic, solved from its closed form.

Source: H. M. Irvine, Cable Structures, MIT Press 1981, ch. 2 (from memory, rederived: horizontal tension H is
constant, vertical tension grows by the weight below, each element stretches by T/EA). The numbers it is held
to are A7 of the check values.
"""

from dataclasses import dataclass
from math import asinh, cosh, hypot, sinh

from scipy.optimize import brentq, fsolve


@dataclass(frozen=True)
class Catenary:
    """End forces [N] on an elastic line hung between two ends: horizontal pull and upward pull at low and high end."""

    horizontal: float
    low_vertical: float
    high_vertical: float

    @property
    def low_tension(self) -> float:
        """Tension at the low end [N]."""
        return hypot(self.horizontal, self.low_vertical)

    @property
    def high_tension(self) -> float:
        """Tension at the high end [N]."""
        return hypot(self.horizontal, self.high_vertical)


def span_and_rise(horizontal: float, low: float, length: float, stiffness: float, weight: float) -> tuple[float, float]:
    """Span and rise [m] of a line whose low end carries tension (horizontal, low), low > 0 when it rises there [N]."""
    high = low + weight * length
    span = horizontal / weight * (asinh(high / horizontal) - asinh(low / horizontal)) + horizontal * length / stiffness
    tensions = hypot(horizontal, high) - hypot(horizontal, low)
    rise = tensions / weight + (high * high - low * low) / (2 * stiffness * weight)
    return span, rise


def elastic_catenary(span: float, rise: float, length: float, stiffness: float, weight: float) -> Catenary:
    """Solve for the end forces [N] given span, rise and unstretched length [m], EA [N], weight per length [N/m]."""

    def miss(state: list[float]) -> list[float]:
        got = span_and_rise(abs(state[0]), state[1], length, stiffness, weight)
        return [got[0] - span, got[1] - rise]

    slack = max(length / hypot(span, rise) - 1, 1e-6)
    guess = weight * span / 2 / (6 * slack) ** 0.5
    start = [guess, weight / 2 * (rise * (1 + 1 / (6 * slack) ** 0.5) - length)]
    horizontal, low = fsolve(miss, start, xtol=1e-13)
    return Catenary(abs(float(horizontal)), float(low), float(low) + weight * length)


def parameter_of_level_span(span: float, length: float) -> float:
    """Catenary parameter a [m] of an inextensible line between level ends: 2 a sinh(span/2a) = length."""
    return float(brentq(lambda a: 2 * a * sinh(span / (2 * a)) - length, span / 20, span * 100, xtol=1e-13))


def sag(parameter: float, half_span: float) -> float:
    """Sag [m] of a level catenary of parameter a [m]."""
    return parameter * (cosh(half_span / parameter) - 1)


def half_length(parameter: float, half_span: float) -> float:
    """Length [m] from the lowest point to the end of a level catenary."""
    return parameter * sinh(half_span / parameter)
