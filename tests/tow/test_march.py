"""The march through a manoeuvre: rest stays rest, workers and order do not matter, what is stored is what happened."""

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from tests.tow import samples
from tests.tow.samples import KNOT, motion, shape

from spreadwright.tow import lanes
from spreadwright.tow.line import Body, Failure, Line, Sea
from spreadwright.tow.march import Motion, Settings, march
from spreadwright.tow.mesh import Grading
from spreadwright.tow.steady import steady_straight, steady_turn
from spreadwright.tow.time_rule import correct
from spreadwright.tow.track import Sway, circle, recorded, s_turn, straight, tip_motion

SPEED = 15 * KNOT
COARSE = Grading(1.5, 6.0, 0.12)


def spread(count: int = 11) -> list[Line]:
    mains = (samples.NYLON, samples.BRAID, samples.WIRE)
    lines = [
        samples.rig(
            mains[i % 3], length=20.0 + 7.0 * i, sinker=samples.weight(0.2 + 0.1 * i), port=i - 5.0, name=str(i)
        )
        for i in range(count)
    ]
    lines[3] = Line("3", (0.0, 0.0, 2.0), (samples.NYLON,), (samples.weight(),))
    return lines


@pytest.mark.parametrize("main", [samples.NYLON, samples.BRAID, samples.WIRE], ids=["nylon", "braid", "wire"])
def test_straight_stays_straight(main):
    line = samples.rig(main, port=2.0)
    at_rest = shape(steady_straight([line], SPEED)[0])
    result = motion(march([line], straight(SPEED, 20.0))[0])
    assert np.abs(result.places - at_rest.places[None]).max() < 1e-4
    assert result.pulls == pytest.approx(
        np.broadcast_to(at_rest.tension[[0, *at_rest.joints]], result.pulls.shape), rel=1e-3
    )


def in_the_boats_frame(result: Motion, headings: np.ndarray) -> np.ndarray:
    """Places turned back by the boat's heading at each stored time (T, N + 1, 3) [m]."""
    cos, sin = np.cos(headings)[:, None], np.sin(headings)[:, None]
    x, y, z = np.moveaxis(result.places.astype(float), -1, 0)
    return np.stack([cos * x + sin * y, -sin * x + cos * y, z], axis=-1)


@pytest.mark.parametrize("radius", [60.0, -100.0])
@pytest.mark.parametrize("law", ["slender", "isotropic"])
def test_a_circle_stays_in_its_steady_turn(radius, law):
    """The direct solution of a turn is a fixed point of the march: less than 1 mm of drift in 20 s."""
    line, track = samples.rig(sinker=samples.weight(0.5, law), port=1.0), circle(SPEED, radius, 20.0)
    turning = shape(steady_turn([line], SPEED, radius)[0])
    result = motion(march([line], track, settings=Settings(step=0.025, store_every=40))[0])
    seen = in_the_boats_frame(result, track.pose(result.times).heading)
    assert len(result.times) == 21
    assert np.abs(seen - turning.places[None]).max() < 1e-3


def test_after_a_turn_the_line_comes_back_to_its_straight_tow():
    line = samples.rig(length=40.0)
    track = s_turn(SPEED, 60.0, (0.8, -0.8), lead_out=40.0)
    result = motion(march([line], track)[0])
    at_rest = shape(steady_straight([line], SPEED)[0])
    heading = track.pose(result.times).heading
    assert np.abs(in_the_boats_frame(result, heading)[-1] - at_rest.places).max() < 0.03
    assert np.abs(in_the_boats_frame(result, heading) - at_rest.places[None]).max() > 1.0


def assert_same(one, other):
    assert one.line == other.line
    for field in ("times", "places", "arclength", "speeds", "pulls", "joints"):
        assert np.array_equal(getattr(one, field), getattr(other, field)), field


def test_workers_and_order_do_not_matter():
    lines = spread()
    track = s_turn(SPEED, 60.0, (0.6, -0.6), 1.0, lead_out=3.0)
    settings = Settings(grading=COARSE, workers=1)
    first = march(lines, track, settings=settings)
    again = march(lines, track, settings=replace(settings, workers=3))
    shuffled = list(range(len(lines)))
    random.Random(5).shuffle(shuffled)
    third = march([lines[i] for i in shuffled], track, settings=settings)
    assert [motion(each).line.name for each in first] == [line.name for line in lines]
    for i, each in enumerate(first):
        assert_same(motion(each), motion(again[i]))
        assert_same(motion(each), motion(third[shuffled.index(i)]))


def test_a_line_does_not_feel_its_neighbours():
    lines = [line for line in spread() if len(line.sections) == 2][:8]
    track = s_turn(SPEED, 60.0, (0.6, -0.6), 1.0, lead_out=3.0)
    settings = Settings(grading=COARSE, tolerance=1e-6)
    among = motion(march(lines, track, settings=settings)[-1])
    alone = motion(march(lines[-1:], track, settings=settings)[0])
    assert among.places.shape == alone.places.shape
    assert np.abs(among.places - alone.places).max() < 1e-4


def test_port_and_starboard_are_mirror_images():
    settings = Settings(grading=COARSE, tolerance=1e-8)
    both = [
        motion(
            march([samples.rig(port=side * 3.0)], s_turn(SPEED, 50.0, (side * 0.9, -side * 0.9)), settings=settings)[0]
        )
        for side in (1.0, -1.0)
    ]
    assert np.abs(both[0].places * np.array([1.0, -1.0, 1.0]) - both[1].places).max() < 1e-4


