"""Invented lines to compute with: trolling line, weight, leader and lure, with the numbers a test wants to change."""

from __future__ import annotations

import math

from spreadwright.tow.line import Body, Failure, Line, Section
from spreadwright.tow.march import Motion
from spreadwright.tow.steady import Shape

KNOT = 1852 / 3600
DEEP = dict.fromkeys(("surface",), False)  # for Sea(**DEEP): all under water

NYLON = Section(60.0, 1.0e-3, 1140.0, stiffness=1180.0)
BRAID = Section(60.0, 0.5e-3, 970.0, stiffness=1.2e4)
WIRE = Section(60.0, 0.6e-3, 7900.0, stiffness=4.5e4)


def weight(mass: float = 0.5, law: str = "slender") -> Body:
    """A trolling weight of lead, eight diameters long; slender, or a sphere of the same mass."""
    volume = mass / 11340.0
    if law == "slender":
        diameter = (volume / 2.0 / math.pi) ** (1 / 3)
        face = 0.25 * math.pi * diameter**2
        return Body(mass, volume, "slender", axial_area=0.3 * face, normal_area=1.1 * 8.0 * diameter**2)
    face = math.pi * (0.75 * volume / math.pi) ** (2 / 3)
    return Body(mass, volume, drag_area=0.47 * face)


def lure(drag_area: float = 8e-4, mass: float = 0.12) -> Body:
    """A skirted lure."""
    return Body(mass, mass / 1500.0, drag_area=drag_area)


def rig(
    main: Section = NYLON,
    length: float = 60.0,
    sinker: Body | None = None,
    leader: float = 4.0,
    port: float = 0.0,
    up: float = 2.0,
    name: str = "one",
) -> Line:
    """A line from the rod tip to a weight, then a leader to a lure."""
    from dataclasses import replace

    trace = Section(leader, 1.6e-3, 1140.0, stiffness=3000.0)
    bodies = (weight() if sinker is None else sinker, lure())
    return Line(name, (0.0, port, up), (replace(main, length=length), trace), bodies)


def shape(result: Shape | Failure) -> Shape:
    """The shape, or the test fails with the reason there is none."""
    assert isinstance(result, Shape), result
    return result


def motion(result: Motion | Failure) -> Motion:
    """The motion, or the test fails with the reason there is none."""
    assert isinstance(result, Motion), result
    return result
