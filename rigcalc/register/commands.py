"""Two commands: check the register, check a certificate file."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from rigcalc.errors import Refusal
from rigcalc.home import desk_folder
from rigcalc.register.certificate import Checked, certificate_sha256, check_certificate as check_file, read_certificate
from rigcalc.register.keys import kept_key, read_card
from rigcalc.register.status import DOUBTED, Status, status_of
from rigcalc.register.store import Register

__all__ = ["check_certificate", "check_register", "what_was_found"]


def check_register(argv: list[str]) -> int:
    """`rigcalc register`: exit status 0 when the register is whole, 1 when something is wrong, 2 when refused."""
    words = argparse.ArgumentParser(prog="rigcalc register", description="Check the register: every entry's hash, "
                                    "signature and place, and whether entries were removed, at the end too.")
    words.add_argument("--folder", type=Path, default=None, help="a workbook folder or its desk (else this workbook's)")
    words.add_argument("--read", action="store_true", help="print the entries as well")
    asked = words.parse_args(argv)
    register = _opened(asked.folder or desk_folder(), "--folder")
    path = register.path
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


def _opened(folder: Path, option: str) -> Register:
    """The register of a workbook folder or of its desk, to be read and checked."""
    if (folder / "desk" / "register.sqlite").exists():  # the workbook's folder was named, as for rigcalc desk
        folder = folder / "desk"
    path = folder / "register.sqlite"
    if not (path.exists() or (folder / "register.head.json").exists()):
        raise Refusal(f"a folder that holds no register ({folder})", "a desk's folder",
                      f"name the folder with {option}, or open the desk once to begin a register")
    if not (folder / "signing" / "register.pem").exists():
        raise Refusal(f"a folder that holds a register but not its key ({folder})", "a desk's folder with its key",
                      "put the signing folder back from the copy that was kept")
    return Register(path, kept_key(folder / "signing", "register").public)


def _entries(register: Register, findings: list[str]) -> list:
    try:
        return register.entries()
    except Exception:
        if not findings:
            raise
        return []


def check_certificate(argv: list[str]) -> int:
    """`rigcalc certificate FILE`: 0 genuine and in date, 1 not in date or not in force, 4 in force but shaken, 3 a DEMONSTRATION, 2 refused."""
    words = argparse.ArgumentParser(
        prog="rigcalc certificate", description="Check a certificate of competence, with the register or without.",
        epilog="Exit status: 0 signed by a genuine key and in date; 1 out of date, or not in force by the register, or not entered in it; "
               "4 in force by the register, but shaken by what was entered since; 3 a DEMONSTRATION, whatever else is said; 2 refused.")
    words.add_argument("file", type=Path, help="the certificate's JSON file")
    words.add_argument("--key", type=Path, help="the issuer's key file, had from the issuer by another way")
    words.add_argument("--on", type=_day, metavar="YYYY-MM-DD", help="ask for this day, not for today")
    words.add_argument("--register", type=Path, metavar="FOLDER",
                       help="the issuer's workbook folder or its desk: says whether it is entered there at all, withdrawn, suspended, replaced, decided again as not yet, "
                            "or shaken by what was entered since; what was tapped or written on a bench form and not entered, the desk's own pages tell")
    asked = words.parse_args(argv)
    issuer = read_card(_read(asked.key)) if asked.key else None
    raw = _read(asked.file)
    register = _opened(asked.register, "--register") if asked.register is not None else None
    found = check_file(raw, issuer, asked.on)
    print("\n".join(what_was_found(found, register is not None)))
    status = Status("in force") if register is None else _in_register(register, found, certificate_sha256(read_certificate(raw)))
    if register is not None:
        print("\n".join(_by_register(status)))
    if not found.genuine:
        return 3
    if found.expired or found.not_yet or not status.in_force:
        return 1
    return 4 if status.shaken else 0


def _by_register(status: Status) -> list[str]:
    """What a register says, the state first and all that bears on it below."""
    since = [f"S{status.since_signed[1:]}."] if status.since and not status.in_force and status.state in DOUBTED else []
    ask = ["Ask whoever signed whether it stands."] if status.shaken else []
    return [f"By the register: {status.words if status.in_force else status.state.upper()}.", *status.lines, *since, *ask]


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r}: a day is written as year, month, day: 2027-07-01") from None


def _in_register(register: Register, found: Checked, digest: str) -> Status:
    """What a register says of a checked certificate; nothing is read out of one that is not whole."""
    findings = register.check()
    if findings:
        return Status("not known", ("The register is NOT whole, so it proves nothing:", *findings))
    entries = register.entries()
    says = found.statement
    decision = next((one for one in entries if one.number == says.register.entry), None)
    signed = [one for one in entries if one.kind == "certificate signed" and one.body["certificate_sha256"] == digest]
    if not signed or decision is None or decision.hash != says.register.hash:
        return Status("not entered", (f"This certificate ({says.number}) is not entered in {register.path} as it stands in the file.",))
    return status_of(entries, says.number, found.on)


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(1 << 20)
    except OSError as problem:
        raise Refusal(f"the file '{path}', which cannot be read ({problem.strerror})", "a file that can be read",
                      "check the name") from None


def what_was_found(found: Checked, compared: bool = False) -> list[str]:
    """The outcome of a check in plain lines; `compared` where a register is asked as well."""
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
              f"In writing: {says.written.score} of {says.written.out_of} marks, cut score {says.written.cut}, set by {says.written.cut_by}. {says.written.given}".strip(),
              *([f"By hand: {says.bench.again}"] if says.bench.again else []),
              *([f"Who did what: {says.declarations.roles}."] if says.declarations.roles else []),
              f"Decided by {says.decision.decider} on {says.decision.on}; register entry {says.register.entry}, "
              f"hash {says.register.hash}."]
    if found.expired:
        lines.append(f"EXPIRED: it ended on {says.validity.ends}, and {found.on} was asked for.")
    elif found.not_yet:
        lines.append(f"NOT YET VALID: it starts on {says.validity.starts}, and {found.on} was asked for.")
    else:
        lines.append(f"Valid from {says.validity.starts} to {says.validity.ends} ({found.on} was asked for; {says.validity.why.rstrip('.')})"
                     + ("." if compared else ", unless the issuer has withdrawn it: ask them."))
    return lines + list(says.cautions)
