"""Gear that only the tackle room knows: coils, bite guards by name, rods with their reels, and all that is loose."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from spreadwright.tackle.fields import Count, Force, LeaderLength, LineLength, Name, Tackle, Words
from spreadwright.tackle.joints import JointName
from spreadwright.tackle.line import Strand


class Coil(Strand):
    """Monofilament, wire or cable as it is sold, to cut leaders from. It is counted by its length."""

    name: Name = Field(description="what it is called", examples=["300 lb leader coil"])
    strength: Force = Field(description="rated (label) strength", examples=["300 lb"])
    length: LineLength = Field(description="length of one full coil as it is sold", examples=["100 yd"])


class Guard(Strand):
    """A made-up piece of wire or cable between snap swivel and weight: what bites at the weight meet."""

    name: Name = Field(description="what it is called", examples=["1 ft guard of 480 lb cable"])
    material: Literal["single strand", "cable"] = Field(description="single-strand wire, or cable", examples=["cable"])
    strength: Force = Field(description="rated (label) strength", examples=["480 lb"])
    length: LeaderLength = Field(description="length from end to end", examples=["1 ft"])
    joint: JointName | None = Field(default=None, description="how both its ends are joined", examples=["cable crimp"])
    count: Count = Field(default=0, description="how many are made up and fit to use", examples=["1"])


class RodAndReel(Tackle):
    """A rod with its reel and line, as the inspection sees it."""

    name: Name = Field(description="the rod's name in the plan", examples=["green 80"])
    rod: Words = Field(default="", description="the rod in plain words", examples=["6 ft stand-up, 80 lb class"])
    reel: Words = Field(default="", description="the reel in plain words", examples=["two-speed 50 wide"])
    line: Words = Field(default="", description="the line in plain words", examples=["600 yd of 80 lb nylon"])
    count: Count = Field(default=1, description="how many", examples=["1"])


class Loose(Tackle):
    """Anything else that is counted: gloves, waxed floss, spare skirts, thimbles, batteries."""

    name: Name = Field(description="what it is called", examples=["waxed floss, roll"])
    words: Words = Field(default="", description="what it is, in plain words", examples=["for marks on the line"])
    count: Count = Field(default=0, description="how many", examples=["2"])
