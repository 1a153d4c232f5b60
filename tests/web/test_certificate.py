"""The certificate made here: what it says, when it is used again, who may read its key, and that TLS takes it."""

from __future__ import annotations

import socket
import ssl
import threading
from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest
from cryptography import x509

from spreadwright.faults import Faults
from spreadwright.web.certificate import LASTS, RENEWED, given_certificate, own_certificate

HERE = "192.168.1.7"
NOW = datetime(2031, 3, 8, 6, 0, tzinfo=UTC)


def test_it_is_for_that_address_and_for_a_server_only(tmp_path):
    made = own_certificate(tmp_path, HERE, NOW)
    known = x509.load_pem_x509_certificate(made.file.read_bytes())
    assert HERE in made.names
    assert known.issuer == known.subject
    assert not known.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    # At most 398 days: common practice since 2020, what several makers' devices accept at all.
    assert known.not_valid_after_utc - known.not_valid_before_utc <= timedelta(days=398)
    assert known.not_valid_before_utc < NOW < known.not_valid_after_utc


def test_only_its_owner_reads_the_key(tmp_path):
    made = own_certificate(tmp_path, HERE, NOW)
    assert made.key.stat().st_mode & 0o077 == 0


def test_it_is_used_again_until_it_ends_or_the_address_changes(tmp_path):
    first = own_certificate(tmp_path, HERE, NOW)
    assert own_certificate(tmp_path, HERE, NOW + LASTS - RENEWED - timedelta(days=1)) == first
    later = own_certificate(tmp_path, HERE, NOW + LASTS - RENEWED + timedelta(days=1))
    assert later.fingerprint != first.fingerprint
    other = own_certificate(tmp_path, "10.0.0.4", NOW + LASTS - RENEWED + timedelta(days=1))
    assert other.fingerprint != later.fingerprint
    assert "10.0.0.4" in other.names


@pytest.mark.parametrize("spoiled", ["certificate.pem", "certificate-key.pem"])
def test_a_spoiled_or_foreign_file_gives_way_to_a_new_one(tmp_path, spoiled):
    first = own_certificate(tmp_path, HERE, NOW)
    other = own_certificate(tmp_path / "other", HERE, NOW)
    (tmp_path / spoiled).write_bytes((other.file.parent / spoiled).read_bytes())
    again = own_certificate(tmp_path, HERE, NOW)
    assert again.fingerprint not in {first.fingerprint, other.fingerprint}
    (tmp_path / spoiled).write_text("nothing", encoding="utf-8")
    assert own_certificate(tmp_path, HERE, NOW).fingerprint != again.fingerprint


def test_files_that_do_not_belong_together_are_told(tmp_path):
    one, other = own_certificate(tmp_path / "a", HERE, NOW), own_certificate(tmp_path / "b", HERE, NOW)
    assert given_certificate(one.file, one.key) == one
    for file, key in ((one.file, other.key), (tmp_path / "none.pem", one.key), (one.key, one.key)):
        with pytest.raises(Faults, match="a certificate and its own key without a password"):
            given_certificate(file, key)


def test_a_device_that_trusts_it_connects_and_sees_the_fingerprint_told(tmp_path):
    made = own_certificate(tmp_path, "127.0.0.1")
    server = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    server.load_cert_chain(made.file, made.key)
    listening = socket.create_server(("127.0.0.1", 0))

    def answer() -> None:
        with server.wrap_socket(listening.accept()[0], server_side=True) as taken:
            taken.sendall(b"ahoy")

    threading.Thread(target=answer, daemon=True).start()
    trusting = ssl.create_default_context(cafile=str(made.file))  # checks name, dates, use and signature
    with (
        socket.create_connection(listening.getsockname(), timeout=10) as plain,
        trusting.wrap_socket(plain, server_hostname="127.0.0.1") as safe,
    ):
        assert safe.recv(4) == b"ahoy"
        seen = sha256(safe.getpeercert(binary_form=True) or b"").hexdigest()
    assert made.fingerprint.replace(":", "").lower() == seen
    listening.close()
