"""Reading a trip file: the demo is sound, the broken one lists everything, and no text ends in a traceback."""

from __future__ import annotations

import datetime
import errno
import time
from pathlib import Path

import pytest
from tests.tackle.trips import DEMO, faults_of, only_fault, small

from spreadwright.faults import Fault, Faults
from spreadwright.tackle import Trip, check_trip, read_trip, trip_from_text
from spreadwright.tackle.draft import draft_of_file
from spreadwright.tackle.fields import LONGEST_LIST
from spreadwright.tackle.file_faults import Source

FOOT = 0.3048


def read_broken(path: Path, data: bytes) -> Fault:
    """The one fault of a file with that content."""
    path.write_bytes(data)
    with pytest.raises(Faults) as caught:
        read_trip(path)
    assert len(caught.value) == 1
    assert caught.value.source == str(path)
    return caught.value.faults[0]


def test_the_demo_reads_as_it_is_written() -> None:
    trip = read_trip(DEMO / "trip.toml")
    assert trip.title == "Two days on Tallow Bank"
    assert trip.dates == (datetime.date(2031, 3, 8), datetime.date(2031, 3, 9))
    assert trip.boat.station("starboard gunwale").tip == pytest.approx((2 * FOOT, -11 * FOOT, 6 * FOOT))
    assert trip.outfit("green 80").marks == pytest.approx((100 * FOOT, 200 * FOOT, 300 * FOOT))
    assert trip.outfit("long braid").wind_on is not None
    assert trip.shelf.weights[-1].mass == pytest.approx(6 * 0.45359237)
    assert trip.pattern.turns == pytest.approx((1.0471976, -2.0943951, 2.0943951, -1.0471976))
    assert trip.pattern.speed == pytest.approx(7.7166667)
    assert trip.wishes.tangle_reach == pytest.approx(FOOT)
    assert trip.lock("long braid") == trip.fixed[0]
    assert trip.lock("green 80") is None
    assert check_trip(trip) == []


def test_a_trip_survives_json_unchanged() -> None:
    trip = read_trip(DEMO / "trip.toml")
    assert Trip.model_validate_json(trip.model_dump_json()) == trip
    assert Trip.model_validate(trip.model_dump()) == trip


def test_everything_wrong_with_the_broken_file_is_listed_at_once() -> None:
    """The whole list, word for word. Made by reading examples/demo/broken.toml, then checked by eye."""
    expected = (Path(__file__).parent / "broken_faults.txt").read_text(encoding="utf-8")
    with pytest.raises(Faults) as caught:
        trip_from_text((DEMO / "broken.toml").read_text(encoding="utf-8"), "broken.toml")
    assert str(caught.value) + "\n" == expected


def test_every_fault_of_the_broken_file_points_at_its_line() -> None:
    lines = (DEMO / "broken.toml").read_text(encoding="utf-8").splitlines()
    with pytest.raises(Faults) as caught:
        read_trip(DEMO / "broken.toml")
    for fault in caught.value:
        steps = [step.split("[")[0] for step in fault.place.split(".")]
        if fault.line is None:  # only what is not there at all has no line
            assert fault.given == "nothing"
        elif fault.given == "nothing":  # what is missing in a table is told at its header
            assert f"[{'.'.join(steps[:-1])}]" in lines[fault.line - 1], fault
        else:
            assert steps[-1] in lines[fault.line - 1], fault


def test_no_such_file(tmp_path: Path) -> None:
    with pytest.raises(Faults) as caught:
        read_trip(tmp_path / "trip.toml")
    assert caught.value.faults[0].given == "no such file"


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(Faults) as caught:
        read_trip(tmp_path)
    assert caught.value.faults[0].given == "a folder"


