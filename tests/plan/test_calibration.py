"""Calibration: ranges that hold the truth as often as they say, slopes, the joint answer given to the plan, next."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm
from tests.plan.calibration_cases import COARSE, ERRORS, SEA, SPEED_ERROR, draw, observed, prior, rigs, trip, true_shape

from spreadwright.faults import Faults
from spreadwright.plan.calibration import Calibration, stored_calibration
from spreadwright.plan.calibration_make import CalibrationStopped, calibrate
from spreadwright.plan.calibration_model import WHAT, Moment, answers, at_other_speed, fished, shown_by
from spreadwright.plan.calibration_next import depth_slopes, variance_taken, worth
from spreadwright.plan.calibration_prior import SURE, number_at, place_of, prior_of
from spreadwright.plan.calibration_update import Posterior, update
from spreadwright.plan.calibration_words import error_said
from spreadwright.quantity import show
from spreadwright.rig.tow_model import USUAL, Doubts
from spreadwright.tackle.span import Span
from spreadwright.tow.line import Failure
from spreadwright.tow.steady import Shape, steady_straight

RUNS = ((0, 4.0), (1, 7.7))  # rod and speed [m/s]
CASES = 200


@pytest.fixture(scope="module")
def synthetic() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """True scores, found scores and their errors of 200 boats drawn from the stated ranges (200, scores)."""
    random = np.random.default_rng(20310308)
    true, found, error = [], [], []
    for _ in range(CASES):
        scores = draw(random)
        posterior = update(prior(), observed(scores, random, RUNS), SEA, COARSE)
        assert isinstance(posterior, Posterior)
        true.append(scores)
        found.append(posterior.scores)
        error.append(np.sqrt(np.diag(posterior.covariance)))
    return np.array(true), np.array(found), np.array(error)


def test_ranges_of_nine_in_ten_hold_the_truth_nine_times_in_ten(synthetic):
    """Of 200 boats, for each drag coefficient: 85 to 95 %. A range is monotone in its score, so scores will do."""
    true, found, error = synthetic
    inside = np.abs(found - true) < SURE * error
    for at in prior().coefficients:
        assert 0.85 <= inside[:, at].mean() <= 0.95, at


def test_the_readings_narrow_what_they_can_see(synthetic):
    _, _, error = synthetic
    across, along, weight, _, jet, bullet, *_ = error.mean(axis=0)
    assert along < 0.75
    assert jet < 0.9
    assert bullet < 0.98
    assert max(across, weight) < 1.0


def test_ranges_too_narrow_by_half_are_found_out(synthetic):
    """The check of coverage above can fail."""
    true, found, error = synthetic
    inside = np.abs(found - true) < 0.5 * SURE * error
    assert all(inside[:, at].mean() < 0.85 for at in prior().coefficients)


@pytest.mark.parametrize("span", [Span(1.1, 1.2, 1.3), Span(0.01, 0.015, 0.02), Span(0.5, 1.0, 1.5), Span(0.48, 1, 2)])
def test_a_stated_range_is_its_middle_nine_tenths(span):
    assert number_at(span, 0.0) == span.usual
    assert number_at(span, norm.ppf(0.05)) == pytest.approx(span.low, rel=1e-12)
    assert number_at(span, norm.ppf(0.95)) == pytest.approx(span.high, rel=1e-12)
    walk = [number_at(span, score) for score in np.linspace(-4.0, 4.0, 81)]
    assert min(walk) > 0.0
    assert np.all(np.diff(walk) > 0.0)


def test_places_in_a_range_are_those_of_the_plans_doubts():
    span = Span(1.0, 2.0, 4.0)
    assert [place_of(span, number) for number in (1.0, 2.0, 3.0, 4.0, 5.0)] == [-1.0, 0.0, 0.5, 1.0, 1.5]


def moment(**values: float) -> Moment:
    return Moment(0, rigs()[0], 6.0, SPEED_ERROR, values, ERRORS, "readings[1]")


def test_slopes_are_those_of_the_tow_itself():
    """Each unknown moved by hand: the same change of what is shown."""
    scores = np.zeros(prior().count)
    (answer,) = answers(prior(), [moment()], scores, np.zeros(1), SEA, COARSE)
    assert not isinstance(answer, Failure)
    for at in (0, 1, 2, 3, 4, 6):
        moved = scores.copy()
        moved[at] = 0.5
        change = shown_by(*true_shape(moved, 0, 6.0)) - shown_by(*true_shape(scores, 0, 6.0))
        np.testing.assert_allclose(0.5 * answer.slopes[:, at], change, rtol=0.05, atol=2e-3)
    assert not answer.slopes[:, 5].any()  # the other lure
    assert not answer.slopes[:, 7:].any()  # other rods' marks
    faster = shown_by(*true_shape(scores, 0, 6.0 + 0.5 * SPEED_ERROR / SURE)) - shown_by(*true_shape(scores, 0, 6.0))
    np.testing.assert_allclose(0.5 * answer.by_speed, faster, rtol=0.05, atol=2e-3)


def test_more_drag_is_as_more_speed():
    line = fished(rigs()[0], USUAL).line
    (scaled,) = steady_straight([at_other_speed(line, 1.25)], 6.0, SEA, COARSE)
    (faster,) = steady_straight([line], 7.5, SEA, COARSE)
    assert isinstance(scaled, Shape)
    assert isinstance(faster, Shape)
    np.testing.assert_allclose(shown_by(scaled, 0), shown_by(faster, 0), rtol=2e-4)


def found_for(*moments: Moment) -> Posterior:
    posterior = update(prior(), moments, SEA, COARSE)
    assert isinstance(posterior, Posterior)
    return posterior


def test_without_readings_nothing_changes():
    found = found_for()
    assert not found.scores.any()
    np.testing.assert_allclose(found.covariance, prior().covariance(), atol=1e-12)


def test_a_harder_pull_means_more_drag_and_a_surer_scale_more_so():
    usual = shown_by(*true_shape(np.zeros(prior().count), 0, 6.0))[0]
    rough = found_for(moment(pull=1.25 * usual))
    sure = found_for(replace(moment(pull=1.25 * usual), errors={"pull": 2.0}))
    assert rough.scores[1] > 0.05
    assert rough.scores[4] > 0.05
    assert sure.scores[1] > rough.scores[1]
    assert sure.covariance[1, 1] < rough.covariance[1, 1] < 1.0
    assert sure.covariance[1, 4] < 0.0  # the pull says how much in all: more on the line is less on the lure
    assert 0.0 < rough.covariance[4, 5] < 0.5  # the lure that was not read follows by less than half
    assert rough.scores[5] == pytest.approx(0.5 * rough.scores[4], rel=0.1)


def test_readings_that_contradict_each_other_are_told():
    usual = shown_by(*true_shape(np.zeros(prior().count), 0, 6.0))[0]
    at_odds = calibrate(trip(), [moment(pull=0.6 * usual), moment(pull=2.5 * usual)], rigs(), grading=COARSE)
    assert at_odds.chance < 0.01
    assert "DO NOT FIT TOGETHER" in at_odds.sentences[1]
    assert "readings[1]" in at_odds.sentences[1]
    agreed = calibrate(trip(), [moment(pull=usual), moment(pull=1.02 * usual)], rigs(), grading=COARSE)
    assert agreed.chance > 0.3
    assert agreed.sentences[1] == "The readings fit together within their errors."


@pytest.fixture(scope="module")
def made() -> Calibration:
    random = np.random.default_rng(4)
    return calibrate(trip(), observed(draw(random), random, RUNS), rigs(), grading=COARSE)


def test_the_depths_are_surer_after(made):
    assert [each.rod for each in made.depths] == ["red", "blue", "gold"]
    for each in made.depths:
        assert each.after.high - each.after.low < 0.8 * (each.before.high - each.before.low)
    before, after = (np.mean([getattr(each, when).doubt for each in made.depths]) for when in ("before", "after"))
    assert made.doubt_now == pytest.approx(after)
    was, now = (show(float(each), "length", made.units, doubt=float(each)) for each in (before, after))
    assert f"within {was} in the mean, and are to within {now} now" in " ".join(made.sentences)
    assert all(each.doubt == pytest.approx(math.sqrt(1.0 - each.gain) * after, rel=1e-6) for each in made.next)


def test_an_error_is_shown_as_it_was_given_or_in_one_figure():
    said = [
        error_said(*each) for each in ((0.3, "length", "us"), (0.3, "length", "metric"), (0.25, "length", "metric"))
    ]
    assert said == ["1 ft", "0.3 m", "0.25 m"]
    assert error_said(0.7 * 4.4482216152605, "force", "us") == "0.7 lb"
    assert error_said(4.4482216152605, "force", "us") == "1 lb"


def test_what_is_best_known_is_named(made):
    most = max(made.coefficients, key=lambda each: each.known)
    assert most.known > 0.1
    assert any(f"{100 * most.known:.0f} % of its doubt is gone" in said for said in made.sentences)


def test_the_joint_answer_has_the_doubt_that_it_says(made):
    """Random places along the four axes that the plan tries give each coefficient's own range back."""
    random = np.random.default_rng(5)
    for at, name in ((0, "line_across"), (1, "line_along"), (2, "weight"), (3, "lure"), (4, "lure")):
        each = made.coefficients[at]
        lure = each.lures[0] if each.lures else "jet"
        span = Span(each.before.low, each.before.usual, each.before.high)
        tried = random.standard_normal((4000, 4)) / SURE
        places = [getattr(made.narrowed(Doubts(*map(float, row)), lure), name) for row in tried]
        low, usual, high = np.quantile(places, (0.05, 0.5, 0.95))
        wanted = [place_of(span, number) for number in (each.after.low, each.after.usual, each.after.high)]
        assert [low, usual, high] == pytest.approx(wanted, abs=0.06)


