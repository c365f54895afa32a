"""A certificate for a day, made on this machine, and the settings of TLS."""

import datetime as dt
import ipaddress
import ssl
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from .address import NoAddressError

LASTS = dt.timedelta(hours=24)
EARLIER = dt.timedelta(minutes=10)  # clocks in a room differ
NAME = "Gap and Lining, this room, today"


def certificate_for_a_day(address: str, folder: Path, now: dt.datetime) -> tuple[Path, Path]:
    """Make a key and a certificate that it signed itself.

    Parameters
    ----------
    address : str
        The machine's address in the room.
    folder : Path
        A private folder, for both files.
    now : datetime
        When it begins.

    Returns
    -------
    tuple of Path
        Certificate and key, in PEM form.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, NAME)])
    names = [
        x509.DNSName("localhost"),
        *(x509.IPAddress(ipaddress.ip_address(each)) for each in ("127.0.0.1", address)),
    ]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - EARLIER)
        .not_valid_after(now + LASTS)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    files = folder / "day.crt", folder / "day.key"
    files[1].touch(mode=0o600)
    files[0].write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
    files[1].write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
    )
    return files


def mark_of(certificate: Path) -> str:
    """Return a certificate's fingerprint, which a browser shows too.

    Parameters
    ----------
    certificate : Path
        In PEM form.

    Returns
    -------
    str
        SHA-256, in pairs.
    """
    read = x509.load_pem_x509_certificate(certificate.read_bytes())
    return read.fingerprint(hashes.SHA256()).hex(":").upper()


def tls(certificate: Path, key: Path) -> ssl.SSLContext:
    """Return the settings with which the server speaks TLS.

    Parameters
    ----------
    certificate, key : Path
        In PEM form.

    Raises
    ------
    NoAddressError
        If they cannot be read, or do not belong together.
    """
    settings = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    try:
        settings.load_cert_chain(certificate, key)
    except (OSError, ssl.SSLError) as error:
        gone = isinstance(error, FileNotFoundError)
        why = "a file is missing" if gone else "they cannot be read, or do not belong together"
        raise NoAddressError(
            f"The certificate {certificate} with the key {key} cannot be used: {why}. "
            "Expected two files in PEM form, made for each other."
        ) from None
    return settings
