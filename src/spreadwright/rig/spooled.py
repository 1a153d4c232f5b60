"""The reel of an outfit as it is spooled: radii from what the trip file says, and its drag checked.

A trip file must say how much line the reel holds; the spool's measures may be left out. Then only
the ratio of core to full diameter is needed for the shrinking spool, and a usual one is taken.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from spreadwright.faults import Fault
from spreadwright.quantity import System, show, show_turned
from spreadwright.rig.drag import STRIKE_SHARE, DragRow, drag_along_run
from spreadwright.rig.finding import Finding
from spreadwright.rig.reel import LOOSEST_PACKING, SQUARE_PACKING, Layer, Spool, WoundSpool, capacity, wind
from spreadwright.tackle.outfit import Outfit, Reel
from spreadwright.tackle.span import Span

RUNS_OFF = "line may run off this reel while trolling"

# Used where the trip file gives no measures: common practice, no source.
USUAL_CORE_SHARE = 0.45  # core over full diameter [1]
USUAL_FULL_RADIUS = 0.045  # [m]; only the ratio matters for the pull
USUAL_PACKING = 0.70  # [1]


@dataclass(frozen=True, slots=True)
class Spooled:
    """A spool full of the outfit's line, and how much of that is missing [m]; estimated: no measures."""

    wound: WoundSpool
    missing: float
    line_length: float
    estimated: bool


def spool_line(outfit: Outfit) -> Spooled | Fault:
    """The outfit's reel with its line on; a Fault if the line and the spool's measures disagree.

    Backing counts as part of what the reel holds. Line shorter than that leaves the spool short
    of full by the difference, and its drag starts from the smaller radius.
    """
    reel, line = outfit.reel, outfit.line
    if line.length > reel.holds * (1.0 + 1e-9):
        return Fault(
            place=f"outfit {outfit.name}: line",
            given=f"{show_turned(line.length, 'length')} of line",
            rule=f"its reel holds {show_turned(reel.holds, 'length')}",
            next_step="check the line's length and what the reel holds",
        )
    measured = _measured(reel, outfit.name)
    if isinstance(measured, Fault):
        return measured
    layer = Layer(reel.holds, line.diameter)
    spool = measured if measured is not None else _usual_spool(layer)
    wound = wind(spool, [layer])
    if isinstance(wound, Fault) and line.diameter_estimated:
        # The thickness was only estimated. What the reel holds and its measures are better known,
        # and the radius depends on them alone: take the thickness that fills the spool as usual.
        area = USUAL_PACKING * spool.volume / reel.holds
        wound = wind(spool, [Layer(reel.holds, math.sqrt(4.0 * area / math.pi))])
    if isinstance(wound, Fault):
        return Fault(f"outfit {outfit.name}: reel", wound.given, wound.rule, wound.next_step)
    return Spooled(wound, reel.holds - line.length, line.length, measured is None)


def _measured(reel: Reel, name: str) -> Spool | Fault | None:
    full, core, width = reel.spool_full_diameter, reel.spool_core_diameter, reel.spool_width
    if full is None or core is None or width is None:
        return None
    if core >= full:
        return Fault(
            place=f"outfit {name}: reel",
            given=f"spool {show_turned(full, 'size')} full, {show_turned(core, 'size')} bare",
            rule="the full spool is wider than the bare one",
            next_step="measure both again, across the line and across the bare spool",
        )
    return Spool(width, full / 2.0, core / 2.0)


def _usual_spool(layer: Layer) -> Spool:
    """A spool of usual proportions, as wide as the line needs at usual packing."""
    core = USUAL_CORE_SHARE * USUAL_FULL_RADIUS
    ring = math.pi * (USUAL_FULL_RADIUS**2 - core**2)
    return Spool(layer.volume / (USUAL_PACKING * ring), USUAL_FULL_RADIUS, core)


def room_for_line(outfit: Outfit) -> Span | None:
    """Length of the outfit's line that its spool takes by its measures [m]; None where they are not all given.

    Packing by geometry and practice (reel.py): 45 % laid by hand with crossing turns, 70 % usual, 78.5 % turn above
    turn. The line's thickness has its own doubt.
    """
    measured = _measured(outfit.reel, outfit.name)
    if not isinstance(measured, Spool):
        return None
    thick = outfit.line.diameter_known
    return Span(
        capacity(measured, thick.high, LOOSEST_PACKING),
        capacity(measured, thick.value, USUAL_PACKING),
        capacity(measured, thick.low, SQUARE_PACKING),
    )


