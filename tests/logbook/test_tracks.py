"""Recorded tracks: what is read is what was written, every loss is counted, and a full day is read whole."""

from __future__ import annotations

import contextlib

import numpy as np
import pynmea2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.logbook.tracks import START, gpx_text, nmea_text, sentence, weaving

from spreadwright.faults import Faults
from spreadwright.logbook import nmea
from spreadwright.logbook.fixes import GAP, clean
from spreadwright.logbook.nmea import checksum, read_nmea
from spreadwright.logbook.track_file import read_track


def read(tmp_path, text, name="track"):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_track(path)


@pytest.mark.parametrize("write", [gpx_text, nmea_text])
def test_what_is_written_is_read(tmp_path, write):
    t, lat, lon = weaving(300)
    track = read(tmp_path, write(t, lat, lon))
    assert len(track) == 301
    assert track.times == pytest.approx(t, abs=1e-6)
    assert track.latitude == pytest.approx(lat, abs=1e-7)
    assert track.longitude == pytest.approx(lon, abs=1e-7)
    report = track.report
    assert (report.bad, report.doubled, report.disordered, report.jumps, report.gaps) == ((), 0, 0, 0, ())


def test_bad_sentences_are_counted_by_reason_and_the_rest_is_read(tmp_path):
    t, lat, lon = weaving(40)
    lines = nmea_text(t, lat, lon).splitlines()
    lines[4] = lines[4].replace("15.0", "16.0")  # RMC of second 2; its GGA still gives the fix
    lines[10] = lines[10].split("*")[0]
    lines[12] = "garbage"
    lines.insert(3, sentence("GPVTG,054.7,T,034.4,M,005.5,N,010.2,K"))
    lines.insert(5, sentence("GPRMC,110002,V,,,,,,,080331,,,N"))
    lines.insert(7, sentence("GPRMC,119902,A,2630.0,N,07015.0,W,1,2,080331,,,A"))
    lines.insert(8, sentence("GPGLL,2630.0,X,07015.0,W,110003,A"))
    track = read(tmp_path, "\n".join(lines))
    counted = {reason: count for reason, count, _ in track.report.bad}
    assert counted == {
        "a wrong checksum": 1, "no checksum": 1, "no sentence": 1, "the receiver had no fix": 1,
        "fields that cannot be read": 2,
    }  # fmt: skip
    assert track.report.passed_over == 1
    assert len(track) == 41
    told = " ".join(track.report.sentences)
    assert "1 left out, a wrong checksum" in told
    assert "16.0" in told


def test_one_flipped_bit_anywhere_is_caught(tmp_path):
    t, lat, lon = weaving(3)
    whole = nmea_text(t, lat, lon).encode()
    for at in range(1, whole.index(b"*"), 3):
        broken = bytearray(whole)
        broken[at] ^= 4
        assert sum(count for _, count, _ in read(tmp_path, bytes(broken)).report.bad) >= 1


def test_midnight_passes_between_dates(tmp_path):
    lines = [
        sentence("GPZDA,235957.00,07,03,2031,00,00"),
        *(
            sentence(f"GNGGA,{clock},2630.000,N,07015.000,W,1,8,1,1,M,1,M,,")
            for clock in ("235958", "235959", "000000")
        ),
        sentence("GNGLL,2630.000,N,07015.000,W,000001.50,A,A"),
    ]
    track = read(tmp_path, "\n".join(lines))
    assert np.diff(track.times) == pytest.approx([1.0, 1.0, 1.5])
    assert track.report.end is not None
    assert track.report.end.isoformat() == "2031-03-08T00:00:01.500000+00:00"


def test_a_time_before_any_date_is_no_fix(tmp_path):
    track = read(tmp_path, sentence("GPGGA,110002,2630.0,N,07015.0,W,1,8,1,1,M,1,M,,"))
    assert len(track) == 0
    assert "before any date" in track.report.bad[0][0]
    assert "no usable fix" in track.report.sentences[0]


def test_gaps_jumps_doubles_and_disorder_are_found(tmp_path):
    t, lat, lon = weaving(200)
    keep = np.r_[0:60, 100:201]
    t, lat, lon = t[keep], lat[keep].copy(), lon[keep].copy()
    lat[30] += 1.0  # over a hundred kilometres in a second
    lon[120:122] -= 0.2
    t, lat, lon = (np.insert(each, 50, each[50]) for each in (t, lat, lon))
    order = np.arange(len(t))
    order[[10, 11]] = order[[11, 10]]
    track = read(tmp_path, gpx_text(t[order], lat[order], lon[order]))
    report = track.report
    assert (report.doubled, report.disordered, report.jumps) == (1, 1, 3)
    (gap,) = report.gaps
    assert gap.seconds == pytest.approx(41.0)
    assert gap.seconds > GAP
    assert len(track) == len(keep) - 3
    assert np.abs(np.diff(track.latitude)).max() < 0.01
    assert any("jumps over 68 kn" in words for words in report.sentences)


