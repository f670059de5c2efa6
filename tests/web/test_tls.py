"""The page's certificate, judged by OpenSSL through Python's ssl: who trusts what, and what not."""

from __future__ import annotations

import socket
import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Thread

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization

from boardwright.core.errors import FieldError, FileError
from boardwright.web.server import network, tls
from boardwright.web.server.network import in_address, local_addresses
from boardwright.web.server.serve import Lan, PortError, _bound, _certificate

NOW = datetime.now(UTC)
NAMES = ("localhost", "127.0.0.1", "192.168.1.20", "fd12:3456::20", "desk.local")


def shaken(certificate: tls.Certificate, name: str) -> str:
    """Return what a client that trusts the authority says of the page under a name."""
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(certificate.file, certificate.key)
    client = ssl.create_default_context(cadata=certificate.authority.decode())
    near, far = socket.socketpair()

    def serve() -> None:
        try:
            with server.wrap_socket(far, server_side=True) as wrapped:
                wrapped.recv(1)
        except OSError:
            far.close()

    thread = Thread(target=serve)
    thread.start()
    try:
        with client.wrap_socket(near, server_hostname=name) as wrapped:
            return wrapped.version() or ""
    except ssl.SSLCertVerificationError as error:
        return error.verify_message
    finally:
        near.close()
        thread.join()


@pytest.mark.parametrize("name", NAMES)
def test_a_client_that_trusts_the_authority_takes_the_page(name: str, tmp_path: Path) -> None:
    assert shaken(tls.made(tmp_path, NAMES, NOW), name) in {"TLSv1.2", "TLSv1.3"}


def test_another_name_is_not_taken(tmp_path: Path) -> None:
    assert "not valid for" in shaken(tls.made(tmp_path, NAMES, NOW), "192.168.1.21")


@pytest.mark.parametrize("name", ["example.com", "8.8.8.8", "2001:4860::1"])
def test_the_authority_cannot_vouch_for_the_internet(name: str, tmp_path: Path) -> None:
    certificate = tls.made(tmp_path, (*NAMES, name), NOW)

    assert "permitted subtree violation" in shaken(certificate, name)


def test_only_the_owner_may_read_the_keys(tmp_path: Path) -> None:
    folder = tmp_path / "tls"
    tls.made(folder, NAMES, NOW)

    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert {path.name: stat.S_IMODE(path.stat().st_mode) for path in folder.glob("*.key")} == {
        "authority.key": 0o600,
        "page.key": 0o600,
    }
    assert list(folder.glob(".*")) == []


def test_a_second_start_keeps_what_still_serves(tmp_path: Path) -> None:
    first = tls.made(tmp_path, NAMES, NOW)
    before = first.file.read_bytes()

    again = tls.made(tmp_path, NAMES[:2], NOW + timedelta(days=59))

    assert again.file.read_bytes() == before
    assert again.fingerprint == first.fingerprint


@pytest.mark.parametrize(
    ("days", "names"), [(61, NAMES), (0, (*NAMES, "192.168.1.99"))], ids=["it ends", "new address"]
)
def test_a_certificate_is_renewed_under_the_same_authority(
    days: int, names: tuple[str, ...], tmp_path: Path
) -> None:
    first = tls.made(tmp_path, NAMES, NOW)
    before = first.file.read_bytes()

    again = tls.made(tmp_path, names, NOW + timedelta(days=days))

    assert again.file.read_bytes() != before
    assert again.authority == first.authority


def test_a_start_that_was_cut_short_is_mended(tmp_path: Path) -> None:
    certificate = tls.made(tmp_path / "one", NAMES, NOW)
    other = tls.made(tmp_path / "two", NAMES, NOW)
    certificate.key.write_bytes(other.key.read_bytes())

    assert shaken(tls.made(tmp_path / "one", NAMES, NOW), "localhost").startswith("TLS")


def test_an_authority_that_ends_soon_is_made_anew(tmp_path: Path) -> None:
    first = tls.made(tmp_path, NAMES, NOW)

    later = NOW + tls.AUTHORITY_LASTS - timedelta(days=80)
    again = tls.made(tmp_path, NAMES, later)

    assert again.authority != first.authority
    read = x509.load_pem_x509_certificate(again.file.read_bytes())
    assert read.not_valid_after_utc > later


