"""What a scale, an angle gauge or a depth logger should show, for given drag, and how that changes with each unknown.

The model is the steady straight tow. A reading's derivatives come from the same batch as its value: eight lines side
by side, each with one unknown a little off. Speed enters a steady straight tow only as drag times speed squared, so a
line at a slightly other speed is the same line with its drag scaled.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from spreadwright.plan.calibration_prior import SURE, Prior, number_at, place_of
from spreadwright.rig.strike import FishedRig
from spreadwright.rig.tow_model import Doubts, TowedRig, towed_rig
from spreadwright.tow.line import Body, Failure, Line, Sea
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import Shape, steady_straight

Floats = NDArray[np.float64]

WHAT = ("pull", "angle", "weight_depth", "lure_depth")  # [N], [rad], [m], [m]
STEP = 0.5  # of a score, for derivatives: of the size that matters, as Laplace's method wants the middle slope


@dataclass(frozen=True)
class Moment:
    """One rig towed straight at a steady speed, at which one or more things are read.

    rod: its place among the trip's; speed [m/s] as read, speed_error [m/s] nine times in ten less than that;
    values, errors: what was read, by its name in WHAT, in its SI unit [N, rad, m]; place: where in the file.
    """

    rod: int
    rig: FishedRig
    speed: float
    speed_error: float
    values: dict[str, float]
    errors: dict[str, float]
    place: str = ""

    @property
    def read(self) -> list[int]:
        """Places in WHAT of what was read."""
        return [i for i, name in enumerate(WHAT) if name in self.values]


@dataclass(frozen=True)
class Answer:
    """What a moment should show: shown (4) as in WHAT, slopes (4, scores), and by its own speed's score (4)."""

    shown: Floats
    slopes: Floats
    by_speed: Floats


def doubts_at(prior: Prior, scores: Floats, rod: int, lure: str) -> Doubts:
    """The gear of one rod at given scores (see Prior), as the tow model takes it."""
    kind = prior.kind_of(lure)
    across, along, weight, stiffness = (float(each) for each in scores[:4])
    drag = 0.0
    if kind is not None:
        area = prior.kinds[kind].area
        drag = place_of(area, number_at(area, float(scores[4 + kind])))
    return Doubts(
        line_across=place_of(prior.across, number_at(prior.across, across)),
        line_along=place_of(prior.along, number_at(prior.along, along)),
        weight=place_of(prior.weight, number_at(prior.weight, weight)),
        lure=drag,
        stiffness=min(max(stiffness / SURE, -1.5), 1.5),
        mark=float(scores[4 + len(prior.kinds) + rod]) / SURE,
    )


def fished(rig: FishedRig, doubts: Doubts) -> TowedRig:
    """A rig as a towed line."""
    return towed_rig(rig.outfit, rig.station, rig.mark, rig.weight, rig.shock_leader, rig.bite_leader, rig.lure, doubts)


def at_other_speed(line: Line, ratio: float) -> Line:
    """A line that, towed straight at some speed, runs as the given one does at `ratio` [-] times that speed."""
    by = ratio**2
    sections = tuple(
        replace(each, normal_drag=each.normal_drag * by, tangential_drag=each.tangential_drag * by)
        for each in line.sections
    )
    return replace(line, sections=sections, bodies=tuple(_dragged(each, by) for each in line.bodies))


def _dragged(body: Body | None, by: float) -> Body | None:
    if body is None:
        return None
    return replace(
        body, drag_area=body.drag_area * by, axial_area=body.axial_area * by, normal_area=body.normal_area * by
    )


def shown_by(shape: Shape, joint: int) -> Floats:
    """What a shape shows, as in WHAT; `joint` is where its weight hangs."""
    return np.array([shape.tension[0], shape.tip_angle, -shape.joint_places[joint, 2], -shape.joint_places[-1, 2]])


def answers(
    prior: Prior,
    moments: Sequence[Moment],
    scores: Floats,
    speed_scores: Floats,
    sea: Sea,
    grading: Grading,
) -> list[Answer | Failure]:
    """Every moment's answer at given scores; `speed_scores` has one for each moment's own speed."""
    return [
        _answer(prior, moment, scores, float(faster), sea, grading)
        for moment, faster in zip(moments, speed_scores, strict=True)
    ]


def _answer(
    prior: Prior, moment: Moment, scores: Floats, faster: float, sea: Sea, grading: Grading
) -> Answer | Failure:
    kind = prior.kind_of(moment.rig.lure.name)
    moved = [0, 1, 2, 3, 4 + len(prior.kinds) + moment.rod, *([] if kind is None else [4 + kind])]
    every = [scores] + [_moved(scores, i) for i in moved]
    rigs = [fished(moment.rig, doubts_at(prior, each, moment.rod, moment.rig.lure.name)) for each in every]
    ratios = [_ratio(moment, faster)] * len(rigs) + [_ratio(moment, faster + STEP)]
    lines = [at_other_speed(rig.line, ratio) for rig, ratio in zip([*rigs, rigs[0]], ratios, strict=True)]
    shapes = steady_straight(lines, moment.speed, sea, grading)
    failed = next((shape for shape in shapes if isinstance(shape, Failure)), None)
    if failed is not None:
        return failed
    shown = [shown_by(shape, rigs[0].weight_joint) for shape in shapes if isinstance(shape, Shape)]
    slopes = np.zeros((len(WHAT), prior.count))
    for i, place in enumerate(moved):
        slopes[:, place] = (shown[1 + i] - shown[0]) / STEP
    return Answer(shown[0], slopes, (shown[-1] - shown[0]) / STEP)


def _moved(scores: Floats, place: int) -> Floats:
    moved = scores.copy()
    moved[place] += STEP
    return moved


def _ratio(moment: Moment, score: float) -> float:
    """True speed over the speed that was read [-]."""
    return max(1.0 + score * moment.speed_error / SURE / moment.speed, 0.2)
