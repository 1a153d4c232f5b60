"""Leaders: the shock leader taken in hand, the bite leader of wire, and a wind-on."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from spreadwright.tackle.fields import Count, Force, LeaderLength, Name
from spreadwright.tackle.line import Strand


class WindOn(Strand):
    """A leader that winds onto the reel, in place of (or after) a double line."""

    material: Literal["nylon", "fluorocarbon"] = Field(
        default="nylon", description="what the wind-on is made of", examples=["nylon"]
    )
    strength: Force = Field(description="rated (label) strength", examples=["200 lb"])
    length: LeaderLength = Field(description="length of the wind-on", examples=["25 ft"])


class ShockLeader(Strand):
    """Thick monofilament between weight and bite leader: absorbs the strike, can be taken in hand."""

    name: Name = Field(description="what it is called", examples=["30 ft of 300 lb"])
    material: Literal["nylon", "fluorocarbon"] = Field(
        default="nylon", description="what the leader is made of", examples=["nylon"]
    )
    strength: Force = Field(description="rated (label) strength", examples=["300 lb"])
    length: LeaderLength = Field(description="length from end to end", examples=["30 ft"])
    count: Count = Field(description="how many are made up and fit to use", examples=["5"])


class BiteLeader(Strand):
    """Wire ahead of the lure: what the fish's teeth meet."""

    name: Name = Field(description="what it is called", examples=["3 ft of 270 lb wire"])
    material: Literal["single strand", "cable"] = Field(
        description="single-strand wire, or cable", examples=["single strand"]
    )
    strength: Force = Field(description="rated (label) strength", examples=["270 lb"])
    length: LeaderLength = Field(description="length from end to end", examples=["3 ft"])
    count: Count = Field(description="how many are made up and fit to use", examples=["6"])