def test_the_first_heading_does_not_matter():
    """A recorded track that starts off north-east gives the same motion as one along x, turned."""
    t = np.linspace(0.0, 12.0, 241)
    x, y = SPEED * t, 3.0 * (1.0 - np.cos(0.5 * t)) * (t / 12.0) ** 2
    angle = 0.9
    turned = recorded(t, math.cos(angle) * x - math.sin(angle) * y, math.sin(angle) * x + math.cos(angle) * y)
    settings = Settings(grading=COARSE, tolerance=1e-8)
    along, off = (
        motion(march([samples.rig(port=2.0)], each, settings=settings)[0]) for each in (recorded(t, x, y), turned)
    )
    back = in_the_boats_frame(off, np.full(len(off.times), angle))
    assert np.abs(back - along.places).max() < 1e-4


def test_what_is_stored():
    track = s_turn(SPEED, 60.0, (0.5,), 1.0, lead_out=3.0)
    times = np.linspace(0.0, track.duration + 1.0, 2000)
    sway = Sway(times, 0.3 * np.sin(1.2 * times), 0.05 * np.sin(times), 0.02 * np.sin(0.7 * times))
    line = samples.rig(port=3.0)
    result = motion(march([line], track, settings=Settings(step=0.02, store_every=5), sway=sway)[0])
    assert np.diff(result.times) == pytest.approx(np.full(len(result.times) - 1, 0.1))
    assert result.times[0] == 0.0
    assert result.times[-1] >= track.duration - 1e-9
    assert result.arclength[result.joints] == pytest.approx([60.0, 64.0])
    pose = track.pose(result.times)
    boat = np.stack([pose.x, pose.y, np.zeros_like(pose.x)], axis=-1)
    tip = tip_motion(track, result.times, np.array([line.tip]), sway)[0][:, 0]
    assert np.abs(result.places[:, 0] - (tip - boat)).max() < 1e-5
    ends = result.places[:, result.joints].astype(float) + boat[:, None]
    slope = (ends[2:] - ends[:-2]) / 0.2
    assert np.abs(slope - result.speeds[1:-1]).max() < 0.02
    assert (result.pulls > 0.0).all()
    assert result.pulls.shape == (len(result.times), 3)


@pytest.mark.parametrize(
    "main",
    [samples.NYLON, samples.BRAID, samples.WIRE],
    ids=["nylon", "braid", "wire"],
)
def test_stored_pulls_do_not_depend_on_the_tolerance(main):
    line = samples.rig(main)
    track = s_turn(SPEED, 45.0, (0.9, -0.9), 1.0, lead_out=3.0)
    usual, tight = (motion(march([line], track, settings=Settings(tolerance=t))[0]) for t in (1e-3, 1e-9))
    assert np.abs(usual.places - tight.places).max() < 1e-4
    assert np.abs(usual.pulls - tight.pulls).max() < 0.002 * tight.pulls.max()


def test_a_line_without_a_start_is_named_and_the_others_go_on():
    lines = [
        samples.rig(name="good"),
        samples.rig(sinker=Body(math.nan), name="hopeless"),
        samples.rig(name="also good"),
    ]
    found = march(lines, straight(SPEED, 2.0), settings=Settings(grading=COARSE))
    assert found[1] == Failure("hopeless", "no steady shape found to start from")
    assert [motion(found[i]).line.name for i in (0, 2)] == ["good", "also good"]


def test_the_caller_can_stop_it():
    calls = []

    def enough(done: int, of: int) -> bool:
        calls.append((done, of))
        return False

    found = march(spread(), straight(SPEED, 2.0), settings=Settings(grading=COARSE, workers=1), progress=enough)
    assert calls[0] == (1, 11) or calls[0] == (8, 11)
    stopped = [each for each in found if isinstance(each, Failure)]
    assert stopped
    assert {each.reason for each in stopped} == {"stopped before it was computed"}


def test_progress_counts_every_line_once():
    calls = []

    def told(done: int, of: int) -> bool:
        calls.append((done, of))
        return True

    march(spread(), straight(SPEED, 1.0), Sea(), settings=Settings(grading=COARSE), progress=told)
    assert [done for done, _ in calls] == sorted({done for done, _ in calls})
    assert calls[-1] == (11, 11)


def test_a_lane_that_is_no_longer_a_number_is_noticed_wherever_it_is():
    for lane in range(lanes.LANES):
        table = np.zeros(4 * lanes.RECORD)
        rows = table.reshape(4, -1, lanes.LANES)
        rows[1:, lanes.CHANGE // lanes.ROW, :] = 1e-9
        rows[1:, lanes.CHANGE // lanes.ROW, lane] = np.nan
        assert math.isnan(correct(3, table, 0.03, np.ones(lanes.LANES))), lane


def test_a_sway_for_each_line_is_what_each_would_meet_alone() -> None:
    """Three lines in one batch, two of them on boats that heave differently, the third on a still one."""
    times = np.linspace(0.0, 6.0, 200)
    sways = [Sway(times, size * np.sin(times), 0.02 * size * np.cos(times), 0.0 * times) for size in (0.3, 0.6)]
    lines = [samples.rig(port=y, name=str(y)) for y in (-1.0, 0.0, 1.0)]
    track, settings = straight(7.0, 5.0), Settings(step=0.1)
    together = march(lines, track, settings=settings, sway=[*sways, None])
    for line, sway, found in zip(lines, [*sways, None], together, strict=True):
        alone = march([line], track, settings=settings, sway=sway)[0]
        assert isinstance(found, Motion)
        assert isinstance(alone, Motion)
        assert found.places == pytest.approx(alone.places, abs=1e-4)
    assert isinstance(together[0], Motion)
    assert np.ptp(together[0].places[:, 0, 2]) > 0.3
