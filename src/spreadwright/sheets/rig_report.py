"""The answer about rigs for the terminal: the sentences first, then links, strike, drag along a run, marks and rules.

Plain text at any width from 60 columns on. Nothing is computed here: every number is the answer's.
"""

from __future__ import annotations

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from spreadwright.plan.rig_answer import RigAnswer, RigAnswers
from spreadwright.quantity import System, show
from spreadwright.sheets.figures import estimate, given, percent, percent_estimate, plain
from spreadwright.sheets.terminal_words import Tied, as_text, put_out, words


def rig_report(answers: RigAnswers, *, width: int = 80, system: System | None = None) -> str:
    """The whole report as plain text, no line longer than `width` columns (at least 60)."""
    return as_text(_renderable(answers, system or answers.units), width)


def show_rig_report(answers: RigAnswers, system: System | None = None) -> None:
    """Print the report on the standard output."""
    put_out(_renderable(answers, system or answers.units))


def _renderable(answers: RigAnswers, system: System) -> RenderableType:
    parts: list[RenderableType] = [Text(plain(answers.title), style="bold")]
    for rig in answers.rigs:
        parts += _one(rig, system)
    cautions = list(dict.fromkeys(text for rig in answers.rigs for text in rig.cautions))
    parts += [_head("Cautions"), _bullets(cautions), words(f"\n{plain(answers.notice)}", style="bold")]
    return Tied(Group(*parts))


def _one(rig: RigAnswer, system: System) -> list[RenderableType]:
    pieces = ", ".join(map(plain, (rig.weight, rig.shock_leader, rig.bite_leader, rig.lure)))
    said = [f"{plain(rig.station)}, mark {given(rig.mark, 'length', system)}: {pieces}; {plain(rig.chosen_by)}."]
    if rig.override:
        said.append(f"FISHED ON THE CAPTAIN'S WORD (anyway = true), although: {plain(rig.override)}.")
    parts: list[RenderableType] = [
        Text(f"\n{plain(rig.rod).upper()}", style="bold cyan"),
        *(words(each) for each in said),
        _head("The answer in short"),
        _bullets([plain(each) for each in rig.sentences]),
    ]
    if rig.findings:
        parts += [_head("What does not fit"), _bullets([_finding(each) for each in rig.findings])]
    parts += [_head("Every link in every case: share of its strength"), _links(rig, system)]
    parts += [_head("How each end is joined"), _joints(rig)]
    if rig.strike is not None:
        parts += [_head("The strike"), _strike(rig, system)]
    parts += [_head("What else could be fished: the usual fish, worst link"), _swept(rig, system)]
    parts += [_head("What parts first, and what stays in the fish"), _parting(rig, system)]
    parts += [_head("The drag along a run"), _drag(rig, system)]
    parts += [_head("Floss marks under this rig's pull"), _marks(rig, system)]
    parts += [
        _head(f"Record rules ({plain(rig.rules_edition)})"),
        _rules(rig),
        words(plain(rig.rules_note), style="dim"),
    ]
    return parts


def _head(said: str) -> Text:
    return Text.assemble("\n", (said, "bold"))


def _bullets(sentences: list[str]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column(ratio=1, overflow="fold")
    for sentence in sentences:
        table.add_row("-", words(sentence))
    return table


def _table(*heads: str) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1), header_style="bold")
    table.add_column(heads[0], overflow="fold", ratio=2)
    for head in heads[1:]:
        table.add_column(head, overflow="fold", justify="right")
    return table


def _force(newtons: float, system: System) -> str:
    return show(newtons, "force", system, figures=2)


def _finding(each: object) -> str:
    severity, place, told, rule, fix = (plain(str(getattr(each, key))) for key in
                                        ("severity", "place", "given", "rule", "fix"))  # fmt: skip
    return f"{severity.upper()}: {place}: {told}. Rule: {rule}. Fix: {fix}."


def _links(rig: RigAnswer, system: System) -> Table:
    cases = list(dict.fromkeys(load.case for load in rig.loads))
    table = _table("Link", "strength", *cases)
    for link in dict.fromkeys(load.link for load in rig.loads):
        own = {load.case: load for load in rig.loads if load.link == link}
        strength = next((load.strength for load in own.values() if load.strength is not None), None)
        cells = []
        for case in cases:
            load = own.get(case)
            if load is None:
                cells.append("")
            elif load.share is None:
                cells.append(_force(load.load.usual, system))
            else:
                mark = {"parts": " !!", "may part": " !"}.get(load.verdict, "")
                cells.append(f"{percent(load.share.usual)}{mark}")
        table.add_row(plain(link), _force(strength.usual, system) if strength else "not known", *cells)
    return table


def _joints(rig: RigAnswer) -> Table:
    table = _table("End", "joined by", "keeps", "source")
    for each in rig.joints:
        keeps = f"{percent(each.keeps.low)} to {percent(each.keeps.high)}" if each.keeps else "not known"
        table.add_row(plain(each.place), plain(each.connection), keeps, plain(each.source))
    return table


