"""What the water adds to the pull while a fish runs: computed with the tow model, for line out from none to all.

The boat has stopped; the reel slips at its drag. Two runs, both at 4 m/s:
  away    straight away from the boat. All the line out moves along itself with the fish: a steady shape in the fish's
          frame, held at the boat's end by the reel's drag.
  across  from the end of a straight line the fish turns square to it and runs half that length sideways. The line is
          dragged into a belly and slides around it: followed in time, the boat's end fixed, the reel slipping.
Pull of the water: tension at the fish less that at the reel. Only friction along the line can make that difference
(a load square to the line bends it and does not add up), so the run away is the harder one; both are told.
Range: friction along the line is known to a third either way; weight of line left out; a line longer than the spool's
is not asked for. Worked example: 0.9 mm nylon, 100 m out, away: rho/2 Cf pi d L u^2 = 34.8 N, and the stretch's 3 %.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from spreadwright.rig.strike_ranges import BARE_SPOOL
from spreadwright.rig.tow_model import Doubts, line_section
from spreadwright.tackle.outfit import Outfit
from spreadwright.tackle.span import Span
from spreadwright.tow.lanes import LANES
from spreadwright.tow.line import Body, Failure, Line, Sea, Section
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import steady_straight
from spreadwright.tow.strike import Brake, Fish, Strike, StrikeSettings, strike

# What a fish still does against drag and line: measured top speeds are 4.0 to 8.3 m/s (Svendsen et al. 2016, Biology
# Open 5:1415); a usual fish's thrust holds about 4 m/s against a strike drag and 150 m of line.
RUN_SPEED = 4.0  # [m/s]
SIDEWAYS = 0.5  # of the line's length: how far the fish runs across
AWAY_MESH = Grading(5.0, 20.0, 0.1)
ACROSS_MESH = Grading(3.0, 15.0, 0.05)
ACROSS_STEP = 0.02  # [s]
LEAST_LENGTH = 20.0  # [m] shortest length that is computed; below it the pull grows in proportion from none


@dataclass(frozen=True, slots=True)
class WaterPull:
    """The water's pull [N] over line out [m], rising from none: for the fish running away and across."""

    line_out: tuple[float, ...]
    away: tuple[float, ...]
    across_out: tuple[float, ...]
    across: tuple[float, ...]

    def at(self, line_out: float) -> float:
        """The greater of the two pulls [N] with so much line out [m], straight between the lengths computed."""
        return max(self.away_at(line_out), self.across_at(line_out))

    def away_at(self, line_out: float) -> float:
        """The pull [N] with a fish running straight away, line out [m]."""
        return float(np.interp(line_out, self.line_out, self.away))

    def across_at(self, line_out: float) -> float:
        """The pull [N] with a fish running across, line out [m]."""
        return float(np.interp(line_out, self.across_out, self.across))


def water_pull(outfit: Outfit, density: float, run_speed: float = RUN_SPEED) -> WaterPull | Failure:
    """The outfit's table at its strike drag, in water of a density [kg/m3], for a run at a speed [m/s]."""
    section = line_section(outfit.line, outfit.line.length)
    found = _table(section, outfit.strike_drag, density, run_speed)
    return Failure(outfit.name, found.reason) if isinstance(found, Failure) else found


def friction_share(outfit: Outfit) -> Span:
    """How far the water's pull may differ from the usual [-]: as friction along the line does."""
    low, usual, high = (
        line_section(outfit.line, 1.0, Doubts(line_along=end)).tangential_drag for end in (-1.0, 0.0, 1.0)
    )
    return Span(low / usual, 1.0, high / usual)


@lru_cache(maxsize=64)
def _table(section: Section, drag: float, density: float, speed: float) -> WaterPull | Failure:
    lengths = np.geomspace(min(LEAST_LENGTH, 0.5 * section.length), section.length, LANES)
    lines = [_straight(section, float(length), drag) for length in lengths]
    sea = Sea(density=density, gravity=0.0, surface=False)
    away = []
    for shape in steady_straight(lines, speed, sea, AWAY_MESH):
        if isinstance(shape, Failure):
            return shape
        away.append(float(shape.tension[0]) - drag)
    across = _across(lines, lengths, drag, sea, speed)
    if isinstance(across, Failure):
        return across
    return WaterPull((0.0, *map(float, lengths)), (0.0, *away), (0.0, *across[0]), (0.0, *across[1]))


def _straight(section: Section, length: float, drag: float) -> Line:
    """A straight line from the fish (or the boat) that ends in a steady pull of the reel's drag [N]."""
    return Line("run", (0.0, 0.0, 0.0), (replace(section, length=length),), (Body(1e-3, force=(-drag, 0.0, 0.0)),))


def _across(
    lines: Sequence[Line], lengths: NDArray[np.float64], drag: float, sea: Sea, speed: float
) -> tuple[list[float], list[float]] | Failure:
    """Line out [m] and the water's pull [N] when each fish has run its way across."""
    fish = Fish(0, 1e7, (0.0, -speed, 0.0), added_mass=0.0)  # so heavy that it keeps its speed whatever pulls at it
    brake = Brake(drag, drag, BARE_SPOOL, 0.0)
    settings = StrikeSettings(
        step=ACROSS_STEP, duration=SIDEWAYS * float(max(lengths)) / speed, store_every=5, grading=ACROSS_MESH
    )
    out, pull = [], []
    for line, length, result in zip(
        lines, lengths, strike([Strike(line, (fish,), brake) for line in lines], 0.0, sea, settings), strict=True
    ):
        if isinstance(result, Failure):
            return result
        when = int(np.argmin(np.abs(-result.places[:, 0, 1] - SIDEWAYS * length)))
        out.append(line.length + float(result.paid_out[when]))
        pull.append(float(result.ends[when, 0, 1] - result.tip[when]))
    return out, pull
