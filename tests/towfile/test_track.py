"""Tracks: points in the file, a CSV file beside it, and no way out of its folder."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from tests.towfile.texts import EXAMPLES, faults_of, only_fault, read, small

from spreadwright.towfile import read_tow_file
from spreadwright.towfile.values import Recorded

ROWS = [(0.0, 5.0, 1.0), (1.0, 12.0, 1.0), (2.0, 19.0, 1.5), (3.0, 26.0, 2.5)]


def points(rows: object = None, columns: str = '["t (s)", "x (m)", "y (m)"]') -> str:
    listed = [list(row) for row in ROWS] if rows is None else rows
    return small(motion=f'[motion]\nkind = "track"\ncolumns = {columns}\npoints = {json.dumps(listed)}\n')


def beside(folder: Path, content: str | bytes, name: str = "track.csv") -> str:
    data = content.encode() if isinstance(content, str) else content
    (folder / name).write_bytes(data)
    return small(motion=f'[motion]\nkind = "track"\nfile = "{name}"\n')


def csv_of(rows: list[tuple[float, float, float]], header: str = "t (s),x (m),y (m)") -> str:
    return "\n".join([header, *(",".join(map(str, row)) for row in rows)]) + "\n"


def test_points_count_from_the_first_one() -> None:
    got = read(points()).motion
    assert got == Recorded((0.0, 1.0, 2.0, 3.0), (0.0, 7.0, 14.0, 21.0), (0.0, 0.0, 0.5, 1.5))


def test_columns_name_their_order_and_their_units() -> None:
    rows = [[0, 0, 0], [0, 7, 1], [1, 14, 2]]
    got = read(points(rows, '["Y [ft]", "x (m)", "T (min)"]')).motion
    assert isinstance(got, Recorded)
    assert (got.times, got.x) == ((0.0, 60.0, 120.0), (0.0, 7.0, 14.0))
    assert got.y == pytest.approx((0.0, 0.0, 0.3048))


def test_a_file_beside_it_reads_the_same(tmp_path: Path) -> None:
    expected = read(points()).motion
    assert read(beside(tmp_path, csv_of(ROWS)), tmp_path).motion == expected
    assert read(beside(tmp_path, "\ufeff" + csv_of(ROWS).replace("\n", "\r\n") + "\r\n"), tmp_path).motion == expected
    (tmp_path / "below").mkdir()
    assert read(beside(tmp_path, csv_of(ROWS), "below/a.csv"), tmp_path).motion == expected


def test_the_example_finds_its_track_from_anywhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    motion = read_tow_file(EXAMPLES / "track.toml").motion
    assert isinstance(motion, Recorded)
    assert motion.times[-1] == 60.0


@pytest.mark.parametrize("name", ["../track.csv", "../../x/track.csv", "below/../../track.csv"])
def test_no_way_out_of_the_folder(tmp_path: Path, name: str) -> None:
    (tmp_path / "track.csv").write_text(csv_of(ROWS))
    inside = tmp_path / "inside"
    inside.mkdir()
    fault = only_fault(small(motion=f'[motion]\nkind = "track"\nfile = "{name}"\n'), inside)
    assert fault.place == "motion.file"
    assert "must lie in the folder of this file" in fault.rule


def test_no_way_out_by_a_full_name_or_a_link(tmp_path: Path) -> None:
    outside = tmp_path / "track.csv"
    outside.write_text(csv_of(ROWS))
    inside = tmp_path / "inside"
    inside.mkdir()
    os.symlink(outside, inside / "link.csv")
    for name in (str(outside), "link.csv"):
        fault = only_fault(small(motion=f'[motion]\nkind = "track"\nfile = "{name}"\n'), inside)
        # a full name that is long is refused for its length already
        assert "must lie in the folder of this file" in fault.rule or "1 to 80 printable" in fault.rule


def test_a_file_needs_a_folder() -> None:
    assert "no folder to look in" in only_fault(small(motion='[motion]\nkind = "track"\nfile = "a.csv"\n')).rule


def test_no_such_file_or_a_folder_or_a_loop(tmp_path: Path) -> None:
    (tmp_path / "folder.csv").mkdir()
    os.symlink("loop.csv", tmp_path / "loop.csv")
    for name in ("none.csv", "folder.csv"):
        text = small(motion=f'[motion]\nkind = "track"\nfile = "{name}"\n')
        assert "no such file beside this one" in only_fault(text, tmp_path).rule
    assert faults_of(small(motion='[motion]\nkind = "track"\nfile = "loop.csv"\n'), tmp_path)


@pytest.mark.parametrize(
    ("content", "rule"),
    [
        ("", "the first row names the columns"),
        (b"\xff\xfe", "a track file is text in UTF-8"),
        (b"#" * 3_000_000, "a track file has at most that"),
        (csv_of(ROWS, "t,x,y"), "a column has a name, t, x or y, and its unit in brackets"),
        (csv_of(ROWS, "t (s),x (m),x (m)"), "the columns are t, x and y, each once"),
        (csv_of(ROWS, "t (kn),x (m),y (m)"), "this must be a time, and 'kn' measures a speed"),
        (csv_of(ROWS, "t (s),x (m)"), "the columns are t, x and y, each once"),
        (csv_of(ROWS[:2]), "a track has 3 to 20000 points"),
        (csv_of(ROWS).replace("12.0", "twelve"), "'x' must be a plain number"),
        (csv_of(ROWS).replace("12.0", "nan"), "'x' must be a plain number"),
        (csv_of(ROWS).replace("12.0", "1e300"), "'x' must be a plain number"),
        (csv_of(ROWS).replace("12.0", ""), "'x' must be a plain number"),
        (csv_of(ROWS) + "4,5\n", "a point has three numbers"),
        ('t (s),x (m),y (m)\n"0,1\n', "the file must be readable as CSV"),
        (csv_of([*ROWS, (3.0, 33.0, 2.5)]), "time must go on from point to point"),
        (csv_of([*ROWS, (2.5, 33.0, 2.5)]), "time must go on from point to point"),
        (csv_of([*ROWS, (4.0, 26.0, 2.55)]), "from point to point the boat must make 0.1 to 50 m/s"),
        (csv_of([*ROWS, (4.0, 126.0, 2.5)]), "from point to point the boat must make 0.1 to 50 m/s"),
        (csv_of([*ROWS, (4.0, 20.0, 1.5)]), "the track may turn by at most 90 deg at a point"),
        (csv_of([(1000.0 * t, 7000.0 * t, 0.0) for t in range(9)]), "a track may last 7200 s"),
    ],
)
def test_each_rule_of_a_track_alone(tmp_path: Path, content: str | bytes, rule: str) -> None:
    fault = only_fault(beside(tmp_path, content), tmp_path)
    assert fault.place.startswith("motion.file")
    assert rule in fault.rule


def test_every_bad_row_is_told_with_its_place() -> None:
    rows = [[0, 0, 0], ["a", 1, 1], [2, 3], [3, True, 1], 7]
    assert [fault.place for fault in faults_of(points(rows))] == [f"motion.points[{at}]" for at in (2, 3, 4, 5)]


def test_a_file_of_nonsense_is_refused_in_short(tmp_path: Path) -> None:
    faults = faults_of(beside(tmp_path, "t (s),x (m),y (m)\n" + "a,b,c\n" * 15_000), tmp_path)
    assert len(faults) == 20


@pytest.mark.parametrize(
    ("keys", "rule"),
    [
        ("", "a track is given by file or by points"),
        ('file = "a.csv"\npoints = [[0, 0, 0]]', "a track is given by file or by points"),
        ("points = [[0, 0, 0]]", "bare numbers have no unit"),
        ('columns = ["t (s)", "x (m)", "y (m)"]\npoints = 3', "points are a list of rows"),
        ('file = "a.csv"\ncolumns = ["t (s)", "x (m)", "y (m)"]', "a CSV file names its own columns"),
    ],
)
def test_file_or_points(keys: str, rule: str) -> None:
    assert rule in only_fault(small(motion=f'[motion]\nkind = "track"\n{keys}\n')).rule


@pytest.mark.parametrize(
    "rows",
    [
        [[0, 0, 0], [10, 2, 0], [11, 30, 0], [12, 58, 0]],  # the curve first runs astern to pick up its speed
        [[0, 0, 0], [1, 7, 0], [2, 14, 0], [3, 62, 0], [4, 69, 0], [5, 76, 0], [6, 83, 0]],
    ],
)
def test_a_curve_that_swings_between_its_points(rows: list[list[float]]) -> None:
    fault = only_fault(points(rows))
    assert "between these it swings or stops" in fault.rule
    assert "m/s at" in fault.given
