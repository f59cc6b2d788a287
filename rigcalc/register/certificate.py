"""A certificate of competence: signed by the issuer, checked by anyone, without the register and without a secret."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import date

from rigcalc.cautions import CERTIFICATE_CAUTION
from rigcalc.errors import Refusal
from rigcalc.register.keys import (PublicKey, Signer, canonical, fingerprint, purpose_of, signed_by, standing_of)
from rigcalc.register.statement import Certificate, Statement, checked

__all__ = ["KIND", "MOST_BYTES", "Checked", "certificate_bytes", "certificate_sha256", "check_certificate",
           "read_certificate", "sign_certificate"]

KIND = "certificate of competence"
MOST_BYTES = 64 * 1024
_AGAIN = "ask the person or the issuer for the file again, and trust nothing in this one"


def sign_certificate(statement: dict, signer: Signer, issuer_name: str) -> dict:
    """Sign a statement; its standing comes from the key.

    Parameters
    ----------
    statement : dict
        All fields of `Statement`.
    signer : Signer
        A genuine key for a real shop, the demonstration key for an invented one.
    issuer_name : str
        The shop that answers for the certificate.

    Errors
    ------
    Refusal : a field is missing or of a wrong kind; an invented shop with a genuine key or the other way round; no
        maker's chart.
    """
    checked(statement, Statement)
    certificate = {"form": 1, "kind": KIND, "standing": standing_of(signer.purpose), "statement": statement,
                   "issuer": {"name": issuer_name, "key": signer.key, "fingerprint": signer.fingerprint}}
    _refuse_mixed(certificate)
    certificate["signature"] = signer.sign(f"certificate {certificate['standing']}", canonical(certificate))
    checked(certificate, Certificate)
    return certificate


def certificate_bytes(certificate: dict) -> bytes:
    """The certificate as the file that is handed over."""
    return json.dumps(certificate, sort_keys=True, indent=1, ensure_ascii=False).encode("utf-8") + b"\n"


def certificate_sha256(certificate: dict) -> str:
    """The hash that the register keeps of a certificate, over its content, however the file is laid out."""
    return hashlib.sha256(canonical(certificate)).hexdigest()


@dataclass(frozen=True)
class Checked:
    """What a check found: the standing, the certificate, and whether it holds on the day asked."""

    certificate: Certificate
    standing: str
    fingerprint: str
    key_compared: bool
    on: date

    @property
    def statement(self) -> Statement:
        return self.certificate.statement

    @property
    def expired(self) -> bool:
        return self.on > date.fromisoformat(self.statement.validity.ends)

    @property
    def not_yet(self) -> bool:
        return self.on < date.fromisoformat(self.statement.validity.starts)

    @property
    def genuine(self) -> bool:
        return self.standing == "genuine"


def check_certificate(raw: bytes, issuer: PublicKey | None = None, on: date | None = None) -> Checked:
    """Check a certificate file: refuses one that was altered, is no certificate, or has another issuer's key.

    Parameters
    ----------
    raw : bytes
        The file as it came, at most 64 KiB.
    issuer : PublicKey, optional
        The issuer's key, had by another way than the file.
    on : date, optional
        The day for which validity is asked; today where left out.
    """
    plain = read_certificate(raw)
    certificate = checked(plain, Certificate)
    _refuse_mixed(plain)
    unsigned = {name: value for name, value in plain.items() if name != "signature"}
    if not signed_by(certificate.issuer.key, f"certificate {certificate.standing}", canonical(unsigned),
                     certificate.signature):
        raise Refusal("a certificate whose text does not fit its signature: it was altered or badly copied",
                      "the file as it was signed", _AGAIN)
    if issuer is not None and issuer.key != certificate.issuer.key:
        raise Refusal(f"a certificate signed by the key {certificate.issuer.fingerprint}",
                      f"one signed by the issuer's key {issuer.fingerprint}",
                      "ask the issuer whether both keys are theirs, and trust nothing in this file until they say so")
    return Checked(certificate, certificate.standing, fingerprint(certificate.issuer.key), issuer is not None,
                   on or date.today())


def read_certificate(raw: bytes) -> dict:
    """The file as plain data: refuses what is too long, no UTF-8, no JSON, or says one thing twice."""
    if len(raw) > MOST_BYTES:
        raise Refusal(f"a file of {len(raw)} bytes", f"a certificate of at most {MOST_BYTES} bytes", _AGAIN)
    try:
        plain = json.loads(raw.decode("utf-8"), object_pairs_hook=_once_each, parse_float=_no_number,
                           parse_constant=_no_number)
    except Refusal:
        raise
    except (ValueError, RecursionError):
        raise Refusal("a file that is no JSON text in UTF-8", "a certificate file as a desk writes it", _AGAIN) from None
    if not isinstance(plain, dict):
        raise Refusal("a file that is no certificate", "a certificate file as a desk writes it", _AGAIN)
    return plain


def _once_each(pairs: list[tuple[str, object]]) -> dict:
    made = dict(pairs)
    if len(made) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Refusal(f"a file that says {twice!r} twice", "each name once", _AGAIN)
    return made


def _no_number(text: str) -> None:
    raise Refusal(f"the number {text[:20]} in a certificate", "whole numbers and text", _AGAIN)


def _refuse_mixed(certificate: dict) -> None:
    """Standing, key, shop and chart must tell one story; no mix of demonstration and genuine passes."""
    standing, issuer, statement = certificate["standing"], certificate["issuer"], certificate["statement"]
    if certificate["kind"] != KIND:
        raise Refusal(f"a file of the kind '{certificate['kind']}'", f"a {KIND}", _AGAIN)
    if standing not in ("genuine", "DEMONSTRATION") or standing != standing_of(purpose_of(issuer["key"])):
        raise Refusal(f"a certificate that calls itself {standing!r} with a {purpose_of(issuer['key'])} key",
                      "a genuine certificate from a genuine key, or a DEMONSTRATION from a demonstration key", _AGAIN)
    if issuer["fingerprint"] != fingerprint(issuer["key"]):
        raise Refusal("a certificate whose fingerprint is not its key's", "a key with its own fingerprint", _AGAIN)
    if statement["invented"] != (standing == "DEMONSTRATION"):
        raise Refusal("an invented shop with a genuine key, or a real shop with a demonstration key",
                      "the demonstration key for an invented shop and the genuine key for a real one", _AGAIN)
    if statement["chart"]["kind"] != "maker":
        raise Refusal(f"a certificate made with a {statement['chart']['kind']} chart", "a maker's chart in force",
                      "enter the sleeve and tool maker's chart in the shop file first")
    if CERTIFICATE_CAUTION not in statement["cautions"]:
        raise Refusal("a certificate without its caution", "a certificate that says it is evidence and no permission",
                      _AGAIN)
