"""Whether the pieces of a rig fit each other: bores, ratings, teeth, hands, length. Findings with the fix."""

from __future__ import annotations

from collections.abc import Iterator

from spreadwright.faults import Fault
from spreadwright.quantity import System, show, show_turned
from spreadwright.rig.assemble import Gear, crimp_for
from spreadwright.rig.chain import HAND_HOLD_DIAMETER, HAND_HOLD_LENGTH, Chain, rig_length
from spreadwright.rig.finding import Finding
from spreadwright.rig.wire import wire_strength

# From the double line's knot to the lure, about 100 ft: common practice, no source.
USUAL_RIG_LENGTH = 30.48  # [m]
# Wire ahead of the lure shorter than this is bitten over: common practice, no source (1 to 4 ft).
LEAST_BITE_LEADER = 0.30  # [m]
# A bore this much wider than the line lets it slip: common practice, no source.
LOOSE_BORE = 1.5


def check_fit(
    chain: Chain,
    gear: Gear,
    *,
    length_budget: float = USUAL_RIG_LENGTH,
    hand_hold_diameter: float = HAND_HOLD_DIAMETER,
    system: System = "us",
) -> tuple[Finding, ...]:
    """Everything about a rig that does not fit, reel to hook; empty: nothing found.

    length_budget [m] from the double line's knot to the last hook; hand_hold_diameter [m]: least
    thickness of monofilament that a hand may take.
    """
    return (
        *(_unknown(fault) for fault in chain.faults),
        *_swivel(chain, system),
        *_crimps(chain, gear, system),
        *_teeth(chain, system),
        *_hand_hold(chain, hand_hold_diameter, system),
        *_length(chain, length_budget, system),
        *_wire_label(chain, gear, system),
    )


def _unknown(fault: Fault) -> Finding:
    return Finding("unknown connection", "fails", fault.place, fault.given, fault.rule, fault.next_step)


def _swivel(chain: Chain, system: System) -> Iterator[Finding]:
    """A swivel that is missing, or weaker than the line it hangs on."""
    swivels = chain.of_kind("snap swivel")
    if not swivels:
        yield Finding(
            "no swivel", "caution", "snap swivel", "none on this rig",
            "without a swivel a spinning lure or weight twists the line",
            "add a snap swivel rated over the main line",
        )  # fmt: skip
        return
    line = chain.of_kind("main line")[0]
    if swivels[0].rated is None or line.rated is None:
        return
    if swivels[0].rated.usual < line.rated.usual:
        yield Finding(
            "swivel under-rated", "fails", "snap swivel",
            f"rated {show_turned(swivels[0].rated.usual, 'force', system)} on "
            f"{show_turned(line.rated.usual, 'force', system)} line",
            "a swivel is rated at least as high as the main line",
            f"use a swivel of {show_turned(line.rated.usual, 'force', system)} or more",
        )  # fmt: skip


def _crimps(chain: Chain, gear: Gear, system: System) -> Iterator[Finding]:
    """Leader thicker than the bore of any crimp there is, or rattling loose in the narrowest."""
    crimped = {name.split("'s ")[0] for name in (link.name for link in chain.of_kind("crimp"))}
    for link in chain.links:
        if link.name not in crimped or not gear.crimps:
            continue
        thick = show(link.diameter, "diameter", system)
        crimp = crimp_for(link.diameter, gear.crimps)
        if crimp is None:
            widest = max(gear.crimps, key=lambda each: each.bore)
            yield Finding(
                "leader thicker than bore", "fails", link.name,
                f"{thick} thick, and the widest crimp ({widest.name}) takes "
                f"{show_turned(widest.bore, 'diameter', system)}",
                "each leg of a leader goes through the crimp's bore without force",
                f"use crimps with a bore of {thick} or a little more, or a thinner leader",
            )  # fmt: skip
        elif crimp.bore > LOOSE_BORE * link.diameter:
            yield Finding(
                "crimp too wide", "caution", link.name,
                f"{thick} thick in the narrowest crimp that takes it ({crimp.name}, "
                f"{show_turned(crimp.bore, 'diameter', system)})",
                f"a bore over {LOOSE_BORE:g} times the line lets it slip",
                "use a narrower crimp",
            )  # fmt: skip


