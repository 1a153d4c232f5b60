"""The log as a CSV table: units at the edge, every fault with row and column, a second reading adds nothing."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import pytest
from tests.logbook.logs import LONG, entry

from spreadwright.faults import Faults
from spreadwright.logbook.csv_log import COLUMNS, csv_entries, csv_text
from spreadwright.logbook.entry import merged

TABLE = """\
time,kind,rod,station,mark,weight,lure,outcome,species,length,mass,latitude,longitude,water_temperature,speed
2031-03-08T06:10:00Z,line out,red 130,port corner,100 ft,64 oz torpedo,black-purple jet 9 in,,,,,,,,
2031-03-08T06:41:07Z,strike,red 130,,,,,landed,wahoo,48 in,35 lb,26.5,-70.25,26 degC,15 kn
2031-03-08T08:00:00Z,line in,red 130,,,,,,,,,,,,
"""


def faults(text, **more):
    with pytest.raises(Faults) as raised:
        csv_entries(text, **more)
    return raised.value.faults


def test_a_table_is_read_in_si():
    out, strike, back = csv_entries(TABLE)
    assert (out.kind, strike.kind, back.kind) == ("line_out", "strike", "line_in")
    assert out.rig is not None
    assert out.rig.mark == pytest.approx(30.48)
    assert strike.mass == pytest.approx(35 * 0.45359237)
    assert strike.length == pytest.approx(1.2192)
    assert strike.water_temperature == pytest.approx(299.15)
    assert strike.speed == pytest.approx(15 * 1852 / 3600)
    assert strike.position == (26.5, -70.25)


def test_reading_twice_adds_nothing_and_equal_rows_are_two_entries():
    first = csv_entries(TABLE)
    assert merged(first, csv_entries(TABLE)) == merged(first)
    doubled = TABLE + TABLE.splitlines()[2] + "\n"
    assert len(merged(csv_entries(doubled))) == 4
    assert len(merged(csv_entries(doubled), first)) == 4


def test_times_without_a_zone_take_the_files():
    text = "time,kind,rod,mark\n2031-07-08 06:41,line out,red,100 ft\n"
    (only,) = faults(text)
    assert (only.place, only.line) == ("row 2.time", 2)
    assert "zone" in only.rule
    (read,) = csv_entries(text, zone=ZoneInfo("America/New_York"))
    assert read.at.isoformat() == "2031-07-08T10:41:00+00:00"


def test_every_fault_of_a_table_at_once():
    text = (
        "time,kind,rod,mark,mass,outcome,latitude\n"
        "2031-03-08T06:10Z,line out,red,100,,,\n"
        "2031-03-08T06:20Z,strike,,,35,,\n"
        "someday,strike,red,,35 lb,eaten,\n"
        "2031-03-08T06:30Z,strike,red,,,,91\n"
        "2031-03-08T06:40Z,sortie,red,,,,\n"
        "2031-03-08T06:40Z,strike,red,,,,,,surplus\n"
        "2031-03-08T06:50Z,line out,red,,,,\n"
    )
    found = {fault.place: fault for fault in faults(text)}
    assert set(found) >= {
        "row 2.mark", "row 3.mass", "row 3", "row 4.time", "row 4.outcome", "row 5", "row 6.kind", "row 7", "row 8",
    }  # fmt: skip
    assert found["row 2.mark"].line == 2
    assert "no unit" in found["row 2.mark"].rule
    assert "landed" in found["row 4.outcome"].rule
    assert "both" in found["row 5"].rule
    assert not any(place.startswith("row 4.at") for place in found)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "names the columns"),
        ("time,kind\n", "no column rod"),
        ("time,kind,rod,colour\n", "'colour'"),
        ("time,kind,rod,rod\n", "rod twice"),
    ],
)
def test_faults_of_the_header(text, told):
    with pytest.raises(Faults, match=told):
        csv_entries(text)


def test_what_is_written_is_read_back_the_same():
    entries = [
        *csv_entries(TABLE), entry("line_out", 3, "blue", rig=LONG), entry("note", 4, "", note="a, b\nand \"c\""),
    ]  # fmt: skip
    text = csv_text(entries)
    assert set(csv_entries(text)) == set(entries)
    assert text.splitlines()[0].split(",") == [column.name for column in COLUMNS]
