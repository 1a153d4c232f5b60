"""The core against MoorDyn on one S-turn: six lines of 30 to 120 m with a weight and a lure each (stored runs).

Case, track and constants: references/s_turn_case.py; runs: references/make_moordyn_s_turn.py. Both codes are refined.

One constant differs by choice: MoorDyn takes drag from the unstretched line, the core from the stretched line at
constant volume, so its drag is larger by the root of the stretch. Here the core's lines are cut into pieces whose
drag coefficients are divided by the root of their stretch in the straight tow (by the independent ODE). What is left,
the change of that root as tension changes in the turn, is bounded by running the core once more with the stretch of
the slackest moment, and that bound is added to MoorDyn's own error where the two are compared.
"""

import json
from functools import cache
from itertools import pairwise
from math import sqrt
from pathlib import Path

import numpy as np
import pytest
from scipy.interpolate import CubicSpline
from tests.outside.references import s_turn_case as case
from tests.outside.references import steady_tow

from spreadwright.tow.line import Body, Failure, Line, Sea, Section
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.track import recorded

STORED = np.load(Path(__file__).parent / "references" / "moordyn_s_turn.npz")
SEA = Sea(density=case.DENSITY, gravity=case.GRAVITY, surface=False)
LEAD_IN = 5.0  # s of straight run before the turn
PIECES = 4  # of the main line, each with its own drag coefficient
NAMES = [f"{mark + case.LEADER:.0f} m" for mark in case.MARKS]


@cache
def stretches(stiffness):
    """Strain of every piece of every line in the straight tow, tip first."""
    rows = []
    for parts in case.lines(1.0, stiffness):
        main, leader = parts
        cut = [main.length / PIECES] * PIECES
        pieces = [
            steady_tow.Piece(
                length, p.diameter, p.density, p.normal_drag, p.tangential_drag, p.stiffness, added_mass=p.added_mass
            )
            for p, length in [(main, c) for c in cut] + [(leader, leader.length)]
        ]
        loads = [None] * (PIECES - 1) + [
            steady_tow.Load(p.body_mass, p.body_volume, p.body_drag_area, p.body_added_mass) for p in parts
        ]
        shape = steady_tow.straight(
            tuple(pieces), tuple(loads), case.SPEED, steady_tow.Water(case.DENSITY, case.GRAVITY)
        )
        ends = np.array([shape.tension, *shape.joint_tensions])
        middle = 0.5 * (ends[:-1] + ends[1:])
        rows.append([t / p.stiffness for t, p in zip(middle, pieces, strict=True)])
    return rows


def core_lines(stiffness, shares):
    """The six lines for the core, drag coefficients divided by the root of the stretch at `shares` of the tension."""
    lines = []
    for parts, tip, strain, share, name in zip(
        case.lines(1.0, stiffness), case.TIPS, stretches(stiffness), shares, NAMES, strict=True
    ):
        main, leader = parts
        sections, bodies = [], []
        for k, e in enumerate(strain):
            p = main if k < PIECES else leader
            scale = 1 / sqrt(1 + share * e)
            sections.append(
                Section(
                    length=p.length / PIECES if k < PIECES else p.length,
                    diameter=p.diameter,
                    density=p.density,
                    stiffness=p.stiffness,
                    normal_drag=p.normal_drag * scale,
                    tangential_drag=p.tangential_drag * scale,
                    added_mass=p.added_mass,
                )
            )
            carries = p if k >= PIECES - 1 else None
            bodies.append(
                Body(
                    carries.body_mass,
                    carries.body_volume,
                    drag_area=carries.body_drag_area,
                    added_mass=carries.body_added_mass,
                )
                if carries
                else None
            )
        lines.append(Line(name, tip, tuple(sections), tuple(bodies)))
    return lines


@cache
def motions(stiffness, step, scale, slack=False):
    """The core's run of the S-turn, stored every half second."""
    times = np.arange(-LEAD_IN, case.UNTIL + 1e-9, 0.05)
    way = np.array([case.origin(t) for t in times])
    shares = [1.0] * len(NAMES)
    if slack:
        tensions = STORED[f"{run_name(stiffness)}_100cm_tensions"]
        shares = list(tensions.min(axis=0) / tensions[0])
    settings = Settings(step=step, store_every=round(0.5 / step), grading=Grading(scale=scale), workers=1)
    got = march(core_lines(stiffness, shares), recorded(times, way[:, 0], way[:, 1]), SEA, None, settings)
    failed = [each for each in got if isinstance(each, Failure)]
    assert not failed, failed
    return [each for each in got if isinstance(each, Motion)]


def finest_runs(stiffness):
    """Names of MoorDyn's stored runs of a stiffness, finest first."""
    runs = [run for run in json.loads(str(STORED["header"]))["runs"] if run["stiffness_N"] == stiffness]
    return [run["name"] for run in sorted(runs, key=lambda run: run["spacing_m"])]


def run_name(stiffness):
    return "stiff" if stiffness == case.STIFF else "soft"


def core_bodies(stiffness, step, scale, slack=False):
    """Places of weight and lure about the boat's origin from the start of the turn on (times, lines, 2, 3) [m]."""
    first = round(LEAD_IN / 0.5)
    runs = motions(stiffness, step, scale, slack)
    return np.stack([m.places[first:, m.joints[-2:], :] for m in runs], axis=1).astype(float)


