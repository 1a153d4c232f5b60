"""Working loads on every link of a chain, case by case: towing, turning, the drag, the strike.

The figures come from the tow model, the reel and the strike simulation; here they are laid on the
links. Ahead of the weight the line carries more than behind it, because the weight pulls too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spreadwright.quantity import System, show
from spreadwright.rig.chain import Chain
from spreadwright.tackle.span import Span

STEADY_TOW = "steady tow"
TURN_PEAK = "peak in the turns"
STRIKE_DRAG = "drag at strike"
SPOOL_RUN_DOWN = "drag with half the line out"
STRIKE_PEAK = "the strike"


@dataclass(frozen=True, slots=True)
class LoadCase:
    """One case: its name and the pull [N] on each link by name; a link left out bears none."""

    name: str
    loads: Mapping[str, Span]


def tow_case(chain: Chain, name: str, ahead: Span, behind: Span) -> LoadCase:
    """Towing: `ahead` [N] on all links up to and with the weight, `behind` [N] on those after it.

    ahead: tension at the line's upper end (the rod tip is the greatest); behind: tension in the
    shock leader next to the weight. Without a weight `ahead` holds as far as the shock leader.
    """
    kinds = [link.kind for link in chain.links]
    turn = kinds.index("weight") + 1 if "weight" in kinds else kinds.index("shock leader")
    loads = {link.name: ahead if at < turn else behind for at, link in enumerate(chain.links) if link.bears_load}
    return LoadCase(name, loads)


def drag_case(chain: Chain, name: str, reel_drag: Span, water_pull: Span | None = None) -> LoadCase:
    """A fish takes line: every link bears the reel's drag [N] and the water's pull on the line [N].

    The sum is met at the far end of the main line, so at its knot and all below it.
    """
    water = water_pull or Span.exactly(0.0)
    total = Span(reel_drag.low + water.low, reel_drag.usual + water.usual, reel_drag.high + water.high)
    return LoadCase(name, {link.name: total for link in chain.bearing})


def run_down(line_out: float, system: System) -> str:
    """The name of the case of a spool run down to half its line: "drag with half the line out (984 ft)"; [m]."""
    return f"{SPOOL_RUN_DOWN} ({show(line_out, 'length', system)})"


def strike_case(chain: Chain, peaks: Mapping[str, Span], name: str = STRIKE_PEAK) -> LoadCase:
    """The strike: peak pull [N] by link name, from the simulation. KeyError for an unknown link."""
    for link in peaks:
        chain.link(link)
    return LoadCase(name, dict(peaks))