def test_a_receiver_that_moves_for_good_is_believed_after_a_while():
    t, lat, lon = weaving(100)
    lat[t >= START + 50] += 0.1
    track = clean(t, lat, lon, "made", "test")
    assert track.report.jumps == 5
    assert track.times[-1] == t[-1]


def test_the_date_line_is_no_jump():
    t = START + np.arange(20.0)
    lon = np.asarray((179.999 + 1e-4 * np.arange(20) + 180.0) % 360.0 - 180.0, dtype=np.float64)
    track = clean(t, np.full(20, -17.0), lon, "made", "test")
    assert track.report.jumps == 0
    assert np.diff(track.longitude) == pytest.approx(1e-4, abs=1e-9)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (('lat="26', 'lat="92'), "outside the standard's bounds"),
        (('lon="-70', 'lon="-190'), "outside"),
        (('lon="', 'long="'), "readable place"),
        (("<time>", "<time>x"), "cannot be read"),
        (("time>", "clock>"), "without its time"),
    ],
)
def test_points_that_cannot_be_used_are_counted(tmp_path, change, reason):
    t, lat, lon = weaving(30)
    head, *points, tail = gpx_text(t, lat, lon).split("<trkpt ")
    points[3] = points[3].replace(*change)
    track = read(tmp_path, "<trkpt ".join([head, *points, tail]))
    ((told, count, _),) = track.report.bad
    assert reason in told
    assert count == 1
    assert len(track) == 30


def test_longitude_180_is_out_as_in_the_schema(tmp_path):
    """GPX 1.1 schema: longitudeType from -180 up to but not 180."""
    text = gpx_text([START, START + 1], [0.0, 0.0], [-180.0, 180.0])
    track = read(tmp_path, text)
    assert len(track) == 1


def test_a_file_that_breaks_off_keeps_what_it_has(tmp_path):
    t, lat, lon = weaving(60)
    text = gpx_text(t, lat, lon)
    track = read(tmp_path, text[: text.index("<trkpt", len(text) // 2) + 20])
    assert 20 < len(track) < 40
    assert "breaks off" in track.report.bad[0][0]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("<kml></kml>", "GPX 1.1"),
        ('<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0"></gpx>', "GPX 1.1"),
        ("<gpx", "no XML"),
        ('<!DOCTYPE gpx [<!ENTITY a "aaaa">]><gpx>&a;</gpx>', "document type"),
        ("hello\nworld\n", "no sentence"),
        ("", "no sentence"),
    ],
)
def test_what_is_no_track_is_told(tmp_path, text, told):
    with pytest.raises(Faults, match=told):
        read(tmp_path, text)
    with pytest.raises(Faults, match="could not be read"):
        read_track(tmp_path / "none.gpx")


@settings(max_examples=100, deadline=None)
@given(st.lists(st.one_of(st.binary(max_size=80), st.sampled_from([
    b"$GPRMC,,,,,,,,,*", b"$*00", b"$GPZDA,,,,*", b"$GPGGA,110000,2630.0,N,07015.0,W,1*", b"<gpx",
])), max_size=8))  # fmt: skip
def test_no_line_makes_the_reader_stumble(tmp_path_factory, lines):
    path = tmp_path_factory.mktemp("track") / "x.log"
    path.write_bytes(b"\n".join([b"$GPVTG,1*", *lines]))
    with contextlib.suppress(Faults):
        read_nmea(path)


# Spelt as in the standard's published examples; 47 is widely printed, the others computed by hand.
@pytest.mark.parametrize(
    ("body", "wanted"),
    [
        ("GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,", "47"),
        ("GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W", "6A"),
        ("GPGLL,4916.45,N,12311.12,W,225444,A", "31"),
        ("GPVTG,054.7,T,034.4,M,005.5,N,010.2,K", "48"),
    ],
)
def test_checksums(body, wanted):
    assert checksum(body) == wanted
    assert pynmea2.NMEASentence.checksum(body) == int(wanted, 16)


def test_places_as_pynmea2_reads_them(tmp_path):
    lines = [
        sentence("GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W"),
        sentence("GPGGA,123520,3345.6789,S,15112.3456,W,1,08,0.9,545.4,M,46.9,M,,"),
        sentence("GPGLL,0000.0001,N,00000.0001,W,123521,A"),
    ]
    path = tmp_path / "x.nmea"
    path.write_text("\n".join(lines), encoding="ascii")
    told = [pynmea2.parse(line, check=True) for line in lines]
    log = read_nmea_raw(path)
    for theirs, (lat, lon) in zip(told, log, strict=True):
        assert (lat, lon) == pytest.approx((theirs.latitude, theirs.longitude), abs=1e-10)
    assert told[0].datetime.timestamp() == 764426119.0  # 1994-03-23 12:35:19 UTC


def read_nmea_raw(path):
    """Places before jumps are looked for (these three are continents apart)."""
    log = nmea._Log()
    for line in path.read_bytes().splitlines():
        log.sentence(line)
    assert log.times[0] == 764426119.0
    return list(zip(log.latitude, log.longitude, strict=True))