def _strike(rig: RigAnswer, system: System) -> RenderableType:
    assert rig.strike is not None
    table = _table("Link", "peak pull", "least to most", "share", "lasts", "reel stuck")
    for link in rig.strike.links:
        table.add_row(
            plain(link.link), _force(link.peak.usual, system),
            f"{_force(link.peak.low, system)} to {_force(link.peak.high, system)}",
            percent_estimate(link.share) if link.share else "", f"{link.lasts:.2f} s", _force(link.stuck, system),
        )  # fmt: skip
    paid = rig.strike.paid_out
    low, usual, high = (show(x, "length", system, figures=2) for x in (paid.low, paid.usual, paid.high))
    note = words(
        f"Line run out in the first {rig.strike.seconds:.0f} s: {usual} ({low} to {high}). Lasts: how long the usual "
        "fish's pull stays over half of its greatest. ! may part in the worst case, !! parts.",
        style="dim",
    )
    return Group(table, note)


def _swept(rig: RigAnswer, system: System) -> Table:
    table = _table("Changed", "to", "worst link's share", "greatest pull on any link")
    dimension = {"weight": "mass", "drag": "force"}
    for each in rig.swept:
        value = plain(each.label) if each.kind in ("shock leader", "weight") else ""
        if not value:
            number = dimension.get(each.kind, "length")
            value = given(each.value, number, system) if number == "length" else _force(each.value, system)
        table.add_row(
            plain(each.kind) + (" (as it is)" if each.as_is else ""), value,
            f"{percent(each.share)} {plain(each.worst)}", _force(each.greatest, system),
        )  # fmt: skip
    return table


def _parting(rig: RigAnswer, system: System) -> RenderableType:
    table = _table("Parts", "strength", "chance to be first", "stays in the fish")
    for each in rig.parting:
        table.add_row(
            plain(each.weak_spot), _force(each.strength.usual, system), percent(each.chance), plain(each.left)
        )
    if rig.weak_link is None:
        note = "No made weak link both holds the greatest load and parts first where least would stay in the fish."
    else:
        least, most = (_force(value, system) for value in rig.weak_link)
        note = f"A made weak link where least stays in the fish: {least} to {most}."
    return Group(table, words(note, style="dim"))


def _drag(rig: RigAnswer, system: System) -> RenderableType:
    said = words(
        f"Set to {given(rig.strike_drag, 'force', system)}; {_setting(rig, system)} "
        "Water: the greater of a fish running straight away and across, at 4 m/s (8 kn), boat stopped."
        + _room(rig, system)
    )
    table = _table("Line out", "reel", "water", "at the fish", "of the line", "")
    for row in rig.drag:
        table.add_row(
            show(row.line_out, "length", system, figures=3), _force(row.reel_drag, system),
            _force(row.water_pull, system), _force(row.at_fish, system), percent(row.share),
            "" if row.state == "fine" else row.state,
        )  # fmt: skip
    return Group(said, table)


def _setting(rig: RigAnswer, system: System) -> str:
    """What drag is usual for the line, and where the tow itself forbids the low end of that."""
    low, high = (_force(value, system) for value in (rig.usual_drag.low, rig.usual_drag.high))
    usual = f"by the scale {low} to {high} is usual for this line"
    if rig.tow_peak.usual <= rig.usual_drag.low:
        return f"{usual}."
    pull = estimate(rig.tow_peak, "force", system)
    if rig.tow_peak.usual > rig.usual_drag.high:
        return f"{usual}, but this rig itself pulls {pull} while trolling: more than that. Fish a lighter rig."
    least = _force(rig.set_drag.low, system)
    return f"{usual}; below {least} line would run off, because this rig itself pulls {pull} while trolling."


def _room(rig: RigAnswer, system: System) -> str:
    """What the spool takes by its measures, where they are given."""
    if rig.room is None:
        return ""
    low, usual, high = (show(x, "length", system, figures=2) for x in (rig.room.low, rig.room.usual, rig.room.high))
    return f" By its measures the spool takes {usual} of this line ({low} loosely wound, {high} at most)."


def _marks(rig: RigAnswer, system: System) -> Table:
    table = _table("Mark", "measure on slack line", "tied at the mark's length it stands at")
    for each in rig.marks:
        slack, stands = (
            f"{show(x.usual, 'length', system, figures=3)} ({show(x.low, 'length', system, figures=3)} to "
            f"{show(x.high, 'length', system, figures=3)})"
            for x in (each.slack_to_measure, each.stands_at)
        )
        table.add_row(given(each.mark, "length", system), slack, stands)
    return table


def _rules(rig: RigAnswer) -> Table:
    table = _table("Rule", "given", "limit", "inside?")
    for each in rig.rules:
        inside = {True: "inside", False: "OUTSIDE", None: "not known"}[each.inside]
        table.add_row(plain(each.rule), plain(each.given), plain(each.limit), inside)
    return table
