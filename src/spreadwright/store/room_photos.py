"""Photos of pieces in the store: taken in only as pictures of a known type and a sensible size."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, insert, select

from spreadwright.faults import Fault, Faults
from spreadwright.stock.event import now
from spreadwright.stock.piece import new_id
from spreadwright.store.open import Store
from spreadwright.store.room_rows import moment, moment_text
from spreadwright.store.room_tables import photos, pieces

LARGEST = 8_000_000  # bytes
_SMALLEST = 64


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of a piece, without its content; type as browsers name it."""

    id: str
    piece: str
    taken: datetime
    type: str
    note: str


def picture_type(content: bytes) -> str | None:
    """The type of a picture by its first bytes, whatever its file was called; None for anything else.

    JPEG: ITU-T T.81 (start of image FF D8, then a marker); PNG: ISO/IEC 15948 section 5.2; WebP: RFC 9649 section 2.
    """
    if content.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return "image/png"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "image/webp"
    return None


def add_photo(store: Store, piece: str, content: bytes, *, taken: datetime | None = None, note: str = "") -> Photo:
    """Keep a photo of a piece (by id). Raises Faults for what is no JPEG, PNG or WebP picture of up to 8 MB."""
    kind = picture_type(content)
    if kind is None or len(content) < _SMALLEST:
        rule = "a photo is a JPEG, PNG or WebP picture"
        raise Faults([Fault("photo", f"{len(content)} bytes of something else", rule, "take or save it as JPEG")])
    if len(content) > LARGEST:
        given = f"{len(content) / 1e6:.1f} MB"
        raise Faults([Fault("photo", given, f"a photo has at most {LARGEST / 1e6:.0f} MB", "take it smaller")])
    photo = Photo(new_id(), piece, taken or now(), kind, note)
    with store.writing() as connection:
        if connection.execute(select(pieces.c.id).where(pieces.c.id == piece)).first() is None:
            raise Faults(
                [Fault("photo", f"piece {piece}", "a photo belongs to a piece in the room", "look it up again")]
            )
        connection.execute(
            insert(photos).values(
                id=photo.id, piece_id=piece, taken_at=moment_text(photo.taken), type=kind, note=note,
                sha256=hashlib.sha256(content).hexdigest(), content=content,
            )
        )  # fmt: skip
    return photo


def photos_of(store: Store, piece: str) -> tuple[Photo, ...]:
    """The photos of a piece, newest first, without their content."""
    columns = (photos.c.id, photos.c.piece_id, photos.c.taken_at, photos.c.type, photos.c.note)
    with store.reading() as connection:
        rows = connection.execute(select(*columns).where(photos.c.piece_id == piece)).all()
    found = [Photo(row.id, row.piece_id, moment(row.taken_at), row.type, row.note) for row in rows]
    return tuple(sorted(found, key=lambda photo: photo.taken, reverse=True))


def photo_content(store: Store, photo: str) -> tuple[str, bytes]:
    """Type and content of a photo (by id). Raises Faults if there is none, or if it is not what was kept."""
    with store.reading() as connection:
        row = connection.execute(
            select(photos.c.type, photos.c.content, photos.c.sha256).where(photos.c.id == photo)
        ).first()
    if row is None:
        raise Faults([Fault("photo", photo, "there is no photo of that id", "look it up again")])
    if hashlib.sha256(row.content).hexdigest() != row.sha256:
        raise Faults([Fault("photo", photo, "its content is not what was kept", "put back a copy of the store")])
    return str(row.type), bytes(row.content)


def remove_photo(store: Store, photo: str) -> None:
    """Remove a photo (by id) for good. Raises Faults if there is none."""
    with store.writing() as connection:
        if connection.execute(delete(photos).where(photos.c.id == photo)).rowcount == 0:
            raise Faults([Fault("photo", photo, "there is no photo of that id", "look it up again")])
