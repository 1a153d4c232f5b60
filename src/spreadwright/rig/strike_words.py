"""The strike in the captain's words: what the worst link sees, over which fish, and what a sticking reel would do."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from spreadwright.quantity import System
from spreadwright.rig.chain import Chain
from spreadwright.rig.loads import strike_case
from spreadwright.rig.strength import Margin, review_strength
from spreadwright.rig.strike import RigStrike
from spreadwright.rig.strike_headings import HeadingStrike
from spreadwright.rig.strike_ranges import DISPUTED_SPEED, MASS, STRIKE_SPEED, StrikeCase
from spreadwright.tackle.span import Span

POUND = 0.45359237  # [kg], exact
KNOT = 1852.0 / 3600.0  # [m/s], exact


def worst_link(chain: Chain, struck: RigStrike) -> Margin | None:
    """The link that sees the largest share of its strength in the strike; None where no strength is known."""
    return review_strength(chain, [struck.load_case(chain)]).weakest


def share_in_words(share: Span) -> str:
    """A share of a strength with its range: "62 % (38 to 95 %)"."""
    return f"{100 * share.usual:.0f} % ({100 * share.low:.0f} to {100 * share.high:.0f} %)"


def range_in_words(system: System = "us") -> str:
    """The fish that the range stands for."""
    unit, name = (1.0, "kg") if system == "metric" else (POUND, "lb")
    return (
        f"fish of {MASS.low / unit:.0f} to {MASS.high / unit:.0f} {name} at "
        f"{STRIKE_SPEED.low / KNOT:.0f} to {STRIKE_SPEED.high / KNOT:.0f} kn"
    )


def strike_in_words(chain: Chain, struck: RigStrike, system: System = "us") -> str:
    """One or two sentences: the worst link, its share, its range, and what a stuck reel or a disputed speed adds."""
    worst = worst_link(chain, struck)
    if worst is None or worst.share is None:
        return "In the strike no link's share can be told: no strength is known."
    text = (
        f"In the strike the worst link, {worst.weak_spot}, sees {share_in_words(worst.share)} of its strength "
        f"({range_in_words(system)})."
    )
    fastest = f"At the disputed {DISPUTED_SPEED / KNOT:.0f} kn"
    for what, pulls in (("With the reel stuck", struck.stuck), (fastest, struck.disputed)):
        hard = _hardest(chain, pulls)
        if hard is not None and hard.share is not None:
            text += f" {what} {hard.weak_spot} would see {100 * hard.share.usual:.0f} %."
    return text


def way_in_words(case: StrikeCase) -> str:
    """Which way a fish goes, off the line straight away from the boat: "60 deg off straight away"."""
    if case.runs is not None:
        return "coming on, then turning and running away"
    named = {0: "straight away", 90: "square to the course", 180: "straight at the boat"}
    degrees = round(math.degrees(case.heading))
    return named.get(degrees, f"{degrees} deg off straight away")


def headings_in_words(swept: Sequence[HeadingStrike]) -> str:
    """Which way is the worst for the usual fish, and what the others are."""

    def percent(each: HeadingStrike) -> str:
        return f"{100 * each.worst.share.usual:.0f} %" if each.worst.share else "not known"

    worst = max(swept, key=lambda each: each.worst.share.usual if each.worst.share else 0.0)
    others = "; ".join(f"{way_in_words(each.case)} {percent(each)}" for each in swept if each is not worst)
    return (
        f"The usual fish from all sides: worst is {way_in_words(worst.case)}, {worst.worst.weak_spot} at "
        f"{percent(worst)}; {others}."
    )


def _hardest(chain: Chain, pulls: Mapping[str, float]) -> Margin | None:
    return review_strength(
        chain, [strike_case(chain, {link: Span.exactly(pull) for link, pull in pulls.items()})]
    ).weakest
