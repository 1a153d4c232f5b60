"""The strike in the captain's words: what the worst link sees, over which fish, and what a sticking reel would do."""

from __future__ import annotations

from collections.abc import Mapping

from spreadwright.rig.chain import Chain
from spreadwright.rig.loads import strike_case
from spreadwright.rig.strength import Margin, review_strength
from spreadwright.rig.strike import RigStrike
from spreadwright.rig.strike_ranges import DISPUTED_SPEED, MASS, STRIKE_SPEED
from spreadwright.tackle.span import Span

POUND = 0.45359237  # [kg], exact
KNOT = 1852.0 / 3600.0  # [m/s], exact


def worst_link(chain: Chain, struck: RigStrike) -> Margin | None:
    """The link that sees the largest share of its strength in the strike; None where no strength is known."""
    return review_strength(chain, [struck.load_case(chain)]).weakest


def share_in_words(share: Span) -> str:
    """A share of a strength with its range: "62 % (38 to 95 %)"."""
    return f"{100 * share.usual:.0f} % ({100 * share.low:.0f} to {100 * share.high:.0f} %)"


def range_in_words() -> str:
    """The fish that the range stands for."""
    return (
        f"fish of {MASS.low:.0f} to {MASS.high:.0f} kg ({MASS.low / POUND:.0f} to {MASS.high / POUND:.0f} lb) at "
        f"{STRIKE_SPEED.low / KNOT:.0f} to {STRIKE_SPEED.high / KNOT:.0f} kn "
        f"({STRIKE_SPEED.low:.0f} to {STRIKE_SPEED.high:.0f} m/s)"
    )


def strike_in_words(chain: Chain, struck: RigStrike) -> str:
    """One or two sentences: the worst link, its share, its range, and what a stuck reel or a disputed speed adds."""
    worst = worst_link(chain, struck)
    if worst is None or worst.share is None:
        return "In the strike no link's share can be told: no strength is known."
    text = (
        f"In the strike the worst link, {worst.weak_spot}, sees {share_in_words(worst.share)} of its strength "
        f"({range_in_words()})."
    )
    fastest = f"At the disputed {DISPUTED_SPEED / KNOT:.0f} kn ({DISPUTED_SPEED:.0f} m/s)"
    for what, pulls in (("With the reel stuck", struck.stuck), (fastest, struck.disputed)):
        hard = _hardest(chain, pulls)
        if hard is not None and hard.share is not None:
            text += f" {what} {hard.weak_spot} would see {100 * hard.share.usual:.0f} %."
    return text


def _hardest(chain: Chain, pulls: Mapping[str, float]) -> Margin | None:
    return review_strength(
        chain, [strike_case(chain, {link: Span.exactly(pull) for link, pull in pulls.items()})]
    ).weakest