def test_what_hangs_together_stays_together(made):
    """Line and lure share a pull: narrowed jointly they give less doubt of it than each on its own would."""
    random = np.random.default_rng(6)
    tried = [Doubts(*map(float, row)) for row in random.standard_normal((3000, 4)) / SURE]
    places = np.array([(n.line_along, n.lure) for n in (made.narrowed(each, "jet") for each in tried)])
    assert np.corrcoef(places.T)[0, 1] < -0.1


def test_a_calibration_without_readings_leaves_the_plans_doubts_as_they_are():
    nothing = calibrate(trip(), [], rigs(), grading=COARSE)
    for name in ("line_across", "line_along", "weight"):
        for end in (-1.0, 0.0, 1.0):
            given = Doubts(**{name: end}, stiffness=0.3, mark=-0.7)
            narrowed = nothing.narrowed(given, "jet")
            assert getattr(narrowed, name) == pytest.approx(end, abs=1e-9)
            assert (narrowed.stiffness, narrowed.mark) == (0.3, -0.7)
            assert narrowed.lure == pytest.approx(0.0, abs=1e-12)
    assert nothing.narrowed(Doubts(lure=-1.0), "jet").lure == pytest.approx(-1.0, abs=1e-9)
    assert nothing.narrowed(Doubts(lure=0.4), "unheard of").lure == 0.4


