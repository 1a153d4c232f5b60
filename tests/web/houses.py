"""A tackle room for tests of its pages, and forms sent as a page of ours sends them."""

from __future__ import annotations

import struct
import zlib

from tests.store.rooms import COIL, HOOK, JET, SHOCK, SLEEVE, put
from tests.web.conftest import token_of

from spreadwright.store.open import open_store
from spreadwright.store.room import read_room


def furnished(where: str) -> dict[str, str]:
    """Two jets, six hooks, 100 m of coil, twenty sleeves and two shock leaders: their ids by kind."""
    with open_store(where) as store:
        put(store, "lure", JET, 2, place="lure roll")
        put(store, "hook", HOOK, 6)
        put(store, "coil", COIL, 100_000)
        put(store, "crimp", SLEEVE, 20)
        put(store, "shock leader", SHOCK, 2)
        return {piece.kind: piece.id for piece in read_room(store).pieces}


def send(client, path, files=None, **form):
    """Send a form as a page of ours does."""
    return client.post(path, data={"token": token_of(client.get("/room").text), **form}, files=files)


def fit(where: str, piece: str) -> int:
    """How many fit ones of a piece the store holds."""
    with open_store(where) as store:
        return read_room(store).state(piece).fit


def png(width: int = 8, height: int = 6) -> bytes:
    """A PNG picture of one colour (ISO/IEC 15948: signature, IHDR, IDAT, IEND)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    rows = b"".join(b"\0" + b"\x80\xa0\xb0" * width for _ in range(height))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
