"""Reads a log of NMEA 0183 sentences as a receiver sends them: checksums verified, every bad sentence counted.

Places come from RMC (with date), GGA and GLL (time of day only: they take the date of the RMC or ZDA before them).
Other sound sentences are passed over and counted. A general library reads single sentences well (the tests compare
with one); what a log needs is the date of sentences that carry none, and every loss counted with its reason.
"""

from __future__ import annotations

from collections import Counter
from datetime import UTC, date, datetime
from functools import reduce
from operator import xor
from pathlib import Path

import numpy as np

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.fixes import Fixes, clean

LARGEST_FILE = 512 * 1024 * 1024  # bytes
_HALF_DAY = 43200.0


class _Log:
    """The sentences read so far."""

    def __init__(self) -> None:
        self.times: list[float] = []
        self.latitude: list[float] = []
        self.longitude: list[float] = []
        self.dated: dict[float, int] = {}
        self.bad: Counter[str] = Counter()
        self.example: dict[str, str] = {}
        self.passed_over = 0
        self.midnight: float | None = None  # [s] of the date last told
        self.last_of_day = 0.0

    def refuse(self, reason: str, line: bytes) -> None:
        self.bad[reason] += 1
        self.example.setdefault(reason, line[:60].decode("ascii", "replace"))

    def sentence(self, line: bytes) -> None:
        """Take in one line; what stands before its $ (a logger's own stamp) is left out."""
        start = line.find(b"$")
        if start < 0:
            if line.strip():
                self.refuse("no sentence", line)
            return
        body, star, told = line[start + 1 :].partition(b"*")
        if not star:
            self.refuse("no checksum", line)
            return
        try:
            wanted = int(told[:2], 16)
        except ValueError:
            wanted = -1
        if reduce(xor, body, 0) != wanted:
            self.refuse("a wrong checksum", line)
            return
        fields = body.split(b",")
        kind = fields[0][2:]
        try:
            if kind == b"RMC":
                self.fix(fields[1], fields[3:7], fields[2] == b"A", fields[9], line)
            elif kind == b"GGA":
                self.fix(fields[1], fields[2:6], fields[6] not in (b"", b"0"), b"", line)
            elif kind == b"GLL":
                self.fix(fields[5], fields[1:5], fields[6] == b"A", b"", line)
            elif kind == b"ZDA":
                self.midnight = _midnight(int(fields[4]), int(fields[3]), int(fields[2]))
                self.last_of_day = _of_day(fields[1])
            else:
                self.passed_over += 1
        except (ValueError, IndexError):
            self.refuse("fields that cannot be read", line)

    def fix(self, clock: bytes, place: list[bytes], sound: bool, day: bytes, line: bytes) -> None:
        """Note a place; without a fix it says so itself, and before the first date it cannot be dated."""
        if not sound:
            self.refuse("the receiver had no fix", line)
            return
        of_day = _of_day(clock)
        if day:
            year = int(day[4:6])
            self.midnight = _midnight(year + (1900 if year >= 80 else 2000), int(day[2:4]), int(day[:2]))
        elif self.midnight is None:
            self.refuse("a time of day before any date", line)
            return
        elif of_day < self.last_of_day - _HALF_DAY:  # midnight passed since the date was told
            self.midnight += 86400.0
        self.last_of_day = of_day
        latitude = _degrees(place[0], 2, place[1], b"N", b"S", 90.0)
        longitude = _degrees(place[2], 3, place[3], b"E", b"W", 180.0)
        at = self.midnight + of_day
        known = self.dated.get(at)
        if known is not None:  # RMC and GGA of one moment are one fix
            return
        self.dated[at] = len(self.times)
        self.times.append(at)
        self.latitude.append(latitude)
        self.longitude.append(longitude)


def _midnight(year: int, month: int, day: int) -> float:
    return datetime.combine(date(year, month, day), datetime.min.time(), UTC).timestamp()


def _of_day(clock: bytes) -> float:
    """Seconds since midnight of hhmmss.ss."""
    hours, minutes, seconds = int(clock[:2]), int(clock[2:4]), float(clock[4:])
    if not (hours < 24 and minutes < 60 and 0.0 <= seconds < 61.0):
        raise ValueError(clock)
    return hours * 3600.0 + minutes * 60.0 + seconds


def _degrees(number: bytes, whole: int, side: bytes, plus: bytes, minus: bytes, most: float) -> float:
    """ddmm.mmm with its side as degrees."""
    value = int(number[:whole]) + float(number[whole:]) / 60.0
    if side not in (plus, minus) or not 0.0 <= value <= most:
        raise ValueError(number)
    return value if side == plus else -value


def read_nmea(path: Path) -> Fixes:
    """The track of a log of sentences. Raises Faults where the file cannot be read or holds no sentence at all."""
    source = path.name
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= LARGEST_FILE else b""
    except OSError as error:
        raise Faults([Fault(str(path), f"could not be read ({error.strerror})", "the file must be readable",
                            "check its name and folder")], source) from None  # fmt: skip
    if size > LARGEST_FILE:
        raise Faults([Fault(source, f"{size // 2**20} MiB", f"at most {LARGEST_FILE // 2**20} MiB", "split it by day")])
    log = _Log()
    for line in data.splitlines():
        log.sentence(line)
    if not log.times and not log.passed_over and set(log.bad) <= {"no sentence"}:
        raise Faults([Fault(source, "no sentence", "an NMEA 0183 log holds sentences such as $GPRMC,...*6A",
                            "give the receiver's own log")], source)  # fmt: skip
    bad = tuple((reason, count, log.example[reason]) for reason, count in log.bad.items())
    times, latitude, longitude = (np.array(each) for each in (log.times, log.latitude, log.longitude))
    return clean(times, latitude, longitude, source, "NMEA 0183", bad, log.passed_over)


def checksum(body: str) -> str:
    """The checksum of what stands between $ and *.

    >>> checksum("GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,")
    '47'
    """
    return f"{reduce(xor, body.encode('ascii'), 0):02X}"
