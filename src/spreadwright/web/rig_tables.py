"""Tables of one rig for its page: links, strike, what else could be fished, what parts first, drag, marks, rules."""

from __future__ import annotations

from spreadwright.plan.rig_answer import RigAnswer
from spreadwright.plan.value import Estimate
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import estimate, given, percent, percent_estimate, plain, rounded
from spreadwright.web.tables import Row, Table


def rig_tables(rig: RigAnswer, system: System) -> list[Table]:
    """All tables of one rig in the order in which they are read; empty ones are left out."""
    tables = [_links(rig, system), _strike(rig, system), _swept(rig, system), _parting(rig, system),
              _drag(rig, system), _marks(rig, system), _rules(rig)]  # fmt: skip
    return [table for table in tables if table.rows]


def _force(value: float, system: System) -> str:
    return rounded(value, "force", system)


def _range(value: Estimate, dimension: str, system: System) -> str:
    low, usual, high = (show(each, dimension, system, figures=2) for each in (value.low, value.usual, value.high))
    return f"{usual} ({low} to {high})"


def _links(rig: RigAnswer, system: System) -> Table:
    cases = tuple(dict.fromkeys(load.case for load in rig.loads))
    rows = []
    for link in dict.fromkeys(load.link for load in rig.loads):
        own = {load.case: load for load in rig.loads if load.link == link}
        strength = next((load.strength for load in own.values() if load.strength is not None), None)
        cells, worst = [], ""
        for case in cases:
            load = own.get(case)
            share = "" if load is None else _force(load.load.usual, system) if load.share is None else ""
            if load is not None and load.share is not None:
                share = percent(load.share.usual)
                if load.verdict in ("parts", "may part"):
                    share = f"{share}: {load.verdict}"
                    worst = "parts" if "parts" in (load.verdict, worst) else "may part"
            cells.append(share)
        told = _force(strength.usual, system) if strength else "not known"
        rows.append(Row(plain(link), (told, *cells), worst))
    heads = ("Link, reel to hook", "Strength", *(plain(case) for case in cases))
    return Table("Every link in every case: share of its strength", heads, tuple(rows))


def _strike(rig: RigAnswer, system: System) -> Table:
    heads = ("Link", "Greatest pull", "Share of its strength", "Lasts", "With the reel stuck")
    if rig.strike is None:
        return Table("The strike", heads, ())
    rows = tuple(
        Row(plain(link.link), (
            _range(link.peak, "force", system), percent_estimate(link.share) if link.share else "not known",
            f"{link.lasts:.2f} s", _force(link.stuck, system),
        ))
        for link in rig.strike.links
    )  # fmt: skip
    paid = _range(rig.strike.paid_out, "length", system)
    note = (
        f"Line run out in the first {rig.strike.seconds:.0f} s: {paid}. Lasts: how long the usual fish's pull stays "
        "over half of its greatest."
    )
    return Table("The strike", heads, rows, note=note)


def _swept(rig: RigAnswer, system: System) -> Table:
    rows = []
    for each in rig.swept:
        value = plain(each.label)
        if each.kind not in ("shock leader", "weight"):
            value = _force(each.value, system) if each.kind == "drag" else given(each.value, "length", system)
        rows.append(Row(plain(each.kind), (
            value, f"{percent(each.share)} {plain(each.worst)}", _force(each.greatest, system),
        ), "as it is" if each.as_is else ""))  # fmt: skip
    heads = ("Changed", "to", "Worst link's share", "Greatest pull on any link")
    return Table("What else could be fished: the usual fish", heads, tuple(rows), wordy=True)


def _parting(rig: RigAnswer, system: System) -> Table:
    rows = tuple(
        Row(plain(each.weak_spot), (estimate(each.strength, "force", system), percent(each.chance), plain(each.left)))
        for each in rig.parting
    )
    note = "No made weak link both holds the greatest load and parts first where least would stay in the fish."
    if rig.weak_link is not None:
        least, most = (_force(value, system) for value in rig.weak_link)
        note = f"A made weak link where least stays in the fish: {least} to {most}."
    heads = ("Parts", "Strength", "Chance to be first", "Stays in the fish")
    return Table("What parts first, and what stays in the fish", heads, rows, wordy=True, note=note)


def _drag(rig: RigAnswer, system: System) -> Table:
    rows = tuple(
        Row(show(row.line_out, "length", system, figures=3), (
            _force(row.reel_drag, system), _force(row.water_pull, system), _force(row.at_fish, system),
            percent(row.share),
        ), "" if row.state == "fine" else plain(row.state))
        for row in rig.drag
    )  # fmt: skip
    low, high = (_force(value, system) for value in (rig.set_drag.low, rig.set_drag.high))
    note = (
        f"Set to {given(rig.strike_drag, 'force', system)}; by the scale {low} to {high} is usual for this line. "
        "Water: the greater of a fish running straight away and across, at 8 kn, boat stopped."
    )
    heads = ("Line out", "Reel", "Water", "At the fish", "Of the line's strength")
    return Table("The drag along a run", heads, rows, note=note)


def _marks(rig: RigAnswer, system: System) -> Table:
    rows = tuple(
        Row(given(each.mark, "length", system), (
            estimate(each.slack_to_measure, "length", system), estimate(each.stands_at, "length", system),
        ))
        for each in rig.marks
    )  # fmt: skip
    heads = ("Mark", "Measure on slack line", "Tied at its own length it stands at")
    return Table("Floss marks under this rig's pull", heads, rows)


def _rules(rig: RigAnswer) -> Table:
    inside = {True: "inside", False: "outside", None: "not known"}
    rows = tuple(
        Row(plain(each.rule), (plain(each.given), plain(each.limit), inside[each.inside]),
            "outside" if each.inside is False else "")
        for each in rig.rules
    )  # fmt: skip
    heads = ("Rule", "Given", "Limit", "Inside?")
    caption = f"Record rules ({plain(rig.rules_edition)})"
    return Table(caption, heads, rows, wordy=True, note=plain(rig.rules_note))
