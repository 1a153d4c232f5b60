"""The plan as a report for the terminal: a short answer first, then every rod, pair, rig, list and caution.

Plain text at any width from 60 columns on; bold and colour only on a terminal that wants them (NO_COLOR and pipes are
respected by rich). Nothing is computed here: every number is the plan's, in the captain's units.
"""

from __future__ import annotations

from rich import box
from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from spreadwright.plan.value import Plan, Skipped
from spreadwright.plan.worded import in_units
from spreadwright.quantity import System
from spreadwright.sheets.doubt_words import doubt_in_words, tangle_in_words
from spreadwright.sheets.figures import PLAIN_SIGNS, counted, plain, system_of
from spreadwright.sheets.terminal_tables import depths, gear, links, pairs, pulls
from spreadwright.sheets.terminal_words import LEAST_WIDTH, Tied, as_text, words
from spreadwright.sheets.wording import (
    NOTHING_TO_BUY,
    against_the_rule,
    buy_in_words,
    by_set_out,
    cautions_grave_first,
    closest_in_words,
    counted_in_words,
    crew_in_words,
    listed,
    notes_in_words,
    reasons_in_words,
    sentence,
    slips_in_words,
    turns_in_words,
    weakest_in_words,
)

GEAR_NOTE = (
    "Runs: how far behind the rod tip the gear runs when that mark stands at the tip. Measure: slack line that would "
    "bring it to run at the mark's own distance."
)
ROOMY = 100  # columns from which tables show what can be left out


def report(plan: Plan, *, width: int = 80, system: System | None = None) -> str:
    """The whole report as plain text, no line longer than `width` columns (at least 60)."""
    width = max(width, LEAST_WIDTH)
    return as_text(renderable(plan, system_of(plan, system), width=width), width)


def show_report(plan: Plan, console: Console | None = None, *, system: System | None = None) -> None:
    """Print the report on a rich console (the standard output's, if none is given)."""
    console = console or Console(emoji=False)
    if console.options.ascii_only:  # a pipe or terminal that cannot take ± and °
        text = report(plan, width=console.width, system=system).translate(PLAIN_SIGNS)
        console.file.write(text.encode("ascii", "replace").decode("ascii"))
        return
    parts = renderable(plan, system_of(plan, system), width=console.width)
    console.print(parts, highlight=False, markup=False, emoji=False)


def renderable(plan: Plan, system: System, *, width: int) -> RenderableType:
    """The report as rich sees it, for a caller that shows more around it."""
    plan = in_units(plan, system)
    parts: list[RenderableType] = [
        _title(plan, system),
        _head("The answer in short"),
        _short(plan, system),
        _head("Set out from the top down; clear by the numbers under 'in'"),
        gear(plan, system),
        _note(GEAR_NOTE),
        _head("How deep they run"),
        depths(plan, system),
        _head("What the rods feel"),
        pulls(plan, system, roomy=width >= ROOMY),
        _head("How near the lines come to one another through the turns"),
        pairs(plan, system),
        _note(_winding_note(plan)),
        _head("The weakest link of each rig"),
        links(plan, system),
        *_rig_notes(plan),
        _head("To buy or to make up"),
        _shopping(plan),
        _head("Why this spread"),
        _why(plan, system),
        *_others(plan),
        _head("Cautions"),
        _cautions(plan),
        _head("What is in doubt"),
        _bullets([*doubt_in_words(plan, system), *(sentence(doubt) for doubt in plan.doubts)]),
        words(f"\n{plain(plan.notice)}", style="bold"),
    ]
    return Tied(Group(*parts))


def _head(said: str) -> Text:
    return Text.assemble("\n", (said.upper(), "bold cyan"))


def _note(said: str) -> Text:
    return words(said, style="dim")


def _title(plan: Plan, system: System) -> Text:
    dates = ", ".join(plain(date) for date in plan.dates)
    where = "  ".join(part for part in (plain(plan.place), dates) if part)
    about_the_run = words(f"\n{crew_in_words(plan)}\n{where}\n{turns_in_words(plan, system)}")
    return Text.assemble((plain(plan.title), "bold"), about_the_run)