def check_spool(outfit: Outfit, system: System = "us") -> tuple[Finding, ...]:
    """What is wrong with an outfit's spool: measures that contradict each other, or take less line than is said."""
    spooled = spool_line(outfit)
    if isinstance(spooled, Fault):
        return (
            Finding("spool measures", "caution", "reel", spooled.given, spooled.rule,
                    f"{spooled.next_step}; until then the drag along a run is not told"),
        )  # fmt: skip
    room = room_for_line(outfit)
    if room is None or outfit.reel.holds <= room.high:
        return ()
    return (
        Finding(
            "spool too small", "caution", "reel", f"said to hold {show_turned(outfit.reel.holds, 'length', system)}",
            f"by its measures the spool takes {show(room.high, 'length', system)} of this line at most",
            "measure the spool again, and the line's thickness; until then take what it holds as less",
        ),
    )  # fmt: skip


def drag_table(
    outfit: Outfit,
    strength: Span,
    water_pull: Callable[[float], float] | None = None,
    rows: int = 9,
) -> tuple[DragRow, ...] | Fault:
    """The outfit's warning table from no line out to all of it, in `rows` even steps.

    strength [N] of the line at its weakest joint; water_pull: line out [m] to water's pull [N]. The
    drag is taken as set with all the line on the spool. A Fault as in `spool_line`.
    """
    spooled = spool_line(outfit)
    if isinstance(spooled, Fault):
        return spooled
    missing = spooled.missing
    lengths = [spooled.line_length * at / (rows - 1) for at in range(rows)]
    pull = None if water_pull is None else (lambda out: water_pull(out - missing))
    table = drag_along_run(
        spooled.wound, outfit.strike_drag, strength, [missing + out for out in lengths], missing, pull
    )
    return tuple(row.with_line_out(out) for row, out in zip(table, lengths, strict=True))


def check_drag(
    outfit: Outfit, tow_pull: float = 0.0, system: System = "us", high: float = 0.0, often: str = "at the high end"
) -> tuple[Finding, ...]:
    """What is wrong with an outfit's strike drag; tow_pull [N]: greatest pull at the rod while trolling.

    high [N]: the same at the high end of its doubt; often: how often that is so, in words.
    """
    return (*_drag_findings(outfit, tow_pull, system), *_slipping(outfit, tow_pull, high, system, often))


def drag_to_hold(outfit: Outfit, pull: float) -> float | None:
    """The strike drag [N] that holds a pull while trolling [N]; None where line or reel do not allow that much."""
    return pull if pull <= min(outfit.reel.max_drag, STRIKE_SHARE.high * outfit.line.strength) else None


def _slipping(outfit: Outfit, tow_pull: float, high: float, system: System, often: str) -> Iterator[Finding]:
    """Line that may run off while trolling: only the doubt of the pull reaches the drag, not the pull itself."""
    drag = outfit.strike_drag
    if not tow_pull <= drag <= high:
        return
    hold, most = drag_to_hold(outfit, high), min(outfit.reel.max_drag, STRIKE_SHARE.high * outfit.line.strength)
    bound = f"fish a lighter rig or go slower; more drag than {show(most, 'force', system, figures=3)} is too much "
    bound += "for this line or reel"
    if hold is not None:
        bound = f"set the drag up to {show(hold, 'force', system, figures=3)}, or fish a lighter rig"
    yield Finding(
        "drag near the tow's pull", "caution", RUNS_OFF,
        f"the drag is set to {show_turned(drag, 'force', system)}, and the rig may pull "
        f"{show(high, 'force', system, figures=3)}: more than the drag {often}",
        "the drag holds the rig through the turns without slipping", bound,
    )  # fmt: skip


def _drag_findings(outfit: Outfit, tow_pull: float, system: System) -> Iterator[Finding]:
    place, drag, strength = "strike drag", outfit.strike_drag, outfit.line.strength
    given = f"set to {show_turned(drag, 'force', system)}"
    if drag > outfit.reel.max_drag:
        yield Finding(
            "drag beyond reel", "fails", place, given,
            f"the reel brakes {show_turned(outfit.reel.max_drag, 'force', system)} at most",
            "set it lower, or fish another reel",
        )  # fmt: skip
    if drag > STRIKE_SHARE.high * strength:
        yield Finding(
            "drag high for the line", "caution", place, f"{given}, {100 * drag / strength:.0f} % of the line's rating",
            "25 to 33 % of the line's rated strength is usual (common practice)",
            f"set {show(STRIKE_SHARE.low * strength, 'force', system, figures=2)} to "
            f"{show(STRIKE_SHARE.high * strength, 'force', system, figures=2)}",
        )  # fmt: skip
    if drag < tow_pull:
        yield Finding(
            "drag below the tow's pull", "fails", place,
            f"{given}, and the rig pulls {show(tow_pull, 'force', system, figures=2)} while trolling",
            "the drag holds the rig through the turns without slipping",
            f"set more than {show(tow_pull, 'force', system, figures=2)}, or fish a lighter rig",
        )  # fmt: skip
