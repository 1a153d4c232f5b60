"""The whole answer for one rod's rig: links, margins, order of parting, what does not fit, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spreadwright.quantity import System
from spreadwright.rig.assemble import Gear
from spreadwright.rig.break_order import BreakStep, break_order, break_order_in_words
from spreadwright.rig.chain import HAND_HOLD_DIAMETER, Chain, rig_length
from spreadwright.rig.finding import Finding
from spreadwright.rig.fit import USUAL_RIG_LENGTH, check_fit
from spreadwright.rig.loads import LoadCase
from spreadwright.rig.record_rules import RecordRig
from spreadwright.rig.strength import StrengthReview, review_strength, strength_in_words
from spreadwright.tackle.outfit import Outfit


@dataclass(frozen=True, slots=True)
class RigReview:
    """One rig as reviewed. length [m]: from the double line's knot to the last hook.

    hand_hold [m]: length of monofilament thick enough to take in hand; messages: plain sentences,
    weakest link first.
    """

    chain: Chain
    strength: StrengthReview
    order: tuple[BreakStep, ...]
    findings: tuple[Finding, ...]
    length: float
    hand_hold: float
    messages: tuple[str, ...]

    @property
    def sound(self) -> bool:
        """True if nothing fails to fit and no link parts at its usual strength under its usual load."""
        return self.strength.holds and not self.failures

    @property
    def failures(self) -> tuple[Finding, ...]:
        """The findings that say the rig should not be fished so."""
        return tuple(finding for finding in self.findings if finding.severity == "fails")


def review_rig(
    chain: Chain,
    gear: Gear,
    cases: Sequence[LoadCase],
    *,
    more_findings: Sequence[Finding] = (),
    length_budget: float = USUAL_RIG_LENGTH,
    hand_hold_diameter: float = HAND_HOLD_DIAMETER,
    system: System = "us",
) -> RigReview:
    """Review one rig under its cases; length_budget, hand_hold_diameter [m]; more_findings: such as of its drag."""
    strength = review_strength(chain, cases)
    fit = check_fit(chain, gear, length_budget=length_budget, hand_hold_diameter=hand_hold_diameter, system=system)
    findings = (*fit, *more_findings)
    loads = [load.high for case in cases for load in case.loads.values()]
    messages = (
        strength_in_words(strength, system),
        break_order_in_words(chain, max(loads) if loads else None, system),
        *(str(finding) for finding in findings),
    )
    held = sum(link.length for link in chain.links if link.held_by_hand(hand_hold_diameter))
    return RigReview(chain, strength, break_order(chain), findings, rig_length(chain), held, messages)


def record_rig(outfit: Outfit, gear: Gear, chain: Chain) -> RecordRig:
    """The rig as the record rules' numbers see it: all below the double line counts as leader.

    Hook spacing and how far the hook stands out are the lure's, where it says so: else those rules come back
    as unknown.
    """
    double = outfit.double_line or 0.0
    return RecordRig(
        double_line=double,
        leader_length=rig_length(chain) - double,
        hooks=gear.lure.hooks,
        line_strength=outfit.line.strength,
        hook_eyes_apart=gear.lure.hooks_apart,
        hook_length=gear.lure.hook_length,
        past_skirt=gear.lure.hook_past_skirt,
        weight_fished=gear.weight is not None,
    )