def _pairs_of_words(rows: list[tuple[str, str | Text]]) -> Table:
    """Two columns: a short word, and what there is to say about it, wrapped beside it."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(style="bold", no_wrap=True)
    table.add_column(ratio=1, overflow="fold")
    for word, said in rows:
        table.add_row(words(word), said if isinstance(said, Text) else words(said))
    return table


def _short(plan: Plan, system: System) -> Table:
    grave = sum(caution.grave for caution in plan.cautions)
    rows: list[tuple[str, str | Text]] = [
        ("Closest", words(closest_in_words(plan, system), style="bold")),
        *([("Tangle", tangle_in_words(plan))] if tangle_in_words(plan) else []),
        ("To buy", buy_in_words(plan)),
        ("Weakest", weakest_in_words(plan)),
    ]
    slips = slips_in_words(plan, system)
    if slips:
        rows.append(("Drag", words(slips, style="bold")))
    if grave:
        rows.append(("Mind", f"{counted(grave, 'caution')} that can cost a hand or a life, first in their list below."))
    return _pairs_of_words(rows)


def _bullets(sentences: list[str]) -> RenderableType:
    return _pairs_of_words([("-", sentence) for sentence in sentences]) if sentences else Text("Nothing.")


def _winding_note(plan: Plan) -> str:
    hidden = max((pair.hidden for pair in plan.pairs), default=0.0)
    missed = f" Between the moments computed they may pass {100 * hidden:.1g} cm nearer." if hidden else ""
    return (
        "Gear to line: from the front of one's weight to its last hook, to anywhere on the other's line. Bare lines "
        f"may cross and touch; they slide off. Wound: turns left at the end, half a turn is a wrap.{missed}"
    )


def _rig_notes(plan: Plan) -> list[RenderableType]:
    """What is said of each rig; rods of which the same is said share one entry."""
    rods_of: dict[str, list[str]] = {}
    for rod in by_set_out(plan):
        for said in notes_in_words(rod):
            rods_of.setdefault(said, []).append(plain(rod.rod))
    if not rods_of:
        return []
    entries = [Text.assemble((f"{listed(rods)}: ", "bold"), words(said)) for said, rods in rods_of.items()]
    return [Padding(_pairs_of_words([("-", entry) for entry in entries]), (1, 0, 0, 0))]


def _shopping(plan: Plan) -> RenderableType:
    if not plan.shopping:
        return Text(f"{NOTHING_TO_BUY} {counted_in_words(plan)}")
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, expand=False)
    table.add_column("How many", justify="right", no_wrap=True)
    table.add_column("What", overflow="fold", ratio=2)
    table.add_column("Why", overflow="fold", ratio=3)
    for item in plan.shopping:
        table.add_row(str(item.quantity), words(f"{plain(item.kind)} {plain(item.name)}"), words(plain(item.reason)))
    return Group(table, Padding(words(counted_in_words(plan)), (1, 0, 0, 0)))


def _why(plan: Plan, system: System) -> RenderableType:
    why = plan.why
    gaps = Table.grid(padding=(0, 3, 0, 0))
    gaps.add_column(overflow="fold")
    gaps.add_column(justify="right", no_wrap=True)
    for what, gap in against_the_rule(plan, system):
        gaps.add_row(words(what), words(gap))
    searched = (
        f"Searched: {counted(why.candidates, 'rig')} ({why.classes:,} if those that run alike count once); "
        f"{counted(why.pairs_computed, 'pair')} of lines followed through all turns, the rest ruled out before."
    )
    left_out = [_left_out(each) for each in why.skipped]
    reasons = _bullets([*reasons_in_words(plan), searched, *left_out])
    return Group(Text("Smallest gap from gear to line:"), Padding(gaps, (0, 0, 0, 2)), reasons)


def _others(plan: Plan) -> list[RenderableType]:
    """Other spreads and what more gear would gain, where they were asked for."""
    parts: list[RenderableType] = []
    if plan.others:
        parts += [
            _head("The next best, told by what differs"),
            _bullets([sentence(each.words) for each in plan.others]),
        ]
    if plan.gains:
        told = [sentence(each.words) for each in plan.gains if each.wider > 0.0 or each.more_apart > 0.0]
        idle = [plain(each.piece) for each in plan.gains if each.wider <= 0.0 and each.more_apart <= 0.0]
        if idle:
            told.append(f"One more of any of these gains neither gap nor different water: {listed(idle)}.")
        parts += [_head("What one more would gain"), _bullets(told)]
    return parts


def _left_out(skipped: Skipped) -> str:
    many = f", {counted(skipped.count, 'rig')}" if skipped.count else ""
    return f"Left out, {plain(skipped.what)}{many}: {sentence(skipped.reason)}"


def _cautions(plan: Plan) -> RenderableType:
    rows: list[tuple[str, str | Text]] = []
    for caution in cautions_grave_first(plan):
        mark, style = ("!", "bold") if caution.grave else ("-", "")
        work = Text(f"{plain(caution.work)}: ".capitalize(), style="bold")
        rows.append((mark, work.append_text(words(plain(caution.text), style=style))))
    return _pairs_of_words(rows) if rows else Text("None in this plan; the usual care of the trade applies.")
