"""The certificate of the page: made here for this machine and its network, or given by the user.

A phone that is to work without signal must trust the page. So an authority is made once, whose
certificate the phone is told to trust; it can vouch for private addresses and local names only,
so that nobody who steals its key can pass for a site of the internet.
"""

from __future__ import annotations

import ssl
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import ip_address, ip_network
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from boardwright.core.errors import FileError
from boardwright.web.devices.private import write_private
from boardwright.web.server.network import LOCAL_BLOCKS

AUTHORITY_LASTS = timedelta(days=5 * 365)
LASTS = timedelta(days=90)
RENEWED_BEFORE = timedelta(days=30)
_CLOCKS_DIFFER = timedelta(hours=24)

_LOCAL_NAMES = ("localhost", "local")
_LOOPBACK = ("127.0.0.0/8", "::1/128")

Key = ec.EllipticCurvePrivateKey


@dataclass(frozen=True, slots=True)
class Certificate:
    """Files for the server; ``authority`` and its fingerprint where this tool made them."""

    file: Path
    key: Path
    names: tuple[str, ...]
    authority: bytes = b""
    fingerprint: str = ""


@dataclass(frozen=True, slots=True)
class _Signer:
    certificate: x509.Certificate
    key: Key


def made(folder: Path, names: Sequence[str], now: datetime) -> Certificate:
    """Return this tool's own certificate for some names, made or renewed where it must be.

    Raises
    ------
    FileError
        A file of an earlier start cannot be read, or a new one cannot be written.
    """
    signer = _authority(folder, now)
    file, key = folder / "page.pem", folder / "page.key"
    if not _serves(file, key, names, signer, now):
        _sign(file, key, names, signer, now)
    digest = signer.certificate.fingerprint(hashes.SHA256())
    public = signer.certificate.public_bytes(serialization.Encoding.PEM)
    return Certificate(file, key, tuple(names), public, _in_pairs(digest))


def given(file: Path, key: Path, now: datetime) -> Certificate:
    """Return the certificate that the user gives, if a browser could take it.

    Raises
    ------
    FileError
        The files cannot be read, do not belong together, or the certificate's time has run out.
    """
    certificate = _read(file)
    _need_readable(key)
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(file, key, password="")
    except (OSError, ValueError):
        raise FileError(
            f"{key}: is not the key of {file}, or is locked with a password; expected the key of"
            " that certificate as PEM, without a password."
        ) from None
    begins, ends = certificate.not_valid_before_utc, certificate.not_valid_after_utc
    if not begins <= now < ends:
        raise FileError(
            f"{file}: holds from {begins:%d %b %Y} to {ends:%d %b %Y}, not today. Give one that"
            " holds, or leave it out and let the program make one."
        )
    names = _names(certificate)
    if not names:
        raise FileError(f"{file}: names no host, expected a certificate with alternative names.")
    return Certificate(file, key, names)


def _authority(folder: Path, now: datetime) -> _Signer:
    file, keyfile = folder / "authority.pem", folder / "authority.key"
    if file.exists() and keyfile.exists():
        signer = _Signer(_read(file), _read_key(keyfile))
        # One that ends before what it would sign, or may not vouch for all that is served today,
        # is of no use; a new one must be trusted anew.
        if signer.certificate.not_valid_after_utc > now + LASTS and _vouches(signer.certificate):
            return signer
    key = ec.generate_private_key(ec.SECP256R1())
    name = _subject("Boardwright on this machine")
    builder = (
        _begun(name, name, key, now)
        .not_valid_after(now + AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(_only_private(), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )
    certificate = builder.sign(key, hashes.SHA256())
    write_private(keyfile, _pem_of(key))
    write_private(file, certificate.public_bytes(serialization.Encoding.PEM))
    return _Signer(certificate, key)


def _vouches(authority: x509.Certificate) -> bool:
    try:
        found = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    except x509.ExtensionNotFound:
        return False
    return found == _only_private()


def _sign(file: Path, keyfile: Path, names: Sequence[str], signer: _Signer, now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    issuer = signer.certificate.subject
    by = x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.key.public_key())
    certificate = (
        _begun(_subject("Boardwright's page"), issuer, key, now)
        .not_valid_after(now + LASTS)
        .add_extension(
            x509.SubjectAlternativeName([_alternative(n) for n in names]), critical=False
        )
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(by, critical=False)
        .sign(signer.key, hashes.SHA256())
    )
    write_private(keyfile, _pem_of(key))
    write_private(file, certificate.public_bytes(serialization.Encoding.PEM))


def _serves(file: Path, key: Path, names: Sequence[str], signer: _Signer, now: datetime) -> bool:
    """Say whether the certificate of an earlier start still does."""
    if not (file.exists() and key.exists()):
        return False
    certificate = _read(file)
    if certificate.public_key() != _read_key(key).public_key():
        # A start that was ended between its two files.
        return False
    try:
        certificate.verify_directly_issued_by(signer.certificate)
    except Exception:  # noqa: BLE001 - whatever is wrong with it, a new one is made
        return False
    lasts = certificate.not_valid_after_utc > now + RENEWED_BEFORE
    return lasts and set(names) <= set(_names(certificate))


def _begun(
    subject: x509.Name, issuer: x509.Name, key: Key, now: datetime
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        # A phone's clock may be behind.
        .not_valid_before(now - _CLOCKS_DIFFER)
    )


def _only_private() -> x509.NameConstraints:
    addresses = [x509.IPAddress(ip_network(each)) for each in (*_LOOPBACK, *LOCAL_BLOCKS)]
    return x509.NameConstraints([*addresses, *(x509.DNSName(n) for n in _LOCAL_NAMES)], None)


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs,
        key_cert_sign=signs,
        crl_sign=signs,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _subject(name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])


def _alternative(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ip_address(name))
    except ValueError:
        return x509.DNSName(name)


def _names(certificate: x509.Certificate) -> tuple[str, ...]:
    try:
        found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return ()
    addresses = (str(each) for each in found.get_values_for_type(x509.IPAddress))
    return (*found.get_values_for_type(x509.DNSName), *addresses)


def _pem_of(key: Key) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _read(file: Path) -> x509.Certificate:
    try:
        return x509.load_pem_x509_certificate(file.read_bytes())
    except OSError as error:
        raise FileError(f"{file}: cannot be read ({error.strerror}).") from None
    except ValueError:
        raise FileError(f"{file}: found no certificate, expected one as PEM.") from None


def _read_key(file: Path) -> Key:
    try:
        key = serialization.load_pem_private_key(file.read_bytes(), None)
    except OSError as error:
        raise FileError(f"{file}: cannot be read ({error.strerror}).") from None
    except (ValueError, TypeError):
        raise FileError(f"{file}: found no key of this program. Move it away.") from None
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise FileError(f"{file}: found no key of this program. Move it away.")
    return key


def _need_readable(file: Path) -> None:
    try:
        file.read_bytes()
    except OSError as error:
        raise FileError(f"{file}: cannot be read ({error.strerror}).") from None


def _in_pairs(digest: bytes) -> str:
    return ":".join(f"{byte:02X}" for byte in digest)


__all__ = ["Certificate", "given", "made"]
