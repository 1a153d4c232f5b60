"""The motion of every candidate line through the trip's S-turn, computed once each and kept for the gaps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from spreadwright.rig.tow_model import TowedRig
from spreadwright.tackle.pattern import Pattern
from spreadwright.tow.clearance.outline import Outline, make_outline
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import Sway, Track, s_turn

# For choosing among candidates: on the demo these give gaps within 0.5 % of those of a mesh four times as fine.
SEARCH = Settings(step=0.2, store_every=1, grading=Grading().scaled(2.0))
# For what is shown: twice as fine in time, four times in space.
SHOWN = Settings(step=0.1, store_every=1, grading=Grading().scaled(0.5))

CHUNK = 128  # lines computed before their motions are packed and the rest is let go
LEAD_IN = 3.0  # [s]
LEAD_OUT = 15.0  # [s], so that a wrap left over at the end shows

Progress = Callable[[str, int, int], bool]


def track_of(pattern: Pattern, speed: float | None = None, radius: float | None = None) -> Track:
    """The boat's track for a pattern; speed [m/s] and radius [m] may differ from the pattern's."""
    going = pattern.speed if speed is None else speed
    return s_turn(
        going,
        pattern.turn_radius if radius is None else radius,
        pattern.turns,
        lead_in=LEAD_IN,
        straight_between=pattern.straight_run / going,
        lead_out=LEAD_OUT,
        yaw_time=max(pattern.turn_time, 0.05),
        speed_loss=pattern.speed_loss,
    )


@dataclass(frozen=True)
class Passage:
    """One line through the S-turn, as far as it is needed later.

    outline for gaps; depths (T, 2) of weight and lure [m]; speeds (T) of the lure [m/s]; pulls (T, 1 + joints) at the
    rod tip and just above each joint [N]; astern, depth on the straight (at the start) of weight and lure [m].
    """

    outline: Outline
    depths: NDArray[np.float32]
    speeds: NDArray[np.float32]
    pulls: NDArray[np.float32]

    @property
    def astern(self) -> float:
        """How far the lure runs behind the boat's transom on the straight [m]."""
        return float(-self.outline.vertices[0, -1, 0])


def passage_of(motion: Motion, rig: TowedRig) -> Passage:
    """Keep of a motion what gaps and the plan need."""
    nodes = motion.joints[[rig.weight_joint, -1]]
    return Passage(
        make_outline(motion, rig.weight_joint, rig.front, rig.tail),
        -motion.places[:, nodes, 2],
        np.linalg.norm(motion.speeds[:, -1], axis=1),
        motion.pulls,
    )


def _packed(motion: Motion | Failure, rig: TowedRig) -> Passage | Failure:
    return motion if isinstance(motion, Failure) else passage_of(motion, rig)


def passages(
    rigs: Sequence[TowedRig],
    track: Track,
    sea: Sea,
    settings: Settings = SEARCH,
    progress: Progress | None = None,
    sways: Sequence[Sway | None] | None = None,
) -> list[Passage | Failure]:
    """Every rig through the track, in order; a line that does not converge is a Failure with its reason.

    sways: how the boat moves in waves while it tows each of them.
    """
    results: list[Passage | Failure] = [Failure("", "not computed")] * len(rigs)
    order = sorted(range(len(rigs)), key=lambda i: (len(rigs[i].line.sections), rigs[i].line.length))
    for start in range(0, len(order), CHUNK):
        part = order[start : start + CHUNK]

        def tell(done: int, _all: int, start: int = start) -> bool:
            return progress is None or progress("towing every candidate", start + done, len(rigs))

        theirs = None if sways is None else [sways[i] for i in part]
        motions = march([rigs[i].line for i in part], track, sea, settings=settings, sway=theirs, progress=tell)
        with ThreadPoolExecutor(settings.workers) as pool:
            packed = pool.map(_packed, motions, [rigs[i] for i in part])
        for i, each in zip(part, packed, strict=True):
            results[i] = each
    return results
