"""What stands on the printed cards, as plain words: a table of texts that the templates only set in type."""

from __future__ import annotations

import io
from collections import Counter
from dataclasses import asdict
from typing import Any

import segno

from spreadwright.plan.value import DragPoint, Plan, RodPlan
from spreadwright.quantity import System, show
from spreadwright.rig.spooled import RUNS_OFF
from spreadwright.sheets.card_lists import lists_words
from spreadwright.sheets.card_rig import rig_rows
from spreadwright.sheets.drawing import spread_drawing
from spreadwright.sheets.figures import (
    PLAIN_SIGNS,
    estimate,
    given,
    percent,
    percent_estimate,
    plain,
    rounded,
    swing,
    tied,
)
from spreadwright.sheets.wording import (
    buy_in_words,
    buy_list_in_words,
    by_clear,
    by_set_out,
    cautions_grave_first,
    closest_in_words,
    crew_in_words,
    link_in_words,
    listed,
    parts_first_in_words,
    sentence,
    turns_in_words,
    weakest_in_words,
)
from spreadwright.stock.lists.value import TripLists
from spreadwright.tackle.trip import Trip

Words = dict[str, Any]
# Work that each card is read at: its cautions stand there, where they belong.
ROD_CARD_WORK = ("setting out", "strike", "fighting", "leadering", "boating a fish", "clearing")


def card_words(plan: Plan, system: System, trip: Trip | None = None, lists: TripLists | None = None) -> Words:
    """Everything the cards say, by name; all values are texts, lists of texts or further tables.

    With the trip, rigs are named from the reel on; with the tackle room's lists, those are what is printed.
    """
    said: Words = {
        "title": plain(plan.title),
        "place": plain(plan.place),
        "dates": listed([plain(date) for date in plan.dates]),
        "boat": crew_in_words(plan),
        "run": turns_in_words(plan, system),
        "closest": closest_in_words(plan, system),
        "weakest": weakest_in_words(plan),
        "buy": buy_in_words(plan) if lists is None else buy_list_in_words(lists),
        "notice": plain(plan.notice),
        "rods": [_rod(plan, rod, system, trip) for rod in by_set_out(plan)],
        "clear": [plain(rod.rod) for rod in by_clear(plan)],
        "shopping": [
            [str(item.quantity), plain(item.kind), plain(item.name), plain(item.reason)] for item in plan.shopping
        ],
        "packing": _packing(plan),
        "lists": lists_words(lists) if lists is not None else None,
        "cautions": _cautions(plan),
        "doubts": [sentence(doubt) for doubt in plan.doubts],
        "drawing": spread_drawing(plan, width=PRINTED_WIDTH, system=system, paper=False),
    }
    return {name: _typeset(each) for name, each in said.items()}


PRINTED_WIDTH = 840.0  # of the drawing, in its own units, on a printed page


def _typeset(said: Any) -> Any:
    """The same as print has it: quantities on one line, curved apostrophes; drawings and QR codes are left alone."""
    if isinstance(said, str):
        return said if said.startswith("<svg") else tied(said).replace("'", "’")
    if isinstance(said, list):
        return [_typeset(each) for each in said]
    if isinstance(said, dict):
        return {name: _typeset(each) for name, each in said.items()}
    return said


def _rod(plan: Plan, rod: RodPlan, system: System, trip: Trip | None) -> Words:
    """One rod as its card shows it."""
    picture, modules = qr_picture(rod_as_text(plan, rod, system))
    return {
        "name": plain(rod.rod),
        "station": plain(rod.station),
        "out": str(rod.set_out),
        "in": str(rod.clear),
        "mark": given(rod.mark, "length", system),
        "runs": estimate(rod.runs_at, "length", system),
        "measure": estimate(rod.slack_to_measure, "length", system),
        "weight": plain(rod.weight),
        "shock": plain(rod.shock_leader),
        "bite": plain(rod.bite_leader),
        "lure": plain(rod.lure),
        "swivel": plain(rod.swivel),
        "rig": [asdict(row) for row in rig_rows(rod, trip, system)],
        "weight_depth": estimate(rod.weight_depth, "length", system),
        "lure_depth": estimate(rod.lure_depth, "length", system),
        "weight_turns": swing(rod.weight_depth_swing, "length", system),
        "lure_turns": swing(rod.lure_depth_swing, "length", system),
        "lure_speed": swing(rod.lure_speed_swing, "speed", system),
        "pull": estimate(rod.pull, "force", system),
        "pull_turns": swing(rod.pull_swing, "force", system),
        "angle": estimate(rod.angle, "angle", system),
        "strike_drag": given(rod.strike_drag, "force", system),
        "drag": [
            [
                rounded(point.line_out, "length", system),
                rounded(point.reel_drag, "force", system),
                rounded(point.at_fish, "force", system),
                percent(point.share),
                plain(point.state),
            ]
            for point in drag_points(rod)
        ],
        "weakest": sentence(link_in_words(rod.weakest)),
        "parts_first": parts_first_in_words(rod),
        "override": f"Fished because you want it: {sentence(rod.override)}" if rod.override else "",
        "findings": [*_slip(rod, system), *(sentence(each) for each in rod.findings if not each.startswith(RUNS_OFF))],
        "cautions": [
            plain(caution.text) for caution in plan.cautions if caution.grave and caution.work in ROD_CARD_WORK
        ],
        "qr": picture,
        "qr_modules": modules,
    }


