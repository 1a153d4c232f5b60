"""The server as a process of its own: the laptop's door beside the encrypted one for other devices, and Ctrl-C."""

from __future__ import annotations

import http.client
import os
import re
import signal
import socket
import ssl
import subprocess
import sys
import threading
from hashlib import sha256

import pytest
from tests.plan.trips import BLUE, RED, trip_text
from typer.testing import CliRunner

from spreadwright.cli import app

NETWORK = "127.0.0.2"  # stands for this machine's address on the boat's network
PHONE = "127.0.0.3"


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        return int(taken.getsockname()[1])


@pytest.fixture
def told(tmp_path):
    """What the server says in its first breath, its port, and the process."""
    trip = tmp_path / "trip.toml"
    trip.write_text(trip_text(rods=(RED, BLUE)), encoding="utf-8")
    port = free_port()
    asked = [sys.executable, "-c", "from spreadwright.cli import main; main()", "serve", str(trip), "--lan",
             "--address", NETWORK, "--port", str(port), "--folder", str(tmp_path / "kept")]  # fmt: skip
    surroundings = {**os.environ, "SPREADWRIGHT_STORE": str(tmp_path / "s.sqlite"), "PYTHONIOENCODING": "utf-8"}
    with subprocess.Popen(asked, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=surroundings, encoding="utf-8",
                          ) as process:  # fmt: skip
        assert process.stdout is not None
        giving_up = threading.Timer(60, process.kill)
        giving_up.start()
        said = ""
        for line in process.stdout:
            said += line
            if "To pair one device" in line:
                break
        yield said, port, process
        giving_up.cancel()
        process.kill()


def answered(connection: http.client.HTTPConnection, **headers: str) -> http.client.HTTPResponse:
    connection.request("GET", "/", headers=headers)
    answer = connection.getresponse()
    answer.read()
    return answer


def test_both_doors_are_open_and_only_the_laptops_is_in_the_clear(told):
    said, port, process = told
    assert f"The pages are at http://127.0.0.1:{port}/" in said
    assert f"open https://{NETWORK}:{port}/" in said
    assert answered(http.client.HTTPConnection("127.0.0.1", port, timeout=20)).status == 200
    with pytest.raises((http.client.HTTPException, OSError)):
        answered(http.client.HTTPConnection(NETWORK, port, timeout=20))

    unchecked = ssl.create_default_context()
    unchecked.check_hostname, unchecked.verify_mode = False, ssl.CERT_NONE
    phone = http.client.HTTPSConnection(NETWORK, port, timeout=20, context=unchecked, source_address=(PHONE, 0))
    assert answered(phone).headers["location"] == "/pair"
    assert isinstance(phone.sock, ssl.SSLSocket)
    seen = sha256(phone.sock.getpeercert(binary_form=True) or b"").hexdigest()
    fingerprint = "".join(re.findall(r"^([0-9A-F:]{47})$", said, re.MULTILINE)).replace(":", "").lower()
    assert fingerprint == seen

    (code,) = re.findall(r"and type ([A-Z0-9]{10})", said)
    form = {"content-type": "application/x-www-form-urlencoded"}
    phone.request("POST", "/pair", f"code={code}", form)
    paired = phone.getresponse()
    paired.read()
    cookie = paired.headers["set-cookie"]
    assert cookie.startswith("__Host-spreadwright=")
    assert cookie.endswith("Secure")
    assert answered(phone, cookie=cookie.partition(";")[0]).status == 200

    process.send_signal(signal.SIGINT)
    process.communicate(timeout=30)
    assert process.returncode in {0, 130, -signal.SIGINT}


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--unencrypted"], "--unencrypted is about other devices"),
        (["--address", "192.168.1.7"], "--address is about other devices"),
        (["--lan", "--address", "boat"], "an address in numbers"),
        (["--lan", "--unencrypted", "--certificate", "a.pem", "--key", "b.pem"], "are opposites"),
        (["--key", "b.pem"], "belong together"),
        (["--certificate", "none.pem", "--key", "none.pem"], "a certificate and its own key"),
    ],
)
def test_what_does_not_go_together_is_told(asked, said, tmp_path):
    found = CliRunner().invoke(app, ["serve", *asked, "--folder", str(tmp_path)])
    assert found.exit_code == 2
    assert said in found.output
