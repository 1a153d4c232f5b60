"""The readings file: what it reads, its defaults, every fault at once with its place, and the manual's table."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.plan.trips import BULLET, JET, small_trip

from spreadwright.faults import Fault, Faults
from spreadwright.plan.calibration_file import KEYS, read_readings, readings_from_text
from spreadwright.plan.calibration_model import Moment
from spreadwright.tackle import read_trip

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "calibration.md").read_text(encoding="utf-8")
TRIP = small_trip(
    lures=(JET, BULLET),
    fixed=({"rod": "blue", "mark": "200 ft", "weight": "32 oz", "leader": "30 ft of 300 lb",
            "bite_leader": "3 ft of wire", "lure": "jet", "station": "port corner"},),
)  # fmt: skip

WHOLE = """[[readings]]
rod = "red"
station = "starboard corner"
mark = "100 ft"
weight = "64 oz"
leader = "30 ft of 300 lb"
bite_leader = "3 ft of wire"
lure = "bullet"
speed = "10 kn"
"""


def read(text: str) -> list[Moment]:
    return readings_from_text(text, TRIP)


def faults(text: str) -> list[Fault]:
    with pytest.raises(Faults) as found:
        read(text)
    return list(found.value)


def test_a_whole_reading():
    (moment,) = read(
        WHOLE + 'speed_error = "0.2 kn"\npull = "100 N"\npull_error = "4 N"\nangle = "10 deg"\nlure_depth = "2 m"\n'
    )
    assert (moment.rod, moment.rig.weight.name, moment.rig.lure.name) == (0, "64 oz", "bullet")
    assert moment.rig.mark == pytest.approx(30.48)
    assert moment.speed == pytest.approx(10 * 1852 / 3600)
    assert moment.speed_error == pytest.approx(0.2 * 1852 / 3600)
    assert moment.values == {"pull": 100.0, "angle": pytest.approx(0.17453293), "lure_depth": 2.0}
    assert moment.errors == {"pull": 4.0, "angle": pytest.approx(0.034906585), "lure_depth": 0.3}
    assert moment.place == "readings[1]"


def test_the_pulls_error_is_a_share_and_never_less_than_a_pound():
    small, large = (read(WHOLE + f'pull = "{pull} N"\n')[0] for pull in (20, 400))
    assert small.errors["pull"] == pytest.approx(4.4482216)
    assert large.errors["pull"] == pytest.approx(20.0)
    assert large.speed_error == pytest.approx(0.5 * 1852 / 3600)


def test_what_the_trip_file_fixes_may_be_left_out():
    (moment,) = read('[[readings]]\nrod = "blue"\nspeed = "10 kn"\nweight_depth = "6 ft"\n')
    assert (moment.rig.station.name, moment.rig.weight.name, moment.rig.lure.name) == ("port corner", "32 oz", "jet")
    assert moment.rig.mark == pytest.approx(60.96)
    assert moment.values == {"weight_depth": pytest.approx(1.8288)}


def test_all_faults_at_once_with_their_lines():
    text = (
        'titel = "x"\n[[readings]]\nrod = "rad"\nspeed = "10"\npull = "3 ft"\n'
        '[[readings]]\nrod = "red"\nmark = "150 ft"\nweight = "64oz"\nlure = 3\nspeed = "90 kn"\ndepth_error = "1 ft"\n'
    )
    found = {fault.place: fault for fault in faults(text)}
    assert set(found) == {
        "titel", "readings[1].rod", "readings[1].speed", "readings[1].pull", "readings[2].mark",
        "readings[2].weight", "readings[2].lure", "readings[2].speed", "readings[2].depth_error", "readings[2]",
        "readings[2].station", "readings[2].leader", "readings[2].bite_leader",
    }  # fmt: skip
    assert found["titel"].next_step == "did you mean 'title'? rename or remove it"
    assert found["readings[1].rod"].next_step == "did you mean 'red'?"
    assert found["readings[1].speed"].rule == "a bare number has no unit"
    assert "measures a length" in found["readings[1].pull"].rule
    assert "marks at 100 ft, 200 ft" in found["readings[2].mark"].rule
    assert "did you mean '64 oz'" in found["readings[2].weight"].next_step
    assert "from 2 kn to 30 kn" in found["readings[2].speed"].rule
    assert "one at least is needed of: pull, angle" in found["readings[2]"].rule
    assert (found["readings[2].mark"].line, found["readings[2].mark"].item) == (8, "red")


def test_a_misspelt_key_is_not_also_missing():
    (fault,) = faults(WHOLE.replace("bite_leader", "bite_leadr") + 'pull = "50 N"\n')
    assert fault.place == "readings[1].bite_leadr"


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("", "under a header with double brackets"),
        ("readings = 3", "under a header with double brackets"),
        ("[readings]\nrod = 'red'", "under a header with double brackets"),
        ("[[readings]\n", "readable as TOML"),
        ("x = " + "[" * 5000, "readable as TOML"),
        (WHOLE * 61, "at most 60 readings"),
        (WHOLE + "pull = nan", "not-a-number"),
        (WHOLE + 'pull = "-3 lb"', "from"),
    ],
)
def test_what_is_no_readings_file(text, rule):
    assert rule in faults(text)[0].rule


def test_a_file_that_cannot_be_read(tmp_path):
    for path, given in ((tmp_path / "none.toml", "No such file"), (tmp_path, "directory")):
        with pytest.raises(Faults, match=given):
            read_readings(path, TRIP)
    (tmp_path / "bytes.toml").write_bytes(b"# one\n\xff")
    with pytest.raises(Faults, match="UTF-8") as found:
        read_readings(tmp_path / "bytes.toml", TRIP)
    assert found.value.faults[0].line == 2
    (tmp_path / "large.toml").write_bytes(b"#" * 300_000)
    with pytest.raises(Faults, match="more than 256 KiB"):
        read_readings(tmp_path / "large.toml", TRIP)


def test_the_demos_readings_are_in_order():
    trip = read_trip(ROOT / "examples" / "demo" / "trip.toml")
    found = read_readings(ROOT / "examples" / "demo" / "readings.toml", trip)
    assert [trip.outfits[moment.rod].name for moment in found] == [
        "red 130", "red 130", "white 80", "long braid", "green 80"
    ]  # fmt: skip
    assert sum(len(moment.values) for moment in found) == 9


def test_the_manual_has_every_key_with_its_meaning_example_and_default():
    rows = re.findall(r"^\| `(\w+)` \| (.*) \| `(.*)` \| (.*) \|$", PAGE, re.MULTILINE)
    assert rows == [(key.name, key.words, f'{key.name} = "{key.example}"', key.default) for key in KEYS]