def test_it_is_written_and_read_back_and_refused_for_other_gear(made, tmp_path):
    path = tmp_path / "calibration.json"
    path.write_text(made.to_json(), encoding="utf-8")
    assert stored_calibration(path, trip()) == made
    shelf = trip().shelf
    bigger = shelf.lures[0].model_copy(update={"head_diameter": 0.05})
    other = trip().model_copy(update={"shelf": shelf.model_copy(update={"lures": (bigger, shelf.lures[1])})})
    with pytest.raises(Faults) as refused:
        stored_calibration(path, other)
    assert "cm2 then" in str(refused.value)
    path.write_text("{}", encoding="utf-8")
    with pytest.raises(Faults, match="is a file that"):
        stored_calibration(path, trip())
    with pytest.raises(Faults, match="could not be read"):
        stored_calibration(tmp_path / "nowhere.json", trip())


def test_the_next_reading_takes_away_what_was_foretold():
    """The best one is taken, at what should show: the depths' variance falls by the gain that was promised."""
    random = np.random.default_rng(7)
    first = observed(draw(random), random, RUNS[:1], ("pull",))
    posterior = found_for(*first)
    feasible, now = worth(prior(), posterior, rigs(), 7.7, SEA, COARSE)
    best = feasible[0]
    assert [each.gain for each in feasible] == sorted((each.gain for each in feasible), reverse=True)
    assert len(feasible) == sum(len(rig.outfit.marks) for rig in rigs()) * 2 * len(WHAT)
    (shows,) = answers(prior(), [best.moment], posterior.scores, np.zeros(1), SEA, COARSE)
    assert not isinstance(shows, Failure)
    value = {best.what: float(shows.shown[WHAT.index(best.what)])}
    after = found_for(*first, replace(best.moment, values=value, errors={best.what: best.error}))
    targets = [Moment(rod, rig, 7.7, SPEED_ERROR, {}, {}) for rod, rig in enumerate(rigs())]
    seen = answers(prior(), targets, posterior.scores, np.zeros(3), SEA, COARSE)
    slopes = depth_slopes(prior(), [each for each in seen if not isinstance(each, Failure)])
    left = float(np.sum(slopes @ after.covariance * slopes))
    assert best.gain > 0.1
    assert 1.0 - left / now == pytest.approx(best.gain, abs=0.02)


def test_a_reading_of_nothing_wanted_takes_nothing():
    assert variance_taken(np.eye(2), np.array([1.0, 0.0]), 0.1, np.array([[0.0, 1.0]])) == 0.0


def test_a_measured_lure_that_is_sure_has_nothing_to_learn():
    shelf = trip().shelf
    sure = shelf.lures[0].model_copy(update={"drag_area": 1e-3, "drag_area_doubt": 0.0})
    known = trip().model_copy(update={"shelf": shelf.model_copy(update={"lures": (sure, shelf.lures[1])})})
    assert [kind.names for kind in prior_of(known).kinds] == [("bullet",)]
    assert prior_of(known).kind_of("jet") is None
    rig = replace(rigs()[0], lure=sure)
    result = calibrate(known, [replace(moment(pull=90.0), rig=rig)], [rig], grading=COARSE)
    assert [each.what for each in result.coefficients] == ["line across", "line along", "weight", "lure"]


def test_it_stops_when_asked():
    with pytest.raises(CalibrationStopped):
        calibrate(trip(), [moment(pull=90.0)], rigs(), lambda *_: False, COARSE)
