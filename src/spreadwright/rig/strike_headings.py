"""Which way the fish goes: the usual fish on one rig from straight away to straight at the boat, and the worst way.

A fish that comes on slackens the line before it draws it taut; the line bears no push then, and is followed through.
"""

from __future__ import annotations

from dataclasses import dataclass

from spreadwright.rig.chain import Chain
from spreadwright.rig.strength import Margin
from spreadwright.rig.strike import SETTINGS, FishedRig, peaks_of, strike_cases
from spreadwright.rig.strike_compare import worst_of
from spreadwright.rig.strike_ranges import SWEEP, StrikeCase
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.strike import strike


@dataclass(frozen=True, slots=True)
class HeadingStrike:
    """One way a fish goes: its case, and the link that sees the largest share of its strength."""

    case: StrikeCase
    worst: Margin


def heading_sweep(rig: FishedRig, chain: Chain, speed: float, density: float) -> tuple[HeadingStrike, ...] | Failure:
    """The usual fish from all sides on one rig at a boat speed [m/s], in water of a density [kg/m3]; all at once.

    Empty where no link's strength is known.
    """
    asked = strike_cases(rig, SWEEP, density)
    found = []
    for case, result in zip(SWEEP, strike(asked, speed, Sea(density=density), SETTINGS), strict=True):
        if isinstance(result, Failure):
            return Failure(rig.outfit.name, f"the strike could not be computed ({case.name}): {result.reason}")
        worst = worst_of(chain, peaks_of(rig, chain, result))
        if worst is None or worst.share is None:
            return ()
        found.append(HeadingStrike(case, worst))
    return tuple(found)
