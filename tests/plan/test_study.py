"""A study: the order of its cases, numbers that are the tow's own, the same bits on threads and a cluster, faults."""

from __future__ import annotations

import csv
import importlib
import io
import math
from dataclasses import replace

import numpy as np
import pytest
from tests.plan.study_cases import CHOP, HULL, KNOT, cases, spread, text, trip

from spreadwright.faults import Faults
from spreadwright.plan.rig_choice import FIXED
from spreadwright.plan.study import CALM, Asked, Outcome, Study
from spreadwright.plan.study_asked import asked_from_words
from spreadwright.plan.study_case import SETTINGS, compute_case
from spreadwright.plan.study_make import make_study
from spreadwright.plan.study_run import StudyStopped, run_here, run_on_cluster
from spreadwright.plan.study_table import COLUMNS, as_csv, check_table_place, write_table
from spreadwright.plan.study_words import sentences
from spreadwright.spread.motions import passages, track_of
from spreadwright.tackle import trip_from_text
from spreadwright.tow.clearance.gaps import gear_gap
from spreadwright.tow.line import Failure, Sea

ASKED = Asked((12 * KNOT, 15 * KNOT), (40.0,), (CALM, CHOP))


@pytest.fixture(scope="module")
def outcomes() -> tuple[Outcome, ...]:
    return run_here(cases(ASKED, HULL), 2)


@pytest.fixture(scope="module")
def study(outcomes: tuple[Outcome, ...]) -> Study:
    return make_study([trip()], [], replace(ASKED, hulls=(HULL,)), lambda _cases, _tell: outcomes)


def test_cases_come_by_sea_then_radius_then_speed():
    made = cases(Asked((1.0, 2.0), (30.0, 40.0), (CALM, CHOP)))
    assert [(case.sea.height, case.radius, case.speed) for case in made] == [
        (sea, radius, speed) for sea in (0.0, 0.6) for radius in (30.0, 40.0) for speed in (1.0, 2.0)
    ]
    (own,) = cases(Asked())
    assert (own.speed, own.radius, own.sea) == (trip().pattern.speed, trip().pattern.turn_radius, CALM)


def test_a_trip_that_fixes_everything_is_not_planned():
    made = spread()
    assert made.chosen == FIXED
    assert [(each.rod, each.weight, round(each.mark, 1)) for each in made.fished] == [
        ("red", "64 oz", 30.5), ("blue", "16 oz", 61.0)
    ]  # fmt: skip


def test_a_calm_case_is_the_plans_own_passage(outcomes):
    """Gap, depths and pulls of the same rigs through the same turn, by the function that a plan is made with."""
    track = track_of(trip().pattern, 12 * KNOT, 40.0)
    towed = passages([each.towed for each in spread().fished], track, Sea(density=1025.0), SETTINGS)
    first, second = (each for each in towed if not isinstance(each, Failure))
    assert outcomes[0].gap == gear_gap(first.outline, second.outline).distance
    assert (outcomes[0].first, outcomes[0].second) == ("red", "blue")
    for passage, rod, other in ((first, outcomes[0].rods[0], "blue"), (second, outcomes[0].rods[1], "red")):
        assert rod.depth == float(passage.depths[0, 1])
        assert rod.depth_greatest == float(passage.depths[:, 1].max())
        assert rod.pull_greatest == pytest.approx(float(passage.pulls[:, 0].max()), rel=1e-6)
        assert (rod.nearest, rod.gap) == (other, outcomes[0].gap)


def test_faster_is_shallower_and_pulls_harder(outcomes):
    slow, fast = outcomes[0], outcomes[1]
    for one, two in zip(slow.rods, fast.rods, strict=True):
        assert two.depth < one.depth
        assert two.pull > 1.3 * one.pull


def test_waves_and_the_boats_motion_are_felt(outcomes):
    """The straight and calm numbers stay; lures surge more in waves, and more again where the rod tips move too."""
    still = run_here(cases(ASKED)[2:3], 1)[0]
    for calm, water, moved in zip(outcomes[0].rods, still.rods, outcomes[2].rods, strict=True):
        assert calm.depth == water.depth == moved.depth
        surges = [each.lure_speed_greatest - each.lure_speed_least for each in (calm, water, moved)]
        assert surges[1] > 1.05 * surges[0]
        assert surges[2] > 1.03 * surges[1]


