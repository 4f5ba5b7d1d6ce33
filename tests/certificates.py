"""Certificates of an authority made for one test, as files in PEM."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import NameOID


def make_certificates(folder: Path) -> Path:
    """authority.pem, and machine.pem with its machine.key signed by it; the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    signer, machine = (ec.generate_private_key(ec.SECP256R1()) for _ in range(2))
    authority = _certificate("authority", signer.public_key(), "authority", signer, ca=True)
    own = _certificate("machine", machine.public_key(), "authority", signer, ca=False)
    (folder / "authority.pem").write_bytes(authority.public_bytes(Encoding.PEM))
    (folder / "machine.pem").write_bytes(own.public_bytes(Encoding.PEM))
    key = machine.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    (folder / "machine.key").write_bytes(key)
    return folder


def _certificate(
    subject: str,
    public: ec.EllipticCurvePublicKey,
    issuer: str,
    signer: ec.EllipticCurvePrivateKey,
    ca: bool,
) -> x509.Certificate:
    names = [x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)]) for name in (subject, issuer)]
    now = datetime.now(UTC)
    return (
        x509.CertificateBuilder()
        .subject_name(names[0])
        .issuer_name(names[1])
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + timedelta(hours=1))
        .add_extension(x509.BasicConstraints(ca=ca, path_length=None), critical=True)
        .sign(signer, SHA256())
    )
