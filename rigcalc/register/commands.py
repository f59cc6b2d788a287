"""Two commands: check the register, check a certificate file."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import desk_folder
from rigcalc.register.certificate import Checked, check_certificate as check_file
from rigcalc.register.keys import kept_key, read_card
from rigcalc.register.store import Register

__all__ = ["check_certificate", "check_register", "what_was_found"]


def check_register(argv: list[str]) -> int:
    """`rigcalc register`: exit status 0 when the register is whole, 1 when something is wrong, 2 when refused."""
    words = argparse.ArgumentParser(prog="rigcalc register", description="Check the register: every entry's hash, "
                                    "signature and place, and whether entries were removed, at the end too.")
    words.add_argument("--folder", type=Path, default=None, help="a workbook folder or its desk (else this workbook's)")
    words.add_argument("--read", action="store_true", help="print the entries as well")
    asked = words.parse_args(argv)
    folder = asked.folder or desk_folder()
    if (folder / "desk" / "register.sqlite").exists():  # the workbook's folder was named, as for rigcalc desk
        folder = folder / "desk"
    path = folder / "register.sqlite"
    if not (path.exists() or (folder / "register.head.json").exists()):
        raise Refusal(f"the folder {folder}, which holds no register", "a desk's folder",
                      "name the folder with --folder, or open the desk once to begin a register")
    if not (folder / "signing" / "register.pem").exists():
        raise Refusal(f"the folder {folder}, which holds a register but not its key", "a desk's folder with its key",
                      "put the signing folder back from the copy that was kept")
    register = Register(path, kept_key(folder / "signing", "register").public)
    findings = register.check()
    entries = [] if findings and not path.exists() else _entries(register, findings)
    if asked.read:
        for entry in entries:
            print(f"{entry.number:>5}  {entry.at}  {entry.kind}  {entry.text}")
    print(f"{path}: {len(entries)} entries, signed by the key {register.signer.fingerprint}.")
    for finding in findings:
        print(finding)
    print("The register is NOT whole." if findings else "The register is whole: nothing changed, removed, inserted or reordered.")
    return 1 if findings else 0


def _entries(register: Register, findings: list[str]) -> list:
    try:
        return register.entries()
    except Exception:
        if not findings:
            raise
        return []


def check_certificate(argv: list[str]) -> int:
    """`rigcalc certificate FILE`: 0 genuine and in date, 1 not in date, 3 a DEMONSTRATION, 2 refused."""
    words = argparse.ArgumentParser(
        prog="rigcalc certificate", description="Check a certificate of competence without the register.",
        epilog="Exit status: 0 signed by a genuine key and in date; 1 out of date; 3 a DEMONSTRATION; 2 refused.")
    words.add_argument("file", type=Path, help="the certificate's JSON file")
    words.add_argument("--key", type=Path, help="the issuer's key file, had from the issuer by another way")
    words.add_argument("--on", type=date.fromisoformat, metavar="YYYY-MM-DD", help="ask for this day, not for today")
    asked = words.parse_args(argv)
    issuer = read_card(_read(asked.key)) if asked.key else None
    found = check_file(_read(asked.file), issuer, asked.on)
    print("\n".join(what_was_found(found)))
    if not found.genuine:
        return 3
    return 1 if found.expired or found.not_yet else 0


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(1 << 20)
    except OSError as problem:
        raise Refusal(f"the file '{path}', which cannot be read ({problem.strerror})", "a file that can be read",
                      "check the name") from None


def what_was_found(found: Checked) -> list[str]:
    """The outcome of a check in plain lines."""
    says, scope = found.statement, found.statement.scope
    if found.genuine:
        lines = ["The text is whole: it is as it was signed, by a genuine (not a demonstration) key."]
    else:
        lines = ["DEMONSTRATION: signed by a demonstration key of an invented shop. It says nothing about any real "
                 "person and is no certificate."]
    lines += [f"Key: {found.fingerprint} (named in the file: {found.certificate.issuer.name})."]
    if found.key_compared:
        lines.append("The key is the one in the issuer's key file you gave.")
    else:
        lines.append("Whether this key is the issuer's, the file cannot prove: get the key or its fingerprint from the "
                     "issuer by another way (by telephone, in person) and compare, or give its file with --key.")
    lines += [f"Person: {says.person.name}; identified: {says.person.identified}",
              f"Shown: {', '.join(scope.sizes)} {scope.construction} {scope.finish} cable, {scope.sleeve_metal} sleeve, "
              f"tool {scope.tool}, cavity {scope.cavity}. {scope.limits}",
              f"Not shown: {'; '.join(says.not_shown)}.",
              f"Decided by {says.decision.decider} on {says.decision.on}; register entry {says.register.entry}, "
              f"hash {says.register.hash}."]
    if found.expired:
        lines.append(f"EXPIRED: it ended on {says.validity.ends}, and {found.on} was asked for.")
    elif found.not_yet:
        lines.append(f"NOT YET VALID: it starts on {says.validity.starts}, and {found.on} was asked for.")
    else:
        lines.append(f"Valid from {says.validity.starts} to {says.validity.ends} ({found.on} was asked for), "
                     "unless the issuer has withdrawn it: ask them.")
    return lines + list(says.cautions)