def _teeth(chain: Chain, system: System) -> Iterator[Finding]:
    """What a fish can bite through: the leader at the lure, the line in front of the weight."""
    leaders = chain.of_kind("bite leader")
    if not leaders:
        yield Finding(
            "no bite leader", "fails", "lure", "monofilament straight to the lure",
            "teeth cut monofilament and braid", "put wire or cable ahead of the lure",
        )  # fmt: skip
    elif leaders[0].length < LEAST_BITE_LEADER:
        yield Finding(
            "short bite leader", "caution", "bite leader",
            f"{show_turned(leaders[0].length, 'length', system)} long",
            f"wire under {show(LEAST_BITE_LEADER, 'length', system, figures=2)} is bitten over",
            "use a longer bite leader",
        )  # fmt: skip
    kinds = [link.kind for link in chain.links]
    if "weight" not in kinds:
        return
    ahead = [link for link in chain.links[: kinds.index("weight")] if link.length > 0.0]
    near = next((link for link in reversed(ahead) if link.kind != "snap swivel"), None)
    if near is not None and near.bitten_through:
        yield Finding(
            "line ahead of the weight can be bitten", "caution", near.name,
            f"{near.material} in front of the weight",
            "fish bite the weight too; what is cut ahead of it is lost with all below",
            "put a short piece of wire or cable between swivel and weight, or accept the loss",
        )  # fmt: skip


def _hand_hold(chain: Chain, least: float, system: System) -> Iterator[Finding]:
    """A section that a hand may take: thick monofilament, long enough."""
    held = [link for link in chain.links if link.held_by_hand(least)]
    length = sum(link.length for link in held)
    if length >= HAND_HOLD_LENGTH:
        return
    thin = show(least, "diameter", system)
    textile = [link for link in chain.of_kind("wind-on", "shock leader") if link not in held]
    given = (
        f"{show_turned(length, 'length', system)} of thick monofilament"
        if held
        else "; ".join(f"{link.name} {show(link.diameter, 'diameter', system)} thick" for link in textile)
        or "only wire by the hand"
    )
    yield Finding(
        "no hand-hold", "fails", "shock leader", given,
        f"a hand takes only monofilament {thin} or thicker, "
        f"{show(HAND_HOLD_LENGTH, 'length', system, figures=2)} of it or more; wire and braid cut",
        "use a thicker or longer shock leader",
    )  # fmt: skip


def _length(chain: Chain, budget: float, system: System) -> Iterator[Finding]:
    """The rig's length from the double line's knot to the last hook against the budget."""
    total = rig_length(chain)
    if total > budget + 1e-6:
        yield Finding(
            "rig too long", "caution", "whole rig",
            f"{show(total, 'length', system)} from the double line's knot to the last hook",
            f"the budget is {show_turned(budget, 'length', system)}; all of it is led in by hand or wound on",
            f"shorten leader or double line by {show(total - budget, 'length', system, figures=2)}",
        )  # fmt: skip


def _wire_label(chain: Chain, gear: Gear, system: System) -> Iterator[Finding]:
    """A single-strand wire whose label claims more than the standard's greatest for its thickness."""
    for link, wire in zip(
        (*chain.of_kind("bite guard"), *chain.of_kind("bite leader")),
        [each for each in (gear.bite_guard, gear.bite_leader) if each is not None],
        strict=True,
    ):
        if link.material != "single strand" or wire.diameter_given is None:
            continue
        known = wire_strength(wire.diameter_given)
        if isinstance(known, Fault):
            yield Finding("wire outside the table", "caution", link.name, known.given, known.rule, known.next_step)
        elif wire.strength > known.breaking_load.high:
            yield Finding(
                "wire label too high", "caution", link.name,
                f"{show_turned(wire.strength, 'force', system)} on "
                f"{show_turned(wire.diameter_given, 'diameter', system)} wire",
                "spring wire of that size (ASTM A313, types 302 and 304) breaks at "
                f"{show(known.breaking_load.low, 'force', system)} to "
                f"{show(known.breaking_load.high, 'force', system)}",
                "check diameter and label; plan with the lower figure",
            )  # fmt: skip
