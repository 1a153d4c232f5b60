"""Tables of a plan for its page: every number from the plan, in the captain's units, with how sure it is."""

from __future__ import annotations

from dataclasses import dataclass

from spreadwright.plan.value import Plan, RodPlan
from spreadwright.quantity import System
from spreadwright.sheets.figures import (
    derived,
    estimate,
    estimates,
    given,
    moment,
    percent_estimate,
    plain,
    swings,
    unit_of,
)
from spreadwright.sheets.wording import by_set_out, is_worst, pair_names


@dataclass(frozen=True)
class Row:
    """One row: its head, its cells, a word that marks it, and a page of ours that its head leads to (empty: none)."""

    head: str
    cells: tuple[str, ...]
    mark: str = ""
    link: str = ""


@dataclass(frozen=True)
class Table:
    """A table: what it tells, its heads (the first over the rows' own heads), and its rows; wordy: cells are sentences,
    not numbers."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    wordy: bool = False
    note: str = ""


def plan_tables(plan: Plan, system: System) -> list[Table]:
    """All tables of a plan in the order in which they are read."""
    return [_gear(plan, system), _depths(plan, system), _pulls(plan, system), pairs(plan, system), _links(plan, system)]


def _gear(plan: Plan, system: System) -> Table:
    rows = tuple(
        Row(plain(rod.rod), (
            str(rod.set_out), str(rod.clear), plain(rod.station), given(rod.mark, "length", system),
            estimate(rod.slack_to_measure, "length", system), _weight(rod, system), plain(rod.shock_leader),
            plain(rod.bite_leader), plain(rod.lure), given(rod.strike_drag, "force", system),
        ))
        for rod in by_set_out(plan)
    )  # fmt: skip
    heads = ("Rod", "Out", "In", "Station", "Mark", "Measure slack", "Weight", "Shock leader", "Bite leader", "Lure",
             "Strike drag")  # fmt: skip
    note = "Measure slack: the length on slack line that brings the gear to run at the mark's own distance."
    return Table("What every rod fishes, in the order to set out", heads, rows, wordy=True, note=note)


def _weight(rod: RodPlan, system: System) -> str:
    mass = given(rod.weight_mass, "mass", system)
    return plain(rod.weight) if mass in rod.weight else f"{plain(rod.weight)} ({mass})"


def _depths(plan: Plan, system: System) -> Table:
    rods, foot = by_set_out(plan), unit_of("length", system)
    columns = (
        estimates([rod.weight_depth for rod in rods], "length", system),
        swings([rod.weight_depth_swing for rod in rods], "length", system),
        estimates([rod.lure_depth for rod in rods], "length", system),
        swings([rod.lure_depth_swing for rod in rods], "length", system),
        estimates([rod.runs_at for rod in rods], "length", system),
    )
    heads = ("Rod", f"Weight, {foot}", f"in the turns, {foot}", f"Lure, {foot}", f"in the turns, {foot}",
             f"Runs behind the tip, {foot}")  # fmt: skip
    return Table("How deep they run", heads, _rows(rods, columns))


def _pulls(plan: Plan, system: System) -> Table:
    rods, foot = by_set_out(plan), unit_of("length", system)
    pound, knot = unit_of("force", system), unit_of("speed", system)
    columns = (
        estimates([rod.pull for rod in rods], "force", system),
        swings([rod.pull_swing for rod in rods], "force", system),
        estimates([rod.angle for rod in rods], "angle", system),
        swings([rod.lure_speed_swing for rod in rods], "speed", system),
        [derived(rod.in_air, "length", system) for rod in rods],
        [derived(rod.astern, "length", system) for rod in rods],
    )
    heads = ("Rod", f"Pull, {pound}", f"in the turns, {pound}", "Line below level, °",
             f"Lure's speed in the turns, {knot}", f"Line in the air, {foot}",
             f"Lure astern of transom, {foot}")  # fmt: skip
    return Table("What the rods feel", heads, _rows(rods, columns))


def _rows(rods: list[RodPlan], columns: tuple[list[str], ...]) -> tuple[Row, ...]:
    cells = zip(*columns, strict=True)
    return tuple(Row(plain(rod.rod), tuple(own)) for rod, own in zip(rods, cells, strict=True))


def pairs(plan: Plan, system: System) -> Table:
    """Every pair of lines through the turns, nearest first."""
    foot = unit_of("length", system)
    ordered = sorted(plan.pairs, key=lambda each: (not is_worst(plan, each), each.gear_gap.usual))
    gaps = estimates([pair.gear_gap for pair in ordered], "length", system)
    rows = tuple(
        Row(pair_names(pair), (
            gap, moment(pair.gear_time), derived(pair.line_gap, "length", system), moment(pair.line_time),
            f"{abs(pair.winding):.2f}",
        ), "can tangle" if pair.tangle else "closest" if is_worst(plan, pair) else "")
        for pair, gap in zip(ordered, gaps, strict=True)
    )  # fmt: skip
    heads = ("Pair", f"Gear to line, {foot}", "at", f"Line to line, {foot}", "at", "Wound, turns")
    note = (
        "Gear to line: from the front of one's weight to its last hook, to anywhere on the other's line. Bare lines "
        "may cross and touch; they slide off. Half a turn wound at the end is a wrap."
    )
    return Table("How near the lines come to one another through the turns", heads, rows, note=note)


def _links(plan: Plan, system: System) -> Table:
    rows = []
    for rod in by_set_out(plan):
        load = rod.weakest
        strength = estimate(load.strength, "force", system) if load.strength is not None else "not known"
        mark = "" if load.verdict == "holds" else plain(load.verdict)
        rows.append(Row(plain(rod.rod), (
            percent_estimate(load.share), plain(load.weak_spot), plain(load.case),
            estimate(load.load, "force", system), strength,
        ), mark))  # fmt: skip
    heads = ("Rod", "Carries of its strength", "Weakest link", "in its hardest case", "Load", "Strength")
    return Table("The weakest link of each rig", heads, tuple(rows), wordy=True)
