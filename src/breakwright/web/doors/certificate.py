"""A certificate of one's own for HTTPS on the local network, made on first use and kept."""

import datetime as dt
import hashlib
import ipaddress
import ssl
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from breakwright.model.errors import ImpossibleValue
from breakwright.web.doors.token import write_private

if TYPE_CHECKING:
    from cryptography.x509 import GeneralName

__all__ = ["Certificate", "given_certificate", "kept_certificate"]

_CERTIFICATE, _KEY = "https-certificate.pem", "https-key.pem"
# Phones refuse certificates that hold for longer than 825 days.
_DAYS = 820
_RENEW_DAYS = 30


@dataclass(frozen=True, slots=True)
class Certificate:
    """``fingerprint`` is the SHA-256 that browsers show, as AB:CD:…"""

    certificate: Path
    key: Path
    fingerprint: str


def given_certificate(certificate: Path, key: Path) -> Certificate:
    """Return a certificate that a person brings. Raises ImpossibleValue where it does not fit."""
    try:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(certificate, key, password=lambda: "")
        text = certificate.read_text(encoding="ascii")
        first = text[text.index("-----BEGIN CERTIFICATE") :]
        first = first[: first.index("-----END CERTIFICATE-----") + len("-----END CERTIFICATE-----")]
        der = ssl.PEM_cert_to_DER_cert(first)
    except (OSError, ValueError) as error:
        raise ImpossibleValue(
            f"{certificate} and {key} are not a certificate and its key, in PEM and without a "
            f"password ({error})"
        ) from error
    return Certificate(certificate, key, _fingerprint(der))


def kept_certificate(folder: Path, names: Iterable[str], now: dt.datetime) -> Certificate:
    """Return the certificate kept in ``folder`` for this machine's ``names`` (addresses too),
    made anew where there is none, it runs out soon, or it lacks a name."""
    certificate, key = folder / _CERTIFICATE, folder / _KEY
    wanted = frozenset(names) | {"localhost", "127.0.0.1", "::1"}
    try:
        there = given_certificate(certificate, key)
        if _fits(certificate.read_bytes(), wanted, now):
            return there
    except ImpossibleValue:
        pass
    folder.mkdir(parents=True, exist_ok=True)
    made, secret = _made(wanted, now)
    write_private(key, secret)
    write_private(certificate, made)
    return given_certificate(certificate, key)


def _fits(pem: bytes, wanted: frozenset[str], now: dt.datetime) -> bool:
    from cryptography import x509

    there = x509.load_pem_x509_certificate(pem)
    held = there.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    names = set(held.get_values_for_type(x509.DNSName))
    names |= {str(address) for address in held.get_values_for_type(x509.IPAddress)}
    soon = now + dt.timedelta(days=_RENEW_DAYS)
    return wanted <= names and soon < there.not_valid_after_utc


def _made(names: frozenset[str], now: dt.datetime) -> tuple[bytes, bytes]:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Breakwright on this machine")])
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - dt.timedelta(days=1))
        .not_valid_after(now + dt.timedelta(days=_DAYS))
        .add_extension(x509.SubjectAlternativeName([_name(n) for n in sorted(names)]), False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), False)
        .sign(key, hashes.SHA256())
    )
    secret = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    return made.public_bytes(serialization.Encoding.PEM), secret


def _name(name: str) -> "GeneralName":
    from cryptography import x509

    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _fingerprint(der: bytes) -> str:
    return hashlib.sha256(der).digest().hex(":").upper()
