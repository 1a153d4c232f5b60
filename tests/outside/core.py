"""Asks the towed-line core for a shape in the terms of the check values: drop, layback, circle radius, tension."""

from dataclasses import dataclass, replace
from math import hypot

import numpy as np
from numpy.typing import NDArray

from spreadwright.tow.line import Failure, Line, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import Shape, steady_straight, steady_turn


@dataclass(frozen=True)
class Towed:
    """A steady shape: node places [m] about the tow point (straight) or the circle's centre (turn), tensions [N]."""

    places: NDArray[np.float64]
    joints: NDArray[np.int64]
    tensions: NDArray[np.float64]
    top_angle: float
    arclength: NDArray[np.float64]

    def drop(self, joint: int = -1) -> float:
        """Height of the tip above the end of a section [m]."""
        return float(self.places[0, 2] - self.places[self.joints[joint], 2])

    def depth(self, joint: int = -1) -> float:
        """Depth below still water of the end of a section [m]."""
        return -float(self.places[self.joints[joint], 2])

    def astern(self, joint: int = -1) -> float:
        """Distance behind the tip of the end of a section in a straight tow [m]."""
        return float(self.places[0, 0] - self.places[self.joints[joint], 0])

    def radius(self, joint: int = -1) -> float:
        """Circle radius of the end of a section in a turn [m]."""
        return hypot(*self.places[self.joints[joint], :2])

    @property
    def tip_tension(self) -> float:
        """Pull on the tow point [N]."""
        return float(self.tensions[0])


def grading(line: Line, segments: int | None, scale: float) -> Grading:
    """A uniform mesh of about `segments`, or the core's own graded mesh times `scale`."""
    if segments is None:
        return replace(Grading(), scale=scale)
    spacing = line.length / segments
    return Grading(finest=spacing, coarsest=spacing, growth=0.0)


def straight(line: Line, speed: float, sea: Sea, segments: int | None = None, scale: float = 1.0) -> Towed:
    """One line towed straight."""
    return result(steady_straight([line], speed, sea, grading(line, segments, scale))[0])


def turning(
    line: Line, speed: float, radius: float, sea: Sea, segments: int | None = None, scale: float = 1.0
) -> Towed:
    """One line in a steady turn to port; the origin of the places is the centre of the circle."""
    towed = result(steady_turn([line], speed, radius, sea, grading(line, segments, scale))[0])
    return replace(towed, places=towed.places - np.array([0.0, radius, 0.0]))


def result(shape: Shape | Failure) -> Towed:
    """A shape as Towed; a Failure fails the test with its reason."""
    if isinstance(shape, Failure):
        raise AssertionError(f"{shape.line}: {shape.reason}")
    return Towed(shape.places, shape.joints, shape.tension, shape.tip_angle, shape.arclength)
