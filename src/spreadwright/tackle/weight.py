"""Trolling weights: mass and shape, and the size that follows from them where none is given."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, Self

from pydantic import Field, model_validator

from spreadwright.quantity import show_given
from spreadwright.tackle.fields import (
    CONFIDENCE,
    Confidence,
    Count,
    Diameter,
    Force,
    GearLength,
    Mass,
    Name,
    Tackle,
    refusal,
)


@dataclass(frozen=True)
class Metal:
    """A metal that weights are cast from: its density [kg/m3] and where the number comes from."""

    density: float
    source: str


METALS: dict[str, Metal] = {
    "lead": Metal(11340.0, "pure lead, handbook value from memory; +-1 %"),
    "steel": Metal(7850.0, "carbon steel, handbook value from memory; +-1 %"),
    "tungsten": Metal(18000.0, "tungsten with binder, below 19250 for pure; from memory; +-5 %"),
}


@dataclass(frozen=True)
class Shape:
    """Proportions of a weight: common practice, no source.

    slenderness   [-] length over diameter
    fullness      [-] volume over that of the cylinder around it
    """

    slenderness: float
    fullness: float


SHAPES: dict[str, Shape] = {
    "torpedo": Shape(8.0, 0.75),
    "egg": Shape(1.8, 2.0 / 3.0),  # an ellipsoid of revolution: 2/3 exactly
    "ball": Shape(1.0, 2.0 / 3.0),
}


class TrollingWeight(Tackle):
    """A weight with a cable through it, between the main line's end and the shock leader."""

    name: Name = Field(description="what it is called", examples=["32 oz torpedo"])
    mass: Mass = Field(description="its mass", examples=["32 oz"])
    shape: Literal["torpedo", "egg", "ball"] = Field(
        default="torpedo", description="torpedo (slender), egg or ball", examples=["torpedo"]
    )
    metal: Literal["lead", "steel", "tungsten"] = Field(
        default="lead", description="what it is cast from", examples=["lead"]
    )
    length_given: GearLength | None = Field(
        default=None,
        validation_alias="length",
        description="length of the metal body; otherwise from mass and shape",
        examples=["8 in"],
    )
    diameter_given: Diameter | None = Field(
        default=None,
        validation_alias="diameter",
        description="greatest thickness of the metal body; otherwise from mass and shape",
        examples=["1 in"],
    )
    cable_strength: Force = Field(description="strength of the cable through it, with its ends", examples=["480 lb"])
    count: Count = Field(description="how many are fit to use", examples=["2"])
    confidence: Confidence = CONFIDENCE

    @model_validator(mode="after")
    def _size_can_hold_the_mass(self) -> Self:
        """Given both sizes, the body's density must be one a casting can have: 2/5 to 2 times."""
        if self.length_given is None or self.diameter_given is None:
            return self
        cylinder = math.pi / 4.0 * self.diameter_given**2 * self.length_given
        share = self.volume / (SHAPES[self.shape].fullness * cylinder)
        if not 0.4 <= share <= 2.0:
            raise refusal(
                f"{show_given(self.mass, 'mass')} in {show_given(self.length_given, 'size')} "
                f"by {show_given(self.diameter_given, 'size')}",
                f"a {self.shape} of {self.metal} of that size holds about {show_given(self.mass / share, 'mass')}",
                "check mass, length and diameter, or leave the sizes out to have them estimated",
            )
        return self

    @property
    def volume(self) -> float:
        """Volume of water it displaces [m3]: mass over the metal's density."""
        return self.mass / METALS[self.metal].density

    @property
    def diameter(self) -> float:
        """Greatest diameter [m], given or from mass and shape.

        volume = fullness pi/4 d^2 L, with L given or slenderness d.
        Worked example: 32 oz of lead as a torpedo, 80.0 cm3, gives 25.7 mm by 206 mm.
        """
        if self.diameter_given is not None:
            return self.diameter_given
        shape = SHAPES[self.shape]
        circle = self.volume / (shape.fullness * math.pi / 4.0)
        if self.length_given is not None:
            return math.sqrt(circle / self.length_given)
        return math.cbrt(circle / shape.slenderness)

    @property
    def length(self) -> float:
        """Length of the metal body [m], given or from mass and shape."""
        if self.length_given is not None:
            return self.length_given
        shape = SHAPES[self.shape]
        if self.diameter_given is not None:
            return self.volume / (shape.fullness * math.pi / 4.0 * self.diameter_given**2)
        return shape.slenderness * self.diameter
