"""A plan of three rods, built by code from the sheets' example plan, for tests that must not wait for a computation."""

from __future__ import annotations

from tests.sheets.example_plan import example_plan

from spreadwright.plan.value import Plan

RODS = ("green 80", "yellow 80", "white 80")


def three_rods() -> Plan:
    """Two lines that come near and one that does not; set out 1 to 3, cleared 3 to 1."""
    whole = example_plan()
    chosen = sorted((whole.rod(name) for name in RODS), key=lambda rod: rod.set_out)
    rods = tuple(
        rod.model_copy(update={"set_out": place, "clear": len(chosen) + 1 - place})
        for place, rod in enumerate(chosen, start=1)
    )
    return whole.model_copy(
        update={
            "rods": rods,
            "pairs": tuple(pair for pair in whole.pairs if pair.first in RODS and pair.second in RODS),
            "drawing": tuple(outline for outline in whole.drawing if outline.rod in RODS),
        }
    )
