"""How hard the reel and the water pull along a run, what to set at strike, and where line may part.

A drag brakes the spool with a torque that stays the same while the spool empties, so the pull on
the line rises as the radius falls. On top of that the water pulls on the line that is out; that
pull comes from the tow model and is passed in here. Where the sum nears the line's strength is
where break-offs happen late in a long run.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from spreadwright.quantity import System, show
from spreadwright.rig.reel import WoundSpool, radius_after
from spreadwright.tackle.span import Span

# Strike setting as a share of the line's rated strength: common practice, no source
# (25 to 33 %, set with a scale; at high speed many set less, because the water already pulls).
STRIKE_SHARE = Span(0.25, 0.29, 1.0 / 3.0)
# Load at which the table warns, as share of the least strength: common practice, no source.
WATCH_SHARE = 0.5
DANGER_SHARE = 0.8

State = Literal["fine", "watch", "danger", "parts"]


@dataclass(frozen=True, slots=True)
class DragRow:
    """The pull at one length of line out.

    line_out, spool_radius [m]; reel_drag, water_pull, at_fish_end [N]: the sum at the far end of
    the line, where it is greatest while the fish takes line; share: at_fish_end over strength
    (low, usual, high); state: fine, watch, danger or parts; setting_to_hold [N]: the drag to set
    (with as much line on the spool as when it was set) that keeps the sum at the watch level; 0 if
    the water's pull alone reaches it.
    """

    line_out: float
    spool_radius: float
    reel_drag: float
    water_pull: float
    at_fish_end: float
    share: Span
    state: State
    setting_to_hold: float

    def with_line_out(self, line_out: float) -> DragRow:
        """The same pull named by another length of line out [m], such as counted from a short spool."""
        return replace(self, line_out=line_out)


def drag_at_radius(drag_when_full: float, full_radius: float, radius: float) -> float:
    """Pull [N] at the spool with the same brake torque at a smaller radius: F R / r.

    Moment balance; holds while the brake's friction does not change with heat or speed.

    >>> drag_at_radius(100.0, 0.030, 0.015)
    200.0
    """
    if not (full_radius > 0.0 and radius > 0.0 and drag_when_full >= 0.0):
        raise ValueError("radii must be positive and drag not negative")
    return drag_when_full * full_radius / radius


def over_guides(pull: float, friction: float, angle: float) -> float:
    """Pull [N] outside the guides when line slips over them: F e^(mu theta) (Euler, Eytelwein).

    friction mu [1], angle theta [rad] the line is bent through. A drag measured with a scale on
    the line outside the rod tip already contains this.

    >>> round(over_guides(1.0, 0.2, math.pi), 8)
    1.87445609
    """
    return pull * math.exp(friction * angle)


def strike_setting(rated_strength: float, tow_pull: float = 0.0) -> Span:
    """Drag [N] to set by the scale at strike: 25 to 33 % of the line's rated strength [N].

    Common practice, no source; at high speed many set at the low end or less, because the water
    already pulls. `tow_pull` [N] is the pull at the reel while trolling: the setting never falls
    below it, or line would run off by itself.

    >>> round(strike_setting(400.0).low, 6), strike_setting(400.0, tow_pull=120.0).low
    (100.0, 120.0)
    """
    if not (math.isfinite(rated_strength) and rated_strength > 0.0 and tow_pull >= 0.0):
        raise ValueError("strength must be positive and the pull while trolling not negative")
    share = STRIKE_SHARE * rated_strength
    return Span(*(max(value, tow_pull) for value in (share.low, share.usual, share.high)))


def drag_along_run(
    wound: WoundSpool,
    setting: float,
    strength: Span,
    lines_out: Sequence[float],
    set_with_line_out: float = 0.0,
    water_pull: Callable[[float], float] | None = None,
) -> tuple[DragRow, ...]:
    """Warning table: pull on the line by length of line out, while a fish takes line.

    setting [N]: drag by the scale, with `set_with_line_out` [m] off the spool at that moment;
    strength [N]: of the line at its weakest joint; lines_out [m]; water_pull: function of line out
    [m] giving the water's pull [N] on the line (from the tow model), None counts none.

    The line slips at the reel's drag, and each length further out adds the water's pull, so the
    greatest tension is at the fish's end. Inertia and a jammed line are not in it.
    """
    radius_set = radius_after(wound, set_with_line_out)
    when_full = setting * radius_set / wound.spool.full_radius
    rows = []
    for line_out in lines_out:
        radius = radius_after(wound, line_out)
        reel = drag_at_radius(when_full, wound.spool.full_radius, radius)
        water = water_pull(line_out) if water_pull is not None else 0.0
        total = reel + water
        share = Span.exactly(total).over(strength)
        room = max(0.0, WATCH_SHARE * strength.low - water)
        hold = room * radius / radius_set
        rows.append(DragRow(line_out, radius, reel, water, total, share, _state(share), hold))
    return tuple(rows)


def _state(share: Span) -> State:
    if share.usual >= 1.0:
        return "parts"
    if share.high >= DANGER_SHARE:
        return "danger"
    return "watch" if share.high >= WATCH_SHARE else "fine"


def reached_at(rows: Sequence[DragRow], level: float, usual: bool = False) -> float | None:
    """Line out [m] at which the share of strength first reaches `level` [1]; None if it never does.

    The worst case's share is taken, or the usual one. Straight between rows: the pull grows ever
    faster as line runs out, so the place found lies a little early, on the safe side.
    """
    before: tuple[float, float] | None = None
    for row in rows:
        share = row.share.usual if usual else row.share.high
        if share >= level:
            if before is None or share == before[1]:
                return row.line_out
            part = (level - before[1]) / (share - before[1])
            return before[0] + part * (row.line_out - before[0])
        before = (row.line_out, share)
    return None


def at_line_out(rows: Sequence[DragRow], line_out: float, read: Callable[[DragRow], float]) -> float:
    """A row's number at a length of line out [m] between two rows, straight between them; at the ends, theirs."""
    for before, after in pairwise(rows):
        if before.line_out <= line_out <= after.line_out and after.line_out > before.line_out:
            part = (line_out - before.line_out) / (after.line_out - before.line_out)
            return read(before) + part * (read(after) - read(before))
    return read(rows[0] if line_out <= rows[0].line_out else rows[-1])


