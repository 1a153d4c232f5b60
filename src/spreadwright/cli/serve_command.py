"""`spreadwright serve`: the pages, on this machine, and on the boat's own network if that is asked for."""

from __future__ import annotations

import socket
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
        bool, typer.Option("--lan", help="Let devices on this network in, each paired with a code shown here.")
    ] = False,
    certificate: Annotated[
        Path | None, typer.Option(metavar="FILE.pem", help="Encrypt the connection with this certificate.")
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
    from spreadwright.web.serving import run
    from spreadwright.web.settings import LOOPBACK, Settings, own_hosts

    if (certificate is None) != (key is None):
        raise _refused("--certificate and --key belong together: give both, or neither.")
    opened = tuple(files or ([_demo()] if _demo().exists() else []))
    address = _own_address() if lan else LOOPBACK
    settings = Settings(
        hosts=own_hosts(port, address), folder=folder or data_folder() / "pages", trips=opened,
        store=store or None, paired=lan, secure=certificate is not None,
    )  # fmt: skip
    try:
        app = make_app(settings)
    except Faults as faults:
        raise _refused(str(faults)) from None
    except OSError as error:
        raise _refused(f"{settings.folder}: {error.strerror}. Name a folder you may write to with --folder.") from None
    run(app, address, port, certificate, key)


def _refused(said: str) -> typer.Exit:
    typer.echo(said, err=True)
    return typer.Exit(AT_FAULT)


def _demo() -> Path:
    """The demo trip: under the folder one stands in, or where the sources are."""
    return DEMO if DEMO.exists() else Path(__file__).parents[3] / DEMO


def _own_address() -> str:
    """This machine's address on its network: that which a packet to the outside would leave from. None is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("192.0.2.1", 9))  # an address that RFC 5737 keeps for examples
            return str(asking.getsockname()[0])
        except OSError:
            return "127.0.0.1"