def test_another_seed_is_another_sea_and_the_same_seed_the_same(outcomes):
    case = cases(ASKED, HULL)[2]
    assert compute_case(case) == outcomes[2]
    assert compute_case(replace(case, seed=2)).rods != outcomes[2].rods
    assert compute_case(replace(case, waves_from=math.pi)).rods != outcomes[2].rods


def test_any_number_of_threads_gives_the_same_bits(outcomes):
    for workers in (1, 3):
        assert run_here(cases(ASKED, HULL), workers) == outcomes


def test_a_cluster_gives_the_same_bits(outcomes, study):
    """Two worker processes of dask.distributed: the table is the same to the last byte."""
    found = run_on_cluster(cases(ASKED, HULL), 2)
    assert found == outcomes
    assert as_csv(replace(study, outcomes=found)) == as_csv(study)


def test_a_cluster_that_is_there_already_is_used(outcomes):
    distributed = importlib.import_module("distributed")
    with distributed.LocalCluster(n_workers=1, threads_per_worker=2, processes=False, dashboard_address=None) as there:
        assert run_on_cluster(cases(ASKED, HULL), 0, there.scheduler_address) == outcomes


def test_a_scheduler_that_is_not_there_is_a_fault():
    with pytest.raises(Faults, match="a scheduler answers at its address"):
        run_on_cluster(cases(Asked()), 1, "nonsense://nowhere")


@pytest.mark.parametrize("run", [run_here, run_on_cluster])
def test_it_stops_when_asked(run):
    calls = []

    def stop(words: str, done: int, of: int) -> bool:
        calls.append((words, done, of))
        return False

    with pytest.raises(StudyStopped):
        run(cases(ASKED), 1, progress=stop)
    assert len(calls) == 1
    assert calls[0][2] == 4


def test_progress_goes_up_to_all(outcomes):
    told: list[tuple[int, int]] = []

    def tell(_words: str, done: int, of: int) -> bool:
        told.append((done, of))
        return True

    run_here(cases(ASKED)[:2], 2, tell)
    assert told[-1] == (2, 2)
    assert told == sorted(told)


def test_a_line_that_finds_no_shape_keeps_its_row(monkeypatch):
    import spreadwright.plan.study_case as under_test

    monkeypatch.setattr(under_test, "march", lambda lines, *_, **__: [Failure(line.name, "lost") for line in lines])
    (found,) = run_here(cases(Asked()), 1)
    assert found.problem == "red, blue: lost"
    made = make_study([trip()], [], Asked(), lambda *_: (found,))
    assert made.sentences == (
        "1 case: 1 boat, 1 speed, 1 radius, 1 sea. 1 could not be computed; the first: red, blue: lost.",
    )
    row = next(csv.DictReader(io.StringIO(as_csv(made))))
    assert (row["problem"], row["rod"], row["smallest gap [m]"]) == ("red, blue: lost", "red", "")


def test_the_table_has_every_digit(study, outcomes, tmp_path):
    path = tmp_path / "study.csv"
    write_table(study, path)
    with open(path, newline="", encoding="utf-8") as file:
        read = list(csv.DictReader(file))
    assert list(read[0]) == [name for name, _ in COLUMNS]
    assert len(read) == 8
    assert float(read[5]["greatest pull [N]"]) == outcomes[2].rods[1].pull_greatest
    assert float(read[2]["speed [m/s]"]) == 15 * KNOT
    assert (read[0]["wave period [s]"], read[0]["boat motion"]) == ("", "no")
    assert (read[7]["wave period [s]"], read[7]["boat motion"]) == ("3.2", "yes")


