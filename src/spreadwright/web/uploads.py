"""Files that a browser sends: read up to a limit, as bytes, as text, or laid down for a moment under a name of ours.

The name that a browser gives a file is never used: not for a place on the disk, and not to tell what the file is.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from fastapi import UploadFile

from spreadwright.faults import Fault, Faults

LARGEST_TEXT = 2 * 1024 * 1024  # bytes


def sent_bytes(file: UploadFile | None, most: int) -> bytes:
    """What was sent, and one byte more than `most` where it is larger. Raises Faults where nothing was."""
    data = file.file.read(most + 1) if file is not None else b""
    if not data:
        raise Faults([Fault("the file", "nothing", "a file was to be sent", "choose one, and send it again")])
    return data


def sent_text(file: UploadFile | None, called: str, typed: str = "") -> str:
    """The text of a file, or what was typed where none was sent. Raises Faults for what is no text in UTF-8."""
    if (file is None or not file.size) and typed.strip():
        return typed.replace("\r\n", "\n")
    data = sent_bytes(file, LARGEST_TEXT)
    if len(data) > LARGEST_TEXT:
        given, rule = f"more than {LARGEST_TEXT // 1024**2} MB", "this is a few pages of text"
        raise Faults([Fault(called, given, rule, "check that this is the file you mean")])
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        given = f"the byte {data[error.start]:#04x}"
        step = "save it again as UTF-8 text"
        raise Faults([Fault(called, given, "it is to be text in UTF-8", step, line=line)]) from None


@contextmanager
def as_file(file: UploadFile | None, called: str) -> Iterator[Path]:
    """What was sent as a file that is gone afterwards, under the name `called`; faults inside name it so as well."""
    if file is None or not file.size:
        raise Faults([Fault(called, "nothing", "a file was to be sent", "choose one, and send it again")])
    with tempfile.TemporaryDirectory(prefix="spreadwright-") as folder:
        path = Path(folder) / called
        with path.open("wb") as kept:
            shutil.copyfileobj(file.file, kept)
        try:
            yield path
        except Faults as faults:
            whole = str(path)
            raise Faults([replace(each, place=each.place.replace(whole, called)) for each in faults], called) from None
