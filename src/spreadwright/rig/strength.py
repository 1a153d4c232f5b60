"""Whether each link holds: margin by load case, the weakest link named, in words a captain reads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from spreadwright.quantity import System, show
from spreadwright.rig.chain import Chain, Link
from spreadwright.rig.loads import LoadCase
from spreadwright.tackle.span import Span

Verdict = Literal["holds", "may part", "parts", "not known"]


@dataclass(frozen=True, slots=True)
class Margin:
    """One link in one load case.

    load and strength [N]; margin [1]: strength over load (None: no load, or strength not known);
    share [1]: load over strength, what the captain reads ("sees 62 % of its strength").
    """

    link: str
    weak_spot: str
    case: str
    load: Span
    strength: Span | None
    margin: Span | None
    share: Span | None

    @property
    def verdict(self) -> Verdict:
        """holds: worst strength bears worst load; may part: usual does; parts: not even that."""
        if self.strength is None or self.share is None:
            return "not known"
        if self.share.usual >= 1.0:
            return "parts"
        return "may part" if self.share.high >= 1.0 else "holds"


@dataclass(frozen=True, slots=True)
class StrengthReview:
    """All margins of a chain; weakest: the one with the least usual margin, None without any."""

    rod: str
    margins: tuple[Margin, ...]
    weakest: Margin | None

    @property
    def holds(self) -> bool:
        """True if no link parts at its usual strength under its usual load, and none is unknown
        but the hook (whose opening load is seldom given)."""
        return self.weakest is not None and all(
            margin.verdict in ("holds", "may part")
            or (margin.verdict == "not known" and margin.link in ("hook", "hooks"))
            for margin in self.margins
        )

    def of_link(self, name: str) -> tuple[Margin, ...]:
        """The margins of one link, in the order of the cases."""
        return tuple(margin for margin in self.margins if margin.link == name)


def review_strength(chain: Chain, cases: Sequence[LoadCase]) -> StrengthReview:
    """Margins of every bearing link in every case, reel to hook, and the weakest of them.

    margin = strength / load; low is least strength over greatest load. Strength as in
    `Link.strength` (rated, wet, joints). Example: 100 N of load on a link of 150 to 200 N
    (usual 180) leaves 1.5 to 2.0, usual 1.8; it sees 56 % of its strength.
    """
    margins = tuple(_margin(link, case) for case in cases for link in chain.bearing if link.name in case.loads)
    known = [margin for margin in margins if margin.share is not None]
    weakest = max(known, key=_hardness) if known else None
    return StrengthReview(chain.rod, margins, weakest)


def _hardness(margin: Margin) -> tuple[float, float]:
    assert margin.share is not None
    return margin.share.usual, margin.share.high


def _margin(link: Link, case: LoadCase) -> Margin:
    load, strength = case.loads[link.name], link.strength
    share = load.over(strength) if strength is not None and strength.low > 0.0 else None
    margin = strength.over(load) if strength is not None and load.low > 0.0 else None
    return Margin(link.name, link.weak_spot, case.name, load, strength, margin, share)


def margin_in_words(margin: Margin, system: System = "us") -> str:
    """One margin as a sentence: what it sees, of what, and what that means."""
    load = show(margin.load.usual, "force", system, figures=2)
    if margin.strength is None or margin.share is None:
        return (
            f"{margin.link}: sees {load} in {margin.case}, but its strength is not known. "
            f"Enter its strength, or the name of a known connection."
        )
    strength = show(margin.strength.usual, "force", system, figures=2)
    share = margin.share
    seen = (
        f"{margin.weak_spot}: sees {100 * share.usual:.0f} % ({100 * share.low:.0f} to {100 * share.high:.0f} %) of "
        f"its strength in {margin.case} ({load} of {strength})"
    )
    meaning = {
        "holds": "",
        "may part": "; it may part in the worst case: less drag, or a stronger link",
        "parts": "; it parts: less drag, or a stronger link",
    }
    return seen + meaning.get(margin.verdict, "") + "."


def strength_in_words(review: StrengthReview, system: System = "us") -> str:
    """The weakest link in one sentence, and how many others may part."""
    if review.weakest is None:
        return f"{review.rod}: no link with a known strength and a load was given."
    others = {
        margin.link
        for margin in review.margins
        if margin.verdict in ("parts", "may part") and margin.link != review.weakest.link
    }
    also = f" Also at risk: {', '.join(sorted(others))}." if others else ""
    return f"Weakest link of {review.rod}: {margin_in_words(review.weakest, system)}{also}"
