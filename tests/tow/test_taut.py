"""Lines that hardly stretch, over time: the same law as any line, few corrections on any mesh, and no false pulls."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.tow.samples import BRAID, KNOT, NYLON, motion, rig, weight

from spreadwright.tow import march as marching
from spreadwright.tow import steps
from spreadwright.tow.line import Line
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import Track, recorded, s_turn

STEP = 0.05


def unstretching(line: Line) -> Line:
    sections = tuple(replace(section, stiffness=math.inf, stiffening=0.0) for section in line.sections)
    return replace(line, sections=sections)


def turn(speed_loss: float = 0.0) -> Track:
    quarter = 0.5 * math.pi
    return s_turn(15 * KNOT, 45.0, (quarter, -quarter), 1.0, 1.0, 5.0, speed_loss=speed_loss)


def run(line: Line, scale: float = 1.0, track: Track | None = None) -> Motion:
    settings = Settings(step=STEP, store_every=1, grading=Grading(scale=scale), workers=1)
    return motion(march([line], track or turn(), settings=settings)[0])


@pytest.mark.parametrize("scale", [1.0, 0.5, 0.25])
def test_a_step_needs_few_corrections_on_any_mesh(scale, monkeypatch):
    """Steps that do not converge are taken again in small ones, whose corrections are not counted: none may be."""
    compiled, used = steps.run, []
    monkeypatch.setattr(marching, "run", lambda *arguments: used.append(compiled(*arguments)))
    track = turn()
    run(unstretching(rig(NYLON, 60.0, weight(0.9), port=2.0)), scale, track)
    taken = round(track.duration / STEP)
    assert taken <= used[0] < 2.5 * taken


def test_it_does_not_stretch_and_its_pulls_do_not_depend_on_the_mesh():
    coarse, fine = (run(unstretching(rig(NYLON, 60.0, weight(0.9), port=2.0)), scale) for scale in (1.0, 0.25))
    for each in (coarse, fine):
        lengths = np.linalg.norm(np.diff(each.places.astype(float), axis=1), axis=-1)
        assert lengths.sum(axis=1) == pytest.approx(np.full(len(each.times), each.line.length), rel=1e-4)
    assert fine.pulls == pytest.approx(coarse.pulls, rel=0.02, abs=0.5)
    assert np.abs(np.diff(fine.pulls, axis=0)).max() < 3.0  # [N] a step of 0.05 s: no spikes


@pytest.mark.parametrize("loss", [0.0, 0.4], ids=["even speed", "slower in the turns"])
@pytest.mark.parametrize("main", [NYLON, BRAID], ids=["nylon", "braid"])
def test_the_law_is_that_of_any_line(main, loss, monkeypatch):
    """The same line both ways: with its pulls carried along, and as lines that stretch are marched."""
    line = rig(replace(main, stiffening=8.0, damping_time=0.004), 40.0, weight(0.9), port=2.0)
    usual = run(line, track=turn(loss))
    plain = marching.settle_on
    monkeypatch.setattr(
        marching, "settle_on", lambda *given: (replace((got := plain(*given))[0], hardly_stretches=True), got[1])
    )
    carried = run(line, track=turn(loss))
    assert carried.places == pytest.approx(usual.places, abs=2e-4)
    assert carried.pulls == pytest.approx(usual.pulls, rel=2e-3, abs=0.02)
    assert not np.array_equal(carried.pulls, usual.pulls)  # it was another way


def test_lines_that_stretch_are_marched_as_ever(monkeypatch):
    compiled, rooms = steps.run, []

    def seen(*arguments):
        rooms.append(arguments[-1].shape[0])
        return compiled(*arguments)

    monkeypatch.setattr(marching, "run", seen)
    run(rig(NYLON, 30.0))
    run(rig(BRAID, 30.0))
    run(unstretching(rig(NYLON, 30.0)))
    assert rooms[:2] == [0, 0]
    assert rooms[2] > 0


def test_a_boat_that_brakes_leaves_the_line_nearly_slack():
    """From 15 kn to 2 kn in 2 s: the heavy weight runs on, the line hardly pulls, and then does again."""
    t = np.arange(0.0, 20.0, 0.25)
    speed = KNOT * (8.5 - 6.5 * np.tanh(2.0 * (t - 5.0)))
    way = np.concatenate([[0.0], np.cumsum(0.125 * (speed[1:] + speed[:-1]))])
    braking = recorded(t, way, np.zeros_like(t))
    line = rig(replace(NYLON, stiffening=0.0), 40.0, weight(1.8), port=2.0)
    stretching, stiff = run(line, track=braking), run(unstretching(line), track=braking)
    for each in (stretching, stiff):
        assert each.pulls[:, 1].min() < 0.1 * each.pulls[0, 1]
        assert each.pulls[-1, 0] > 2.0
        assert np.linalg.norm(np.diff(each.places[-1].astype(float), axis=0), axis=1).sum() < 44.0 * 1.01
    assert stiff.pulls[:, 0].max() < 3.0 * stretching.pulls[:, 0].max()
    assert stiff.places[:, -1, 2] == pytest.approx(stretching.places[:, -1, 2], abs=0.5)