def moordyn_bodies(name):
    return STORED[f"{name}_bodies"].astype(float)


def apart(a, b):
    """Distances [m] of bodies in two runs (times, lines, 2)."""
    return np.linalg.norm(a - b, axis=-1)


FINE = (0.025, 0.25)  # step [s], scale of the mesh
MIDDLE = (0.05, 0.5)


def test_generator_and_settings_are_stored_with_the_reference():
    header = json.loads(str(STORED["header"]))
    assert header["code"].startswith("MoorDyn 2.")
    assert len(finest_runs(case.STIFF)) >= 2
    assert len(finest_runs(case.SOFT)) >= 2


def test_order_of_convergence_the_core_is_converged_on_the_s_turn():
    """Halving step and mesh moves weight and lure by less than 1.5 mm, and less than MoorDyn's last halving does."""
    core = apart(core_bodies(case.STIFF, *MIDDLE), core_bodies(case.STIFF, *FINE))
    finest, coarser = finest_runs(case.STIFF)[:2]
    assert core.max() < 1.5e-3
    assert core.max() < apart(moordyn_bodies(coarser), moordyn_bodies(finest)).max()


@pytest.mark.parametrize("line", range(6), ids=NAMES)
def test_other_code_moordyn_same_s_turn_within_its_own_error(line):
    """At every half second of 65 s, weight and lure lie within MoorDyn's own error at its finest mesh.

    That error is its last step of refinement (largest over the run); to it comes the bound on the stretch.
    """
    ours = core_bodies(case.STIFF, *FINE)[:, line]
    names = finest_runs(case.STIFF)
    finest = moordyn_bodies(names[0])[:, line]
    own_error = apart(moordyn_bodies(names[1])[:, line], finest).max()
    stretch = apart(ours, core_bodies(case.STIFF, *FINE, slack=True)[:, line]).max()
    miss = apart(ours, finest).max()
    assert stretch < 0.01
    assert miss < own_error + stretch, (miss, own_error, stretch)


def test_other_code_moordyn_closes_in_on_the_core_as_it_is_refined():
    """On the three shorter lines, where the stretch matters least: root mean square distance of weight and lure."""
    ours = core_bodies(case.STIFF, *FINE)
    misses = [sqrt((apart(ours, moordyn_bodies(n))[:, :3] ** 2).mean()) for n in finest_runs(case.STIFF)]
    assert all(fine < 0.7 * coarse for fine, coarse in pairwise(misses)), misses


@pytest.mark.parametrize("line", range(6), ids=NAMES)
def test_other_code_moordyn_tension_at_the_tip_in_the_s_turn(line):
    """Tension of MoorDyn's top segment is taken to the tip along its own refinement (first order in 1/N); 1 %."""
    first = round(LEAD_IN / 0.5)
    ours = motions(case.STIFF, *FINE)[line].pulls[first:, 0]
    finest, coarser = finest_runs(case.STIFF)[:2]
    theirs = 2 * STORED[f"{finest}_tensions"][:, line] - STORED[f"{coarser}_tensions"][:, line]
    assert ours == pytest.approx(theirs, rel=1e-2)
    assert theirs.min() < 0.9 * theirs[0]  # the turn slackens every line: the comparison is not of a straight tow


def test_other_code_moordyn_whole_lines_in_the_s_turn():
    """Every metre of every line, every 2.5 s, against MoorDyn's finest run: within 15 mm."""
    first = round(LEAD_IN / 0.5)
    runs = motions(case.STIFF, *FINE)
    for time, shape in zip(STORED["shape_times"], STORED["shapes"].astype(float), strict=True):
        k, start = first + round(time / 0.5), 0
        way = np.array([*case.origin(time), 0.0])
        for motion, mark in zip(runs, case.MARKS, strict=True):
            marks = np.concatenate([np.arange(mark + 1), mark + np.arange(case.LEADER + 1)])
            theirs = shape[start : start + len(marks)] - way
            start += len(marks)
            weight = motion.joints[-2]
            halves = (slice(0, weight + 1), slice(weight, None))
            wanted = (marks[: round(mark) + 1], marks[round(mark) + 1 :])
            ours = np.concatenate(
                [
                    CubicSpline(motion.arclength[half], motion.places[k, half].astype(float))(s)
                    for half, s in zip(halves, wanted, strict=True)
                ]
            )
            assert np.linalg.norm(ours - theirs, axis=1).max() < 0.015, (motion.line.name, time)
        assert start == len(shape)


def test_other_code_moordyn_soft_lines_part_by_no_more_than_the_stretch_explains():
    """Nylon-soft lines (1.3 kN): MoorDyn's finest against the core, with the wider bound that the stretch sets."""
    ours = core_bodies(case.SOFT, *MIDDLE)
    names = finest_runs(case.SOFT)
    finest = moordyn_bodies(names[0])
    own_error = apart(moordyn_bodies(names[1]), finest).max(axis=(0, 2))
    stretch = apart(ours, core_bodies(case.SOFT, *MIDDLE, slack=True)).max(axis=(0, 2))
    miss = apart(ours, finest).max(axis=(0, 2))
    assert np.all(miss < own_error + stretch), (miss, own_error, stretch)
    assert np.all(miss < 0.1)