@pytest.mark.parametrize(
    ("error", "given"),
    [
        (PermissionError(errno.EACCES, "Permission denied"), "a file you may not read"),
        (OSError(errno.EIO, "Input/output error"), "Input/output error"),
    ],
)
def test_a_file_that_cannot_be_read(error: OSError, given: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise error

    monkeypatch.setattr("builtins.open", refuse)
    with pytest.raises(Faults) as caught:
        read_trip("trip.toml")
    monkeypatch.undo()
    assert caught.value.faults[0].given == given


def test_a_name_that_no_file_can_have() -> None:
    with pytest.raises(Faults) as caught:
        read_trip("trip\0.toml")
    assert "null" in caught.value.faults[0].given


def test_not_utf_8(tmp_path: Path) -> None:
    fault = read_broken(tmp_path / "trip.toml", b'title = "a"\nplace = "\xff"\n')
    assert fault.given == "the byte 0xff"
    assert fault.line == 2


def test_a_mark_of_utf_8_at_the_beginning_does_no_harm() -> None:
    assert faults_of(small()) == ()
    with pytest.raises(Faults, match="shelf"):
        trip_from_text("title = 'a'")


def test_utf_8_with_its_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "trip.toml"
    path.write_bytes(b"\xef\xbb\xbf" + small().encode())
    assert read_trip(path).title == "Small"


def test_a_huge_file(tmp_path: Path) -> None:
    fault = read_broken(tmp_path / "trip.toml", b"#" * 300_000)
    assert fault.given == "more than 256 KiB"


@pytest.mark.parametrize(
    ("text", "line", "place"),
    [
        ('title = "a"\nspeed = 15 kn\n', 2, "column 12"),
        ('title = "a', 1, ""),
        ("[boat\n", 1, ""),
        ("a = 1\na = 2\n", 2, ""),
        ("\x00", 1, "column 1"),
    ],
)
def test_what_is_not_toml_says_where(text: str, line: int, place: str) -> None:
    fault = only_fault(text)
    assert fault.line == line
    assert place in fault.place
    assert fault.rule == "the file must be readable as TOML"
    assert "(at " not in fault.given


def test_brackets_without_end() -> None:
    assert "nested too deeply" in only_fault("a = " + "[" * 50_000).given


def test_a_number_of_thousands_of_digits() -> None:
    assert only_fault("a = " + "9" * 5000).rule == "the file must be readable as TOML"


def test_an_empty_file_lacks_what_every_trip_needs() -> None:
    assert [fault.place for fault in faults_of("")] == ["title", "boat", "outfits", "shelf", "pattern"]
    assert all(fault.given == "nothing" for fault in faults_of(""))


@pytest.mark.parametrize(
    "junk",
    [
        "".join(f"key{number} = 1\n" for number in range(15_000)),
        "".join(f"[[fixed]]\nrod='r{number}'\nlure='l{number}'\n" for number in range(6_000)),
        "".join(f"[[shelf.lures]]\nname='l{number}'\n" for number in range(6_000)),
        f"[[outfits]]\nname='a'\nmarks=[{','.join(['1'] * 20_000)}]\n",
        "[" + ".".join("a" * 20_000) + "]\n",
        '"' + "k" * 200_000 + '" = 1\n',
    ],
    ids=["keys", "locks", "lures", "marks", "depth", "key"],
)
def test_a_large_file_of_nonsense_is_refused_soon_and_in_short(junk: str) -> None:
    start = time.perf_counter()
    faults = faults_of(junk)
    assert 0 < len(faults) <= 201
    assert all(len(str(fault)) < 2000 for fault in faults)
    assert time.perf_counter() - start < 30.0  # about 1 s each on a free core


@pytest.mark.parametrize("day", ["2031-03-08T00:00:00", "20310308", "'8 March'", "07:30:00", "true"])
def test_a_date_is_a_day_and_nothing_else(day: str) -> None:
    fault = only_fault(f"dates = [2031-03-07, {day}]\n" + small())
    assert fault.place == "dates[2]"
    assert fault.rule == "a date is written year-month-day"
    assert faults_of("dates = [2031-03-07, '2031-03-08']\n" + small()) == ()


def test_checks_between_entries_stop_at_the_longest_list() -> None:
    draft, _ = draft_of_file(Source({"fixed": [{}] * 1000}))
    assert len(draft.fixed) == LONGEST_LIST
