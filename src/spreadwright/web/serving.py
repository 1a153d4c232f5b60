"""Runs the server: listens, says where, shows the code to pair a phone with, and leaves quietly on Ctrl-C.

The laptop's own door is on the loopback. That for other devices is on the network's address and encrypted, unless the
captain asked for it otherwise by name; both lead into the same pages.
"""

from __future__ import annotations

import io
import socket
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass

import segno
import uvicorn
from fastapi import FastAPI

from spreadwright.web.certificate import Certificate
from spreadwright.web.shared import Parts, start_plan
from spreadwright.web.warm_up import warm_up

LOOK_EVERY = 0.5  # [s] at whether the pairing code was used
WARNED = """\
The connection is encrypted with a certificate that was made on this machine. Nobody vouches for such a one, so each
device warns once that the connection is not private or not trusted. That is expected here: choose to see the details
and go on to this address. To be sure that it is this machine that answers, compare the certificate's SHA-256
fingerprint on the device with this one:
{first}
{second}
If they differ, do not go on."""
IN_THE_CLEAR = """\
CAUTION: the connection is not encrypted, as you asked. Anybody on this network can read along, take over a device's
session, and change what is shown. Only use it on a network where you know every device, never in a marina or a bar."""


@dataclass(frozen=True)
class Door:
    """Where the server listens: an address, and what the connection is encrypted with, if it is."""

    address: str
    port: int
    certificate: Certificate | None = None

    @property
    def base(self) -> str:
        """How its addresses begin."""
        return f"{'https' if self.certificate else 'http'}://{self.address}:{self.port}"


def run(app: FastAPI, own: Door, others: Door | None = None, given: bool = False) -> None:
    """Serve until Ctrl-C: at this machine's own door, and at that for other devices if there is one.

    given: the certificate is one that the captain brought along, of which nothing needs to be explained.
    """
    parts: Parts = app.state.parts
    doors = [own] if others is None else [own, others]
    listening = [_listening(door) for door in doors]
    warm_up(parts)
    _say(f"The pages are at {own.base}/  (Ctrl-C ends it)")
    if others is not None:
        if not given:
            _say(about_the_door(others))
        threading.Thread(target=_show_codes, args=(parts, others.base), daemon=True).start()
    for kept in parts.kept.all():
        if kept.opened is not None and kept.plan is None:
            start_plan(parts, kept)
    _serve(app, doors, listening)


def _listening(door: Door) -> socket.socket:
    try:
        return socket.create_server((door.address, door.port))
    except OSError as error:
        sys.stderr.write(
            f"{door.address}, port {door.port}: {error.strerror}. Another program may be using it: choose one with "
            "--port.\n"
        )
        raise SystemExit(2) from None


def _serve(app: FastAPI, doors: Sequence[Door], listening: Sequence[socket.socket]) -> None:
    """The first door in this thread, which hears Ctrl-C; the others beside it, for as long."""
    first, *more = [_server(app, door, begins=i == 0) for i, door in enumerate(doors)]
    beside = [
        threading.Thread(target=server.run, kwargs={"sockets": [place]}, daemon=True)
        for server, place in zip(more, listening[1:], strict=True)
    ]
    for thread in beside:
        thread.start()
    try:
        first.run(sockets=[listening[0]])
    finally:
        for server in more:
            server.should_exit = True
        for thread in beside:
            thread.join(3)


def _server(app: FastAPI, door: Door, begins: bool) -> uvicorn.Server:
    held = door.certificate
    return uvicorn.Server(uvicorn.Config(
        app, log_level="warning", server_header=False, date_header=False, limit_concurrency=200,
        timeout_graceful_shutdown=2, proxy_headers=False, lifespan="on" if begins else "off",
        ssl_certfile=str(held.file) if held else None, ssl_keyfile=str(held.key) if held else None,
    ))  # fmt: skip


def _show_codes(parts: Parts, base: str) -> None:
    """Show the pairing code, and each new one once the last was used."""
    shown, waiting = "", threading.Event()
    while not waiting.wait(0 if not shown else LOOK_EVERY):
        code = parts.pairing.code
        if code != shown:
            shown = code
            _say(code_in_words(base, code))


def _say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def about_the_door(door: Door) -> str:
    """What other devices will warn of and how to check it, or the caution where nothing is encrypted."""
    if door.certificate is None:
        return IN_THE_CLEAR
    pairs = door.certificate.fingerprint.split(":")
    return WARNED.format(first=":".join(pairs[:16]), second=":".join(pairs[16:]))


def code_in_words(base: str, code: str) -> str:
    """The code to pair one device with, as a picture to scan and as text to type."""
    address = f"{base}/pair?code={code}"
    picture = io.StringIO()
    segno.make(address, micro=False).terminal(picture, compact=True)
    return f"{picture.getvalue()}\nTo pair one device, scan this or open {base}/ and type {code}."
