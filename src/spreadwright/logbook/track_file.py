"""Reads a recorded track of either kind: which one is told by what the file holds, not by its name."""

from __future__ import annotations

from pathlib import Path

from spreadwright.faults import Fault, Faults
from spreadwright.logbook.fixes import Fixes
from spreadwright.logbook.gpx import read_gpx
from spreadwright.logbook.nmea import read_nmea


def read_track(path: Path) -> Fixes:
    """The track in a GPX 1.1 file or a log of NMEA 0183 sentences. Raises Faults for anything else."""
    try:
        with open(path, "rb") as file:
            head = file.read(4096)
    except OSError as error:
        raise Faults([Fault(str(path), f"could not be read ({error.strerror})", "the file must be readable",
                            "check its name and folder")], str(path)) from None  # fmt: skip
    if head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        return read_gpx(path)
    return read_nmea(path)
