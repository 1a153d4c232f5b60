"""Terminal tackle that rigs use up: snap swivels, crimps and hooks."""

from __future__ import annotations

from pydantic import Field

from spreadwright.tackle.fields import Count, Force, LineDiameter, Mass, Name, Tackle


class SnapSwivel(Tackle):
    """A swivel with a snap, rated in strength."""

    name: Name = Field(description="what it is called", examples=["300 lb ball-bearing"])
    strength: Force = Field(description="rated strength", examples=["300 lb"])
    mass: Mass | None = Field(default=None, description="mass of one", examples=["0.6 oz"])
    count: Count = Field(description="how many are fit to use", examples=["12"])


class Crimp(Tackle):
    """A sleeve that is pressed on leader or cable."""

    name: Name = Field(description="what it is called", examples=["2.2 mm double sleeve"])
    bore: LineDiameter = Field(
        description="widest leader or cable that goes through one of its holes", examples=["2.2 mm"]
    )
    count: Count = Field(description="how many are left", examples=["20"])


class Hook(Tackle):
    """A hook of one size, sold loose."""

    name: Name = Field(description="what it is called", examples=["9/0 stainless"])
    strength: Force | None = Field(default=None, description="load that opens it, if known", examples=["250 lb"])
    count: Count = Field(description="how many are fit to use", examples=["10"])
