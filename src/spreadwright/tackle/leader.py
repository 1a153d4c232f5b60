"""Leaders: the shock leader taken in hand, wire against bites at lure and weight, and a wind-on."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from spreadwright.tackle.fields import CONFIDENCE, Confidence, Count, Force, LeaderLength, Name
from spreadwright.tackle.joints import JointName
from spreadwright.tackle.line import SizedStrand, Strand


class WindOn(SizedStrand):
    """A leader that winds onto the reel, in place of (or after) a double line."""

    material: Literal["nylon", "fluorocarbon"] = Field(
        default="nylon", description="what the wind-on is made of", examples=["nylon"]
    )
    strength: Force = Field(description="rated (label) strength", examples=["200 lb"])
    length: LeaderLength = Field(description="length of the wind-on", examples=["25 ft"])


class ShockLeader(SizedStrand):
    """Thick monofilament between weight and bite leader: absorbs the strike, can be taken in hand."""

    name: Name = Field(description="what it is called", examples=["30 ft of 300 lb"])
    material: Literal["nylon", "fluorocarbon"] = Field(
        default="nylon", description="what the leader is made of", examples=["nylon"]
    )
    strength: Force = Field(description="rated (label) strength", examples=["300 lb"])
    length: LeaderLength = Field(description="length from end to end", examples=["30 ft"])
    joint: JointName | None = Field(default=None, description="how both its ends are joined", examples=["crimp"])
    count: Count = Field(description="how many are made up and fit to use", examples=["5"])
    confidence: Confidence = CONFIDENCE


class BiteLeader(Strand):
    """Wire ahead of the lure: what the fish's teeth meet."""

    name: Name = Field(description="what it is called", examples=["3 ft of 270 lb wire"])
    material: Literal["single strand", "cable"] = Field(
        description="single-strand wire, or cable", examples=["single strand"]
    )
    strength: Force = Field(description="rated (label) strength", examples=["270 lb"])
    length: LeaderLength = Field(description="length from end to end", examples=["3 ft"])
    joint: JointName | None = Field(
        default=None, description="how both its ends are joined", examples=["haywire twist"]
    )
    count: Count = Field(description="how many are made up and fit to use", examples=["6"])
    confidence: Confidence = CONFIDENCE


class BiteGuard(Strand):
    """A short piece of wire or cable between snap swivel and weight: what bites at the weight meet."""

    material: Literal["single strand", "cable"] = Field(description="single-strand wire, or cable", examples=["cable"])
    strength: Force = Field(description="rated (label) strength", examples=["480 lb"])
    length: LeaderLength = Field(description="length from end to end", examples=["1 ft"])
    joint: JointName | None = Field(default=None, description="how both its ends are joined", examples=["cable crimp"])
    count: Count = Field(default=0, description="how many are made up and fit to use", examples=["1"])