def test_a_certificate_of_ones_own_is_taken_with_its_names(tmp_path: Path) -> None:
    made = tls.made(tmp_path, NAMES, NOW)

    given = tls.given(made.file, made.key, NOW)

    assert set(given.names) == set(NAMES)
    assert given.authority == b""


def test_what_is_wrong_with_a_given_certificate_is_told(tmp_path: Path) -> None:
    made = tls.made(tmp_path / "one", NAMES, NOW)
    other = tls.made(tmp_path / "two", NAMES, NOW)
    key = serialization.load_pem_private_key(made.key.read_bytes(), None)
    locked = tmp_path / "locked.key"
    locked.write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.BestAvailableEncryption(b"secret"),
        )
    )

    for file, keyfile, moment, said in (
        (made.file, other.key, NOW, "is not the key of"),
        (made.file, locked, NOW, "locked with a password"),
        (made.key, made.key, NOW, "found no certificate"),
        (tmp_path / "none", made.key, NOW, "cannot be read"),
        (made.file, tmp_path / "none", NOW, "cannot be read"),
        (made.file, made.key, NOW + timedelta(days=91), "not today"),
    ):
        with pytest.raises(FileError, match=said) as told:
            tls.given(file, keyfile, moment)
        assert "\n" not in str(told.value)


def test_one_of_certificate_and_key_alone_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FieldError, match="both --certificate and --key"):
        _certificate(Lan(certificate=tmp_path / "page.pem"), ())


@pytest.mark.parametrize(
    "asked",
    [
        *("8.8.8.8", "127.0.0.1", "0.0.0.1", "desk", "172.32.0.1"),
        *("::1", "::", "fe80::1%eth0", "fd00::1%eth0", "2001:4860::1", "fbff::1", "fe00::1"),
        "::ffff:192.168.1.20",
    ],
)
def test_only_an_address_of_a_local_network_is_served(asked: str) -> None:
    # Blocks: RFC 1918 (172.16/12 ends at 172.31), RFC 1122 (0/8 and 127/8), RFC 4193 (fc00::/7).
    with pytest.raises(FieldError, match=f"--address: found '{asked}'"):
        local_addresses(asked)


@pytest.mark.parametrize(
    "asked", ["10.0.0.5", "172.31.255.1", "192.168.1.20", "169.254.7.7", "fd12::20", "fc00::1"]
)
def test_an_address_of_a_local_network_is_taken(asked: str) -> None:
    assert local_addresses(asked) == (asked,)


def test_an_address_is_named_as_browsers_write_it() -> None:
    # RFC 5952: letters small, the longest run of noughts left out; RFC 3986, 3.2.2: in brackets.
    assert local_addresses("FD12:0:0:0::0020") == ("fd12::20",)
    assert in_address("fd12::20") == "[fd12::20]"
    assert in_address("192.168.1.20") == "192.168.1.20"


def test_addresses_of_both_kinds_are_found_those_of_ipv4_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(network, "_way_out", lambda _, to: "fd12::20" if ":" in to else "10.0.0.5")
    monkeypatch.setattr(network, "_named", lambda: ("fe80::1", "fd12::20", "127.0.1.1"))

    assert local_addresses() == ("10.0.0.5", "fd12::20")


def test_an_authority_that_may_not_vouch_for_ipv6_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as before:
        before.setattr(tls, "LOCAL_BLOCKS", [b for b in network.LOCAL_BLOCKS if ":" not in b])
        old = tls.made(tmp_path, NAMES, NOW)
    assert "permitted subtree violation" in shaken(old, "fd12:3456::20")

    assert shaken(tls.made(tmp_path, NAMES, NOW), "fd12:3456::20").startswith("TLS")


def test_an_address_of_another_machine_is_one_sentence() -> None:
    with pytest.raises(PortError, match="expected an address that this machine has"):
        _bound("192.0.2.250", 0)