def run_in_words(rows: Sequence[DragRow], system: System = "us") -> str:
    """One plain sentence on where along the run the risk of a break-off lies."""
    if not rows:
        return "No lengths of line out were given."
    parts = reached_at(rows, 1.0, usual=True)
    danger = reached_at(rows, DANGER_SHARE)
    watch = reached_at(rows, WATCH_SHARE)
    if parts is not None:
        water = at_line_out(rows, parts, lambda row: row.water_pull)
        return (
            f"With {show(parts, 'length', system)} out the pull reaches the line's usual strength "
            f"({show(water, 'force', system, figures=2)} of it is the water's): back the drag off before that, "
            f"or follow the fish."
        )
    if danger is not None:
        to_hold = at_line_out(rows, danger, lambda row: row.setting_to_hold)
        return (
            f"From {show(danger, 'length', system)} out the pull passes {100 * DANGER_SHARE:.0f} % of the line's least "
            f"strength: by then have the drag backed off to what the scale showed as "
            f"{show(to_hold, 'force', system, figures=2)} when it was set."
        )
    if watch is not None:
        return (
            f"From {show(watch, 'length', system)} out the pull passes {100 * WATCH_SHARE:.0f} % of the line's least "
            f"strength: watch the spool."
        )
    last = show(rows[-1].line_out, "length", system)
    return f"Up to {last} out the pull stays under {100 * WATCH_SHARE:.0f} % of the line's least strength."
