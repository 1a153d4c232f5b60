"""The tables of the terminal report: gear in setting-out order, depths, pulls, pairs and weakest links."""

from __future__ import annotations

from collections.abc import Sequence

from rich import box
from rich.cells import cell_len
from rich.table import Table
from rich.text import Text

from spreadwright.plan.value import Plan
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
from spreadwright.sheets.terminal_words import words
from spreadwright.sheets.wording import by_set_out, is_worst, pair_names


def _table() -> Table:
    return Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1), header_style="bold")


def _names(table: Table, head: str, names: Sequence[str] = ()) -> None:
    """A column of names, which give way last: up to 25 columns they are not broken."""
    longest = max((cell_len(name) for name in names), default=10)
    table.add_column(head, overflow="fold", min_width=min(longest, 25))


def _numbers(table: Table, *heads: str) -> None:
    for head in heads:
        table.add_column(head, justify="right", overflow="fold")


def _lines(*texts: str) -> Text:
    return words("\n".join(text for text in texts if text))


def gear(plan: Plan, system: System) -> Table:
    """What every rod fishes, in the order to set out: station, mark, slack line to measure, weight, leaders, lure."""
    rods = by_set_out(plan)
    table = _table()
    _numbers(table, "Out", "In")
    _names(table, "Rod,\nstation")
    table.add_column(f"Mark\n{unit_of('length', system)}", overflow="fold")
    table.add_column("Weight, leaders, lure,\nsnap swivel", overflow="fold")
    for rod in rods:
        (run,) = estimates([rod.runs_at], "length", system)
        (length,) = estimates([rod.slack_to_measure], "length", system)
        mark = given(rod.mark, "length", system)
        mass = given(rod.weight_mass, "mass", system)
        table.add_row(
            str(rod.set_out),
            str(rod.clear),
            Text.assemble((plain(rod.rod), "bold"), "\n", words(plain(rod.station))),
            Text.assemble((mark, "bold"), "\n", words(f"runs {run}\nmeasure {length}")),
            _lines(
                plain(rod.weight) if mass in rod.weight else f"{plain(rod.weight)} ({mass})",
                ", ".join(plain(part) for part in (rod.shock_leader, rod.bite_leader) if part),
                plain(rod.lure),
                plain(rod.swivel),
            ),
        )
        if rod is not rods[-1]:
            table.add_row()
    return table


def depths(plan: Plan, system: System) -> Table:
    """How deep weight and lure run, straight and through the turns."""
    rods, foot = by_set_out(plan), unit_of("length", system)
    table = _table()
    _names(table, "Rod")
    _numbers(table, f"Weight\n{foot}", f"in the turns\n{foot}", f"Lure\n{foot}", f"in the turns\n{foot}")
    columns = (
        [plain(rod.rod) for rod in rods],
        estimates([rod.weight_depth for rod in rods], "length", system),
        swings([rod.weight_depth_swing for rod in rods], "length", system),
        estimates([rod.lure_depth for rod in rods], "length", system),
        swings([rod.lure_depth_swing for rod in rods], "length", system),
    )
    for row in zip(*columns, strict=True):
        table.add_row(*map(words, row))
    return table


def pulls(plan: Plan, system: System, *, roomy: bool) -> Table:
    """Pull and angle at the rod, speed of the lure in the turns; if roomy, also line in the air and how far astern."""
    rods, foot = by_set_out(plan), unit_of("length", system)
    pound, knot = unit_of("force", system), unit_of("speed", system)
    table = _table()
    _names(table, "Rod")
    _numbers(
        table, f"Pull\n{pound}", f"in the turns\n{pound}", "Line below\nlevel, °", f"Lure's speed in\nthe turns, {knot}"
    )
    columns = [
        [plain(rod.rod) for rod in rods],
        estimates([rod.pull for rod in rods], "force", system),
        swings([rod.pull_swing for rod in rods], "force", system),
        estimates([rod.angle for rod in rods], "angle", system),
        swings([rod.lure_speed_swing for rod in rods], "speed", system),
    ]
    if roomy:
        _numbers(table, f"Line in\nthe air, {foot}", f"Lure astern\nof transom, {foot}")
        columns.append([derived(rod.in_air, "length", system) for rod in rods])
        columns.append([derived(rod.astern, "length", system) for rod in rods])
    for row in zip(*columns, strict=True):
        table.add_row(*map(words, row))
    return table


def pairs(plan: Plan, system: System) -> Table:
    """Every pair of lines through the turns, nearest first, the worst named."""
    foot = unit_of("length", system)
    table = _table()
    _names(table, "Pair", [pair_names(pair) for pair in plan.pairs])
    _numbers(table, f"Gear to\nline, {foot}", "at", f"Line to\nline, {foot}", "at", "Wound,\nturns")
    table.add_column("", overflow="fold")
    ordered = sorted(plan.pairs, key=lambda each: (not is_worst(plan, each), each.gear_gap.usual))
    gaps = estimates([pair.gear_gap for pair in ordered], "length", system)
    for pair, gap in zip(ordered, gaps, strict=True):
        worst = is_worst(plan, pair)
        table.add_row(
            words(f"{pair_names(pair)}\n- can tangle" if pair.tangle else pair_names(pair)),
            words(gap),
            moment(pair.gear_time),
            derived(pair.line_gap, "length", system),
            moment(pair.line_time),
            f"{abs(pair.winding):.2f}",
            "worst" if worst else "",
            style="bold" if worst or pair.tangle else "",
        )
    return table


def links(plan: Plan, system: System) -> Table:
    """The weakest link of each rig: what share of its strength it carries, where and when, load and strength."""
    table = _table()
    _names(table, "Rod")
    _numbers(table, "Carries of\nits strength")
    table.add_column("", no_wrap=True)
    table.add_column("Weakest link, in its hardest case:\nload on strength", overflow="fold")
    for rod in by_set_out(plan):
        load = rod.weakest
        strength = estimate(load.strength, "force", system) if load.strength is not None else "a strength not known"
        table.add_row(
            words(plain(rod.rod)),
            words(percent_estimate(load.share)),
            words(plain(load.verdict)),
            words(f"{plain(load.weak_spot)}, {plain(load.case)}: {estimate(load.load, 'force', system)} on {strength}"),
            style="" if load.verdict == "holds" else "bold",
        )
    return table
