"""What a reel holds, and the radius that is left on the spool as line runs out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.faults import Fault

# Share of the wound space that is line: geometry of equal circles, turns side by side.
SQUARE_PACKING = math.pi / 4.0  # turns stacked one above the other
HEXAGONAL_PACKING = math.pi / (2.0 * math.sqrt(3.0))  # turns in the grooves: the densest possible
# Line laid by hand or a level-wind, crossing turns: common practice, no source.
LOOSEST_PACKING = 0.45


@dataclass(frozen=True, slots=True)
class Spool:
    """A reel's spool: width between flanges, radius when full, radius of the bare arbor [m].

    Raises ValueError unless all are positive, finite and the full radius is the larger.
    """

    width: float
    full_radius: float
    arbor_radius: float

    def __post_init__(self) -> None:
        values = (self.width, self.full_radius, self.arbor_radius)
        if not all(math.isfinite(value) and value > 0.0 for value in values):
            raise ValueError(f"a spool's measures are positive lengths, given {values}")
        if self.full_radius <= self.arbor_radius:
            raise ValueError("a spool's full radius is larger than its arbor's")

    @property
    def volume(self) -> float:
        """Space for line [m3]: pi w (R^2 - r^2)."""
        return math.pi * self.width * (self.full_radius**2 - self.arbor_radius**2)


@dataclass(frozen=True, slots=True)
class Layer:
    """One line on the spool: length [m] and diameter [m]; the first layer is next to the arbor."""

    length: float
    diameter: float

    @property
    def volume(self) -> float:
        """Volume of the line itself [m3]."""
        return self.length * math.pi * self.diameter**2 / 4.0


@dataclass(frozen=True, slots=True)
class WoundSpool:
    """A spool filled to its full radius with layers of line, innermost (backing) first.

    packing [1] is the share of the space the line fills, worked out from both.
    """

    spool: Spool
    layers: tuple[Layer, ...]
    packing: float

    @property
    def line_length(self) -> float:
        """All the line on it [m]."""
        return sum(layer.length for layer in self.layers)


def capacity(spool: Spool, diameter: float, packing: float = SQUARE_PACKING) -> float:
    """Length [m] of line of `diameter` [m] a spool takes: packing x volume / (pi d^2 / 4).

    With SQUARE_PACKING this is pi w (R^2 - r^2) / d^2; HEXAGONAL_PACKING gives 2/sqrt(3) times
    as much. Geometry; real winding crosses its turns and holds less than either.

    Worked example: w 40, R 30, r 15, d 1 mm: 84.823 m square, 97.945 m hexagonal.

    >>> reel = Spool(0.040, 0.030, 0.015)
    >>> round(capacity(reel, 1e-3), 7), round(capacity(reel, 1e-3, HEXAGONAL_PACKING), 7)
    (84.8230016, 97.9451657)
    """
    if not (math.isfinite(diameter) and diameter > 0.0):
        raise ValueError(f"line diameter must be positive and finite, given {diameter}")
    if not 0.0 < packing <= HEXAGONAL_PACKING + 1e-12:
        raise ValueError(f"packing lies above 0 and up to 0.907 (hexagonal), given {packing}")
    return packing * spool.volume / (math.pi * diameter**2 / 4.0)


def packing_from_rating(spool: Spool, diameter: float, rated_length: float) -> float | Fault:
    """Packing [1] that a maker's or captain's rated capacity means for this spool and diameter.

    A Fault if it is denser than circles can be packed, or so loose that a measure must be wrong.

    >>> packing_from_rating(Spool(0.040, 0.030, 0.015), 1e-3, 70.0)
    0.648148...
    """
    return _packing(spool, (Layer(rated_length, diameter),))


def wind(spool: Spool, layers: Sequence[Layer]) -> WoundSpool | Fault:
    """A spool full to its stated radius with `layers` (innermost first); packing follows.

    A Fault if that much line cannot fit, or fills less than 45 % of the space (then the spool is
    not full: give the radius it is really filled to).
    """
    packing = _packing(spool, tuple(layers))
    if isinstance(packing, Fault):
        return packing
    return WoundSpool(spool, tuple(layers), packing)


def _packing(spool: Spool, layers: tuple[Layer, ...]) -> float | Fault:
    packing = sum(layer.volume for layer in layers) / spool.volume
    total = sum(layer.length for layer in layers)
    given = f"{total:.0f} m ({total / 0.9144:.0f} yd) of line, {100 * packing:.0f} % of the spool's space"
    if packing > HEXAGONAL_PACKING:
        return Fault(
            place="line on the spool",
            given=given,
            rule="round line fills at most 91 % of the space (turns in each other's grooves)",
            next_step="check the line's length and diameter and the spool's width and radii",
        )
    if not packing >= LOOSEST_PACKING:
        return Fault(
            place="line on the spool",
            given=given,
            rule=f"a full spool is {100 * LOOSEST_PACKING:.0f} % or more line",
            next_step="give the radius the spool is really filled to, or the line's true length",
        )
    return packing


def radius_after(wound: WoundSpool, line_out: float) -> float:
    """Radius [m] of the line left on the spool with `line_out` [m] taken off.

    The space of the line taken off leaves a ring: r^2 = R^2 - V / (packing pi w). Valid from 0 to
    all the line; raises ValueError beyond. Worked example: half the line of one diameter off
    leaves r = sqrt((R^2 + r_arbor^2) / 2).

    >>> wound = wind(Spool(0.040, 0.030, 0.015), [Layer(80.0, 1e-3)])
    >>> round(radius_after(wound, 40.0), 6)
    0.023717
    """
    if not 0.0 <= line_out <= wound.line_length * (1.0 + 1e-12):
        raise ValueError(
            f"line out must lie between 0 and the {wound.line_length:.1f} m on the spool, given {line_out}"
        )
    left, taken = line_out, 0.0
    for layer in reversed(wound.layers):
        off = min(left, layer.length)
        taken += off / layer.length * layer.volume if layer.length > 0.0 else 0.0
        left -= off
    spool = wound.spool
    squared = spool.full_radius**2 - taken / (wound.packing * math.pi * spool.width)
    return math.sqrt(max(squared, spool.arbor_radius**2))
