"""Line sizes: diameter from a published size number.

Published size standards (Japan Fishing Tackle Manufacturers Association, JAFS, 2010): nylon,
fluorocarbon and polyester monofilament by diameter, polyethylene (PE) braid by weight per
length in denier. When the captain gives only a strength, the diameter follows from a strength
per area with wide doubt (see `Material.diameter_for`): line makers share no standard for that.
"""

from __future__ import annotations

import bisect
import math

from spreadwright.faults import Fault
from spreadwright.tackle.span import Span

MILLIMETRE = 1e-3
PE_DENSITY = 970.0  # [kg/m3], ultra-high-molecular-weight polyethylene (SG 0.97, fibre tables)

JAFS_SOURCE = "JAFS standard diameters for nylon, fluorocarbon and polyester line (2010)"
# size number -> standard diameter [mm]
JAFS_NYLON: dict[float, float] = {
    0.1: 0.053, 0.15: 0.064, 0.2: 0.074, 0.25: 0.083, 0.3: 0.090, 0.35: 0.097, 0.4: 0.104,
    0.5: 0.117, 0.6: 0.128, 0.8: 0.148, 1.0: 0.165, 1.2: 0.185, 1.5: 0.205, 1.75: 0.220,
    2.0: 0.235, 2.25: 0.248, 2.5: 0.260, 2.75: 0.274, 3.0: 0.285, 3.5: 0.310, 4.0: 0.330,
    5.0: 0.370, 6.0: 0.405, 7.0: 0.435, 8.0: 0.470, 10.0: 0.520,
}  # fmt: skip
_SIZES = sorted(JAFS_NYLON)

PE_SOURCE = "JAFS standard for PE line: size 1 is 200 denier, coating and pigment included"
PE_DENIER_PER_SIZE = 200.0  # printed for size 1; in proportion for others is from memory
DENIER = 1e-3 / 9000.0  # [kg/m], 1 g per 9000 m, by definition

# Share of a braid's outer circle that is solid fibre: common practice, no source.
BRAID_FILL = Span(0.60, 0.75, 0.90)


def nylon_diameter(size: float) -> Span | Fault:
    """Diameter [m] of monofilament of JAFS `size` number: standard size up to the next one.

    low is the standard diameter (which is also the usual one: makers are asked to come as near
    to it as they can), high the standard diameter of the next size, which must not be reached.
    Sizes in the table: 0.1 to 10. Any other: a Fault (see `nylon_diameter_estimate`).

    Worked example: size 1 is at least 0.165 mm and less than 0.185 mm.

    >>> size_one = nylon_diameter(1.0)
    >>> round(size_one.low * 1000, 3), round(size_one.high * 1000, 3)
    (0.165, 0.185)
    """
    if size not in JAFS_NYLON:
        return Fault(
            place="line size",
            given=f"size {size:g}",
            rule="the standard's table was read for sizes 0.1 to 10, in its own steps",
            next_step="enter the diameter, measured or from the spool's label",
        )
    standard = JAFS_NYLON[size]
    at = _SIZES.index(size)
    following = (
        JAFS_NYLON[_SIZES[at + 1]] if at + 1 < len(_SIZES) else 0.165 * math.sqrt(12.0)
    )  # size 12 is cut off in the text that was read (0.57x mm): by proportion to weight
    return Span(standard * MILLIMETRE, standard * MILLIMETRE, following * MILLIMETRE)


def nylon_size(diameter: float) -> float | Fault:
    """JAFS size number of monofilament of `diameter` [m]: the largest size not above it.

    Rule of the standard: a size covers its diameter up to, not including, the next size's.
    Valid from 0.053 mm up to below size 12 (0.57 mm). Outside: a Fault.

    >>> nylon_size(0.184e-3), nylon_size(0.185e-3)
    (1.0, 1.2)
    """
    millimetres = diameter / MILLIMETRE + 1e-9
    diameters = [JAFS_NYLON[size] for size in _SIZES]
    if not diameters[0] <= millimetres < 0.57:
        return Fault(
            place="line diameter",
            given=f"{diameter / MILLIMETRE:g} mm",
            rule="the standard's table was read from 0.053 mm to below 0.57 mm (sizes 0.1 to 10)",
            next_step="work with the diameter itself",
        )
    return _SIZES[bisect.bisect_right(diameters, millimetres) - 1]


def nylon_diameter_estimate(size: float) -> Span:
    """Diameter [m] of a size outside the table: d = 0.165 mm x sqrt(size), within 2.5 %.

    The size number grew out of weight per length, so diameter goes with its square root. This
    follows the table within 1.6 % for sizes of 0.5 and more, but for size 1.2, which is 2.4 % thicker
    than that; above 10 it is carried on.
    Raises ValueError below 0.5 or if not finite.

    >>> round(nylon_diameter_estimate(30.0).usual * 1000, 3)
    0.904
    """
    if not (math.isfinite(size) and size >= 0.5):
        raise ValueError(f"the square-root rule holds for sizes of 0.5 and more, given {size}")
    return Span.about(0.165 * MILLIMETRE * math.sqrt(size), 0.025)


def nylon_diameter_of(size: float) -> Span:
    """Diameter [m] of monofilament of any JAFS `size` from 0.1 on: the table's, or an estimate where it has none.

    From 0.5 on by the square-root rule; below, between the neighbouring sizes. Raises ValueError outside.

    >>> round(nylon_diameter_of(8.0).usual * 1000, 3), round(nylon_diameter_of(30.0).usual * 1000, 3)
    (0.47, 0.904)
    """
    known = nylon_diameter(size)
    if isinstance(known, Span):
        return known
    if not (math.isfinite(size) and size >= _SIZES[0]):
        raise ValueError(f"a size number is 0.1 or more, given {size}")
    if size >= 0.5:
        return nylon_diameter_estimate(size)
    above = bisect.bisect_right(_SIZES, size)
    low, high = (JAFS_NYLON[_SIZES[at]] * MILLIMETRE for at in (above - 1, above))
    return Span(low, 0.5 * (low + high), high)


def pe_mass_per_length(size: float) -> float:
    """Mass per length [kg/m] of PE braid of JAFS `size`: 200 denier x size.

    1 denier = 1 g per 9000 m. Printed for size 1; proportion for other sizes is from memory.

    >>> round(pe_mass_per_length(1.0), 9)
    2.2222e-05
    """
    if not (math.isfinite(size) and size > 0.0):
        raise ValueError(f"a PE size is a positive number, given {size}")
    return size * PE_DENIER_PER_SIZE * DENIER


def pe_solid_diameter(size: float) -> float:
    """Diameter [m] of a solid PE rod as heavy as braid of JAFS `size`: d = sqrt(4 m' / (pi rho)).

    The braid itself is thicker (`pe_outer_diameter`). Density 970 kg/m3.

    >>> round(pe_solid_diameter(1.0) * 1000, 6)
    0.17079
    """
    return math.sqrt(4.0 * pe_mass_per_length(size) / (math.pi * PE_DENSITY))


def pe_outer_diameter(size: float) -> Span:
    """Outer diameter [m] of PE braid of JAFS `size`, air gaps included: solid / sqrt(fill).

    Fill 0.60 to 0.90 (usual 0.75): common practice, no source.

    >>> round(pe_outer_diameter(4.0).usual * 1000, 3)
    0.394
    """
    solid = pe_solid_diameter(size)
    return Span(
        solid / math.sqrt(BRAID_FILL.high),
        solid / math.sqrt(BRAID_FILL.usual),
        solid / math.sqrt(BRAID_FILL.low),
    )