def test_parquet_holds_the_same_numbers(study, tmp_path):
    from pyarrow import parquet

    path = tmp_path / "study.parquet"
    write_table(study, path)
    table = parquet.read_table(path).to_pylist()
    for row, plain in zip(table, csv.DictReader(io.StringIO(as_csv(study))), strict=True):
        for name, kind in COLUMNS:
            if kind is float:
                assert row[name] == (None if plain[name] == "" else float(plain[name])), name
            elif kind is bool:
                assert row[name] == (plain[name] == "yes")
            else:
                assert str(row[name]) == plain[name]


def test_the_table_needs_a_known_ending_and_a_folder(tmp_path):
    for path, told in ((tmp_path / "t.xlsx", "ends in .csv or .parquet"), (tmp_path / "no" / "t.csv", "folder")):
        with pytest.raises(Faults, match=told):
            check_table_place(path)


def test_without_the_extra_the_fault_says_what_to_install(monkeypatch):
    def missing(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr(importlib, "import_module", missing)
    with pytest.raises(Faults, match=r"install spreadwright\[cluster\]"):
        run_on_cluster(cases(Asked()), 1)


def test_words_say_where_lines_come_nearest(study, outcomes):
    gaps = [out.gap for out in outcomes]
    said = " ".join(study.sentences)
    assert said.startswith("4 cases: 1 boat, 2 speeds, 1 radius, 2 seas.")
    assert study.sentences[1].startswith("Nearest of all: ")
    worst = int(np.argmin(gaps))
    sea = "calm" if worst < 2 else "2.0 ft at 3.2 s"
    assert f"({'12' if worst % 2 == 0 else '15'} kn, 131 ft radius, {sea})" in study.sentences[1]
    assert f"{min(gaps):.1f} m" in " ".join(sentences(study, "metric"))
    assert any("factor of 0.5 to 1.6" in each for each in study.counted)
    without = make_study([trip()], [], ASKED, lambda *_: outcomes)
    assert any("boat motion is NOT counted for Small Boat" in each for each in without.counted)


def test_two_boats_with_one_name_are_told_apart(outcomes):
    other = trip_from_text(text("Another trip"))
    made = make_study([trip(), other, other], [], Asked(), lambda cases, _: outcomes[:1] * len(cases))
    assert [each.boat for each in made.spreads] == [
        "Small Boat, A small trip", "Small Boat, Another trip", "Small Boat, Another trip (2)"
    ]  # fmt: skip
    assert [case.spread.boat for case in made.cases] == [each.boat for each in made.spreads]


def test_every_fault_of_what_is_asked_at_once():
    with pytest.raises(Faults) as found:
        asked_from_words(
            ["12", "90 kn"], ["3 m"], ["2 ft at 0.5 s", "3 m at 3 s", "rough"], "left", 1, ["9 m x 3 m"], 3
        )
    assert [fault.place for fault in found.value] == [
        "--speed", "--speed", "--radius", "--sea", "--sea", "--sea", "--waves-from", "--hull"
    ]  # fmt: skip
    assert "over 4.4 s" in found.value.faults[4].next_step
    with pytest.raises(Faults, match="at most 5000"):
        asked_from_words([f"{kn} kn" for kn in range(2, 30)], [f"{m} m" for m in range(20, 220)], [], "0 deg", 1, [], 1)
    with pytest.raises(Faults, match="one for each of the 3"):
        asked_from_words([], [], [], "0 deg", 1, ["9 m x 3 m x 1 m"] * 2, 3)


def test_seas_and_hulls_in_words():
    asked = asked_from_words(
        ["12 kn", "12 kn"], [], ["calm", "2 ft at 4 s", "1 m", "2 ft 4 sec"], "45 deg", 3, ["30 ft x 10 ft x 2 ft"], 2
    )
    assert list(asked.speeds) == pytest.approx([12 * KNOT])
    assert asked.seas[0] == CALM
    assert (asked.seas[1].height, asked.seas[1].period) == pytest.approx((0.6096, 4.0))
    assert len(asked.seas) == 3
    assert asked.seas[2].period == pytest.approx(4.0, abs=0.01)  # 25 m long: sqrt(2 pi 25 / g)
    assert asked.waves_from == pytest.approx(math.pi / 4)
    assert asked.seed == 3
    assert asked.hulls[0].length == pytest.approx(9.144)
