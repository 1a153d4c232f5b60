"""How strong a single strand of stainless leader wire is, from its diameter.

Source: ASTM A313/A313M, Standard Specification for Stainless Steel Spring Wire, tensile
requirements for Types 302 (class 1) and 304, as reprinted in wire merchants' data sheets (two
that agree were read; the standard's own page was not). The table gives a least and a greatest
tensile strength for each band of diameter; the strength of the wire is that times its area.

A maker's own rating on the packet, where there is one, is often lower than this and then governs.
Stainless of another type (316) is weaker than this table.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from spreadwright.faults import Fault
from spreadwright.tackle.span import Span

INCH = 0.0254  # [m], exact
KSI = 6.894757293168e6  # [Pa], 1000 lbf/in2: 4.4482216152605 N / 0.0254^2 m2 x 1000
SOURCE = "ASTM A313, Types 302 class 1 and 304, tensile requirements by diameter"

# (largest diameter of the band [in], least and greatest tensile strength [ksi]).
# The band "over 0.012 to 0.013 in" is printed 324 (344) in every reprint seen. All neighbours
# have a band 30 ksi wide and fall with diameter, so 324 is taken as a misprint of 314.
BANDS: tuple[tuple[float, float, float], ...] = (
    (0.009, 325.0, 355.0), (0.010, 320.0, 350.0), (0.011, 318.0, 348.0), (0.012, 316.0, 346.0),
    (0.013, 314.0, 344.0), (0.014, 312.0, 342.0), (0.015, 310.0, 340.0), (0.016, 308.0, 338.0),
    (0.017, 306.0, 336.0), (0.018, 304.0, 334.0), (0.020, 300.0, 330.0), (0.022, 296.0, 326.0),
    (0.024, 292.0, 322.0), (0.026, 291.0, 320.0), (0.028, 289.0, 318.0), (0.031, 285.0, 315.0),
    (0.034, 282.0, 310.0), (0.037, 280.0, 308.0), (0.041, 275.0, 304.0), (0.045, 272.0, 300.0),
    (0.050, 267.0, 295.0), (0.054, 265.0, 293.0), (0.058, 261.0, 289.0), (0.063, 258.0, 285.0),
    (0.070, 252.0, 281.0), (0.075, 250.0, 278.0), (0.080, 246.0, 275.0),
)  # fmt: skip
PRINTED_MINIMUM_AT_0013_IN = 324.0  # [ksi], the misprint, kept for the record

# Leader wire sold by number follows the music-wire steps [in]. From memory, not from a
# standard that was read: measure the wire where it matters.
GAUGE_DIAMETERS_IN: dict[int, float] = {
    2: 0.011, 3: 0.012, 4: 0.013, 5: 0.014, 6: 0.016, 7: 0.018, 8: 0.020, 9: 0.022, 10: 0.024,
    11: 0.026, 12: 0.029, 13: 0.031, 14: 0.033, 15: 0.035, 16: 0.037, 17: 0.039, 18: 0.041,
    19: 0.043, 20: 0.045,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class WireStrength:
    """Breaking load of straight single-strand wire at one diameter.

    diameter [m]; tensile [Pa] and breaking_load [N] as ranges whose low is the standard's
    minimum and whose high is its maximum (usual: the middle); note: what to know about it.
    """

    diameter: float
    tensile: Span
    breaking_load: Span
    source: str = SOURCE
    note: str = ""


def tensile_band(diameter: float) -> Span | Fault:
    """Tensile strength [Pa] of 302/304 spring wire of `diameter` [m].

    Valid above zero up to 0.080 in (2.03 mm). A band runs from over the previous size up to and
    including its own size. Outside the range: a Fault.

    Worked example: 0.018 in wire lies in "over 0.017 to 0.018 in": 304 to 334 ksi.

    >>> band = tensile_band(0.018 * INCH)
    >>> round(band.low / KSI, 6), round(band.high / KSI, 6)
    (304.0, 334.0)
    """
    largest = BANDS[-1][0]
    inches = diameter / INCH
    for upper, least, greatest in BANDS:
        # 1e-9: a diameter given in mm must not fall into the next band by rounding alone.
        if 0.0 < inches <= upper * (1.0 + 1e-9):
            return Span(least * KSI, 0.5 * (least + greatest) * KSI, greatest * KSI)
    return Fault(
        place="wire diameter",
        given=f"{diameter * 1000.0:g} mm",
        rule=f"the table for stainless spring wire covers above 0 up to {largest:.3f} in ({largest * 25.4:.2f} mm)",
        next_step="measure the wire again, or enter the maker's rated strength instead",
    )


def wire_strength(diameter: float) -> WireStrength | Fault:
    """Breaking load [N] of straight single-strand 302/304 wire of `diameter` [m].

    F = sigma pi d^2 / 4 (area of a round wire), sigma from `tensile_band`. Valid for straight,
    unkinked, uncorroded wire; a kink or a twist takes more off (see connections). Outside the
    table: a Fault.

    Worked example: 0.035 in wire, 280 ksi at least: 280 000 x pi/4 x 0.035^2 = 269.39 lbf.

    >>> round(wire_strength(0.035 * INCH).breaking_load.low / 4.4482216152605, 2)
    269.39
    """
    tensile = tensile_band(diameter)
    if isinstance(tensile, Fault):
        return tensile
    area = math.pi * diameter**2 / 4.0
    misprinted = tensile.low == 314.0 * KSI
    note = "the printed minimum for this size (324 ksi) is taken as a misprint of 314 ksi" if misprinted else ""
    return WireStrength(diameter, tensile, tensile * area, note=note)


def gauge_diameter(number: int) -> float | Fault:
    """Diameter [m] of leader wire sold by `number` (2 to 20); steps from memory, see above.

    >>> round(gauge_diameter(12) * 1000.0, 3)
    0.737
    """
    if number in GAUGE_DIAMETERS_IN:
        return GAUGE_DIAMETERS_IN[number] * INCH
    return Fault(
        place="wire number",
        given=str(number),
        rule=f"numbers {min(GAUGE_DIAMETERS_IN)} to {max(GAUGE_DIAMETERS_IN)} are known",
        next_step="measure the wire and enter its diameter",
    )
