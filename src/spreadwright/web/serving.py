"""Runs the server: listens, says where, shows the code to pair a phone with, and leaves quietly on Ctrl-C."""

from __future__ import annotations

import io
import socket
import sys
import threading
from pathlib import Path

import segno
import uvicorn
from fastapi import FastAPI

from spreadwright.web.settings import LOOPBACK
from spreadwright.web.shared import Parts, start_plan

EVERYWHERE = "0.0.0.0"
LOOK_EVERY = 0.5  # [s] at whether the pairing code was used


def run(app: FastAPI, address: str, port: int, certificate: Path | None, key: Path | None) -> None:
    """Serve until Ctrl-C. address: this machine's own on its network, or the loopback."""
    parts: Parts = app.state.parts
    host = EVERYWHERE if parts.settings.paired else LOOPBACK
    try:
        listening = socket.create_server((host, port))
    except OSError as error:
        sys.stderr.write(f"port {port}: {error.strerror}. Another may be using it: choose one with --port.\n")
        raise SystemExit(2) from None
    scheme = "https" if certificate else "http"
    _say(f"The pages are at {scheme}://{LOOPBACK}:{port}/  (Ctrl-C ends it)")
    if parts.settings.paired:
        watching = threading.Thread(target=_show_codes, args=(parts, f"{scheme}://{address}:{port}"), daemon=True)
        watching.start()
    for kept in parts.kept.all():
        if kept.opened is not None and kept.plan is None:
            start_plan(parts, kept)
    config = uvicorn.Config(
        app, log_level="warning", server_header=False, date_header=False, limit_concurrency=200,
        timeout_graceful_shutdown=2, proxy_headers=False,
        ssl_certfile=str(certificate) if certificate else None, ssl_keyfile=str(key) if key else None,
    )  # fmt: skip
    uvicorn.Server(config).run(sockets=[listening])


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


def code_in_words(base: str, code: str) -> str:
    """The code to pair one device with, as a picture to scan and as text to type."""
    address = f"{base}/pair?code={code}"
    picture = io.StringIO()
    segno.make(address, micro=False).terminal(picture, compact=True)
    plain = "" if base.startswith("https") else (
        "\nThe connection is not encrypted: use it on the boat's own network, or give a --certificate."
    )  # fmt: skip
    return f"{picture.getvalue()}\nTo pair one device, scan this or open {base}/ and type {code}.{plain}"
