"""One hand-made rig straight ahead: its shape on the fine mesh, and how far what is in doubt moves its numbers."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from spreadwright.plan.edges import Case, Edges, cases
from spreadwright.plan.inputs import SPEED_DOUBT
from spreadwright.plan.tryout_value import Place3
from spreadwright.plan.value import Estimate
from spreadwright.rig.strike import FishedRig
from spreadwright.rig.tow_model import Doubts, TowedRig, towed_rig
from spreadwright.spread.motions import SEARCH, SHOWN
from spreadwright.tow.line import Failure, Sea
from spreadwright.tow.steady import Shape, steady_straight

ALONG = 9  # vertices kept of the line from tip to weight; a leader keeps its ends and its middle


@dataclass(frozen=True)
class Steady:
    """A rig's straight course: thinned line in the boat's frame [m], its joints, and its numbers with their doubts."""

    line: tuple[Place3, ...]
    joints: tuple[int, int, int]
    astern: float
    weight_depth: Estimate
    lure_depth: Estimate
    pull: Estimate
    angle: Estimate


def towed_in(rig: FishedRig, doubts: Doubts) -> TowedRig:
    """The line that a rig tows with its inputs off their usual values."""
    return towed_rig(rig.outfit, rig.station, rig.mark, rig.weight, rig.shock_leader, rig.bite_leader, rig.lure, doubts)


def tow(rig: FishedRig, speed: float, sea: Sea) -> Steady | Failure:
    """The rig straight ahead at `speed` [m/s]; a Failure with its reason where no steady shape was found."""
    towed = rig.towed()
    (shape,) = steady_straight([towed.line], speed, sea, SHOWN.grading)
    if isinstance(shape, Failure):
        return shape
    varied, faster, coarse = _varied(rig, towed, speed, sea)
    if coarse is None or faster is None:
        return Failure("", "no steady shape found on the coarse mesh")
    joint = towed.weight_joint
    own = [case for case in cases() if case.speed != 0.0]
    spreads = Edges((*(case for case, _ in varied), *own))

    def measured(read: Callable[[Shape], float]) -> Estimate:
        usual = read(coarse)
        change = (read(faster) - usual) / SPEED_DOUBT
        found = [*(read(each) for _, each in varied), *(usual + case.speed * change for case in own)]
        return spreads.estimate(read(shape), found, usual)

    nodes, joints = few_of(int(shape.joints[joint]), int(shape.joints[-2]), len(shape.places) - 1)
    line = tuple((float(x), float(y), float(z)) for x, y, z in np.round(shape.places[nodes], 3))
    return Steady(
        line, joints, float(-shape.places[-1, 0]), measured(lambda each: float(-each.joint_places[joint, 2])),
        measured(lambda each: float(-each.joint_places[-1, 2])), measured(lambda each: float(each.tension[0])),
        measured(_angle),
    )  # fmt: skip


def _varied(
    rig: FishedRig, towed: TowedRig, speed: float, sea: Sea
) -> tuple[tuple[tuple[Case, Shape], ...], Shape | None, Shape | None]:
    """The straight course in every case of doubt about the rig, somewhat faster, and the usual one on the same mesh.

    Going slower is taken to do the opposite of going faster: one solution less, as the answer has to come at once.
    """
    every = [case for case in cases() if case.speed == 0.0 and case.radius == 1.0]
    lines = [towed.line, *(towed_in(rig, case.doubts).line for case in every)]
    usual, *shapes = steady_straight(lines, speed, sea, SEARCH.grading)
    (faster,) = steady_straight([towed.line], speed + SPEED_DOUBT, sea, SEARCH.grading)
    kept = tuple((case, shape) for case, shape in zip(every, shapes, strict=True) if isinstance(shape, Shape))
    return kept, None if isinstance(faster, Failure) else faster, None if isinstance(usual, Failure) else usual


def _angle(shape: Shape) -> float:
    a, b = shape.places[0], shape.places[1]
    return math.atan2(float(a[2] - b[2]), math.hypot(float(a[0] - b[0]), float(a[1] - b[1])))


def few_of(weight: int, shock: int, lure: int) -> tuple[list[int], tuple[int, int, int]]:
    """Which of a line's nodes are enough to draw it, and where its weight, end of shock leader and lure, given as
    nodes, come to lie among them."""
    kept = {round(weight * i / (ALONG - 1)) for i in range(ALONG)}
    nodes = sorted(kept | {weight, (weight + shock) // 2, shock, lure})
    return nodes, (nodes.index(weight), nodes.index(shock), nodes.index(lure))
