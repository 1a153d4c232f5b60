"""`spreadwright serve`: the pages, on this machine, and on the boat's own network if that is asked for."""

from __future__ import annotations

import socket
from contextlib import suppress
from ipaddress import IPv4Address
from pathlib import Path
from typing import Annotated

import typer

from spreadwright.cli.running import AT_FAULT

DEMO = Path("examples/demo/trip.toml")
PORT = 8137


def serve(
    files: Annotated[
        list[Path] | None, typer.Argument(metavar="[TRIP.toml]...", help="Trip files to open; the demo if left out.")
    ] = None,
    port: Annotated[int, typer.Option(min=1, max=65535, help="The port to listen on.")] = PORT,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let devices on this network in, encrypted, each paired with a code.")
    ] = False,
    address: Annotated[
        str, typer.Option(metavar="ADDRESS", help="With --lan: this machine's address there, if it is not found.")
    ] = "",
    unencrypted: Annotated[
        bool, typer.Option("--unencrypted", help="With --lan: anybody on the network may read along. Not advised.")
    ] = False,
    certificate: Annotated[
        Path | None, typer.Option(metavar="FILE.pem", help="A certificate of yours, instead of one made here.")
    ] = None,
    key: Annotated[Path | None, typer.Option(metavar="FILE.pem", help="The certificate's private key.")] = None,
    folder: Annotated[
        Path | None, typer.Option(metavar="FOLDER", help="Where uploads, plans and spreads are kept.")
    ] = None,
    store: Annotated[
        str, typer.Option(metavar="WHERE", help="Tackle room and logbook: an SQLite file or a PostgreSQL address.")
    ] = "",
) -> None:
    """Open the pages: trips, the spread to play and change, plan, rigs and lists, in a browser on this machine."""
    from spreadwright.faults import Faults
    from spreadwright.store.place import data_folder
    from spreadwright.web.app import make_app
    from spreadwright.web.certificate import given_certificate, own_certificate
    from spreadwright.web.serving import Door, run
    from spreadwright.web.settings import LOOPBACK, Settings, own_hosts

    _asked_together(lan, unencrypted, bool(address), certificate, key)
    opened = tuple(files or ([_demo()] if _demo().exists() else []))
    there = _address_named(address) if address else _own_address() if lan else ""
    place = folder or data_folder() / "pages"
    try:
        given = given_certificate(certificate, key) if certificate and key else None
        names = given.names if given else ()
        settings = Settings(
            hosts=own_hosts(port, *([there] if there else []), *names), folder=place, trips=opened,
            store=store or None, paired=lan,
        )  # fmt: skip
        _folder_of(store)
        app = make_app(settings)
        made = given if given or unencrypted or not lan else own_certificate(place, there)
    except Faults as faults:
        raise _refused(str(faults)) from None
    except OSError as error:
        raise _refused(f"{place}: {error.strerror}. Name a folder you may write to with --folder.") from None
    run(app, Door(LOOPBACK, port, given), Door(there, port, made) if lan else None, given is not None)


def _folder_of(store: str) -> None:
    """A store's folder that is not there is told at the start, and not on the first page that needs it."""
    from spreadwright.store.open import look_for
    from spreadwright.store.place import place_of

    place = place_of(store or None)
    if place.file is not None and not place.usual and not place.file.parent.is_dir():
        look_for(place)


def _asked_together(lan: bool, unencrypted: bool, address: bool, certificate: Path | None, key: Path | None) -> None:
    """Turn away what does not go together."""
    if (certificate is None) != (key is None):
        raise _refused("--certificate and --key belong together: give both, or neither.")
    if unencrypted and not lan:
        raise _refused("--unencrypted is about other devices: give --lan with it, or leave it out.")
    if unencrypted and certificate is not None:
        raise _refused("--unencrypted and --certificate are opposites: give one of them.")
    if address and not lan:
        raise _refused("--address is about other devices: give --lan with it, or leave it out.")


def _refused(said: str) -> typer.Exit:
    typer.echo(said, err=True)
    return typer.Exit(AT_FAULT)


def _demo() -> Path:
    """The demo trip: under the folder one stands in, or where the sources are."""
    return DEMO if DEMO.exists() else Path(__file__).parents[3] / DEMO


def _address_named(address: str) -> str:
    try:
        return str(IPv4Address(address))
    except ValueError:
        raise _refused(f"--address {address}: an address in numbers, such as 192.168.1.7, as this machine's "
                       "network settings show it.") from None  # fmt: skip


def _own_address() -> str:
    """This machine's address on its network: that which a packet to the outside would leave from. None is sent.

    A boat's network may lead nowhere: then addresses of the ranges kept for such networks (RFC 1918) are tried.
    """
    for there in ("192.0.2.1", "192.168.255.254", "10.255.255.254", "172.31.255.254"):  # the first: RFC 5737
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking, suppress(OSError):
            asking.connect((there, 9))
            return str(asking.getsockname()[0])
    raise _refused("--lan: no network was found. Join the boat's network first, or name this machine's address there "
                   "with --address.")  # fmt: skip
