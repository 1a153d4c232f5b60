"""A certificate made on this machine, so that nobody on the boat's network reads along. X.509 by RFC 5280.

Nobody vouches for it: a browser warns once, and a person compares its fingerprint with the one in the terminal. It is
kept beside the pages' files and used again, so that a device that was told to trust it need not be told anew.
"""

from __future__ import annotations

import os
import ssl
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from spreadwright.faults import Fault, Faults

LASTS = timedelta(days=397)  # some phones refuse certificates that hold much longer, even if told to trust them
RENEWED = timedelta(days=14)  # before it ends


@dataclass(frozen=True)
class Certificate:
    """Where a certificate and its key lie, its SHA-256 fingerprint, and the names it is for."""

    file: Path
    key: Path
    fingerprint: str
    names: tuple[str, ...]


def own_certificate(folder: Path, address: str, now: datetime | None = None) -> Certificate:
    """The certificate kept in `folder` for that address, or a new one in its place. Raises OSError."""
    file, key = folder / "certificate.pem", folder / "certificate-key.pem"
    now = now or datetime.now(UTC)
    try:
        kept = given_certificate(file, key)
        known = x509.load_pem_x509_certificate(file.read_bytes())
        if address in kept.names and known.not_valid_before_utc <= now < known.not_valid_after_utc - RENEWED:
            return kept
    except Faults:
        pass
    folder.mkdir(parents=True, exist_ok=True)
    secret = ec.generate_private_key(ec.SECP256R1())
    made = _made(secret, address, now)
    plain = serialization.NoEncryption()
    _write(key, secret.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, plain))
    _write(file, made.public_bytes(serialization.Encoding.PEM))
    return given_certificate(file, key)


def given_certificate(file: Path, key: Path) -> Certificate:
    """A certificate and its key from files. Raises Faults for files that are not there or do not belong together."""
    try:
        known = x509.load_pem_x509_certificate(file.read_bytes())
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(file, key, _no_password)
    except (OSError, ValueError) as error:  # ssl.SSLError is an OSError
        reason = getattr(error, "strerror", None) or str(error)
        raise Faults([Fault(f"{file} and {key}", reason, "a certificate and its own key without a password, as PEM",
                            "name the right files, or leave both out")]) from None  # fmt: skip
    return Certificate(file, key, fingerprint(known), tuple(_names(known)))


def _no_password() -> bytes:
    raise ValueError("the key asks for a password")


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 over the certificate, in pairs of hexadecimal digits, as browsers show it."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def _names(certificate: x509.Certificate) -> Sequence[str]:
    try:
        found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return ()
    addresses = [str(each) for each in found.get_values_for_type(x509.IPAddress)]
    return (*found.get_values_for_type(x509.DNSName), *addresses)


def _made(secret: ec.EllipticCurvePrivateKey, address: str, now: datetime) -> x509.Certificate:
    """A server's certificate signed with its own key."""
    whose = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "spreadwright on this boat")])
    names = x509.SubjectAlternativeName([x509.IPAddress(ip_address(address)), x509.DNSName("localhost")])
    server = x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH])
    return (
        x509.CertificateBuilder()
        .subject_name(whose).issuer_name(whose).public_key(secret.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))  # a phone's clock may be behind
        .not_valid_after(now + LASTS)
        .add_extension(names, critical=False).add_extension(server, critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .sign(secret, hashes.SHA256())
    )  # fmt: skip


def _write(path: Path, data: bytes) -> None:
    """Write a file that only its owner reads, whole or not at all."""
    made = path.with_suffix(".new")
    made.unlink(missing_ok=True)
    with os.fdopen(os.open(made, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(data)
    made.replace(path)