def _slip(rod: RodPlan, system: System) -> list[str]:
    """That line may run off while trolling, as short as a card needs it."""
    if rod.slip is None:
        return []
    step = "lighter rig, or slower"
    if rod.slip.set_to is not None:
        step = f"drag up to {show(rod.slip.set_to, 'force', system, figures=3)}, or a lighter rig"
    return [f"Line may run off while trolling: {step}."]


def drag_points(rod: RodPlan, most: int = 5) -> list[DragPoint]:
    """The rows of the drag table that matter on a small card: the first, each change of state, the last."""
    rows = [
        point for i, point in enumerate(rod.drag) if i in (0, len(rod.drag) - 1) or point.state != rod.drag[i - 1].state
    ]
    return rows[:most]


def _packing(plan: Plan) -> list[list[str]]:
    """What the rods carry, counted: how many, what."""
    kinds = (
        ("trolling weight", [rod.weight for rod in plan.rods]),
        ("shock leader", [rod.shock_leader for rod in plan.rods]),
        ("bite leader", [rod.bite_leader for rod in plan.rods]),
        ("lure", [rod.lure for rod in plan.rods]),
        ("snap swivel", [rod.swivel for rod in plan.rods]),
    )
    return [
        [str(count), kind, plain(name)]
        for kind, names in kinds
        for name, count in sorted(Counter(names).items())
        if name
    ]


def _cautions(plan: Plan) -> list[Words]:
    """Cautions by the work they belong to, in the plan's order of works, grave ones first in each."""
    works = list(dict.fromkeys(caution.work for caution in plan.cautions))
    return [
        {
            "work": plain(work).capitalize(),
            "texts": [[plain(each.text), each.grave] for each in cautions_grave_first(plan) if each.work == work],
        }
        for work in works
    ]


def rod_as_text(plan: Plan, rod: RodPlan, system: System) -> str:
    """A rod's data as plain text, for the QR code on its card: any telephone shows it, with no program of ours.

    Signs that not every reader takes are written in letters.
    """
    weakest = rod.weakest
    lines = (
        f"{plain(rod.rod)}, {plain(rod.station)}",
        f"{plain(plan.title)}, {given(plan.speed, 'speed', system)}",
        f"out {rod.set_out}, in {rod.clear}",
        f"mark {given(rod.mark, 'length', system)}, runs at {estimate(rod.runs_at, 'length', system)}",
        f"slack line to measure {estimate(rod.slack_to_measure, 'length', system)}",
        f"weight {plain(rod.weight)}",
        f"leaders {listed([plain(leader) for leader in (rod.shock_leader, rod.bite_leader) if leader])}",
        f"lure {plain(rod.lure)}",
        f"swivel {plain(rod.swivel)}" if rod.swivel else "",
        f"strike drag {given(rod.strike_drag, 'force', system)}",
        f"weight {estimate(rod.weight_depth, 'length', system)} deep",
        f"lure {estimate(rod.lure_depth, 'length', system)} deep",
        f"pull {estimate(rod.pull, 'force', system)}",
        f"weakest: {plain(weakest.weak_spot)}, {percent_estimate(weakest.share)} in {plain(weakest.case)}",
    )
    return "\n".join(line for line in lines if line).translate(PLAIN_SIGNS)


def qr_picture(said: str) -> tuple[str, int]:
    """A QR code (ISO/IEC 18004, level M: readable with about 15 % of it worn away) of a text, as SVG, and how many
    modules wide it is with its quiet border."""
    encoding = None if said.isascii() else "utf-8"
    code = segno.make(said, error="m", micro=False, boost_error=False, encoding=encoding)
    stream = io.BytesIO()
    code.save(stream, kind="svg", xmldecl=False, border=4, scale=1, nl=False)
    return stream.getvalue().decode("utf-8"), int(code.symbol_size(border=4)[0])
