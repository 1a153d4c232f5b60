"""The trip and its plan for commands that put a plan on a sheet: read from a file, or made now."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from spreadwright.cli.running import Tell, at_fault, with_progress

if TYPE_CHECKING:
    from spreadwright.plan.value import Plan
    from spreadwright.tackle import Trip

PlanFile = Annotated[
    Path | None,
    typer.Option(
        "--plan",
        metavar="PLAN.json",
        help="Show this plan (see plan --write); else it is made now.",
        show_default=False,
    ),
]


def trip_and_plan(file: Path, plan_file: Path | None) -> tuple[Trip, Plan]:
    """Both, or leave with every fault said; a plan that is not of this trip is a fault."""
    from spreadwright.faults import Faults
    from spreadwright.tackle import read_trip

    def work(tell: Tell) -> tuple[Trip, Plan]:
        trip = read_trip(file)
        from spreadwright.plan.stored import stored_plan

        plan = stored_plan(plan_file)
        if plan is None:
            from spreadwright.plan.build import make_plan

            return trip, make_plan(trip, tell)
        _same_rods(trip, plan, str(plan_file))
        return trip, plan

    try:
        return with_progress(work)
    except Faults as faults:
        raise at_fault(faults, False) from None


def _same_rods(trip: Trip, plan: Plan, place: str) -> None:
    """A plan of other rods would put one trip's gear on another's cards."""
    from spreadwright.faults import Fault, Faults

    rods = [outfit.name for outfit in trip.outfits]
    strangers = [rod.rod for rod in plan.rods if rod.rod not in rods]
    if strangers:
        rule = f"the trip file's rods are {', '.join(rods)}"
        step = "make the plan anew from this trip file, or leave --plan out"
        raise Faults([Fault(place, f"the plan's rod {name}", rule, step) for name in strangers])
