"""The command line: one word, then that command's own options."""

from __future__ import annotations

import importlib
import os
import sys

from rigcalc.errors import Refusal

__all__ = ["main"]

# word: (module, function taking the remaining words and giving an exit status, what it does)
COMMANDS = {
    "open": ("rigcalc.opening.commands", "open_workbook", "open the workbook at its first page"),
    "edit": ("rigcalc.opening.commands", "edit_lesson", "open a working copy of a lesson in JupyterLab"),
    "shop": ("rigcalc.shop.commands", "check_shop_file", "make or check the shop file, line by line"),
    "job": ("rigcalc.shop.job_command", "print_job_sheet", "one order in, its job sheet out"),
    "desk": ("rigcalc.desk.commands", "open_desk", "the assessor's desk: set, mark, decide, sign"),
    "room": ("rigcalc.room.commands", "open_room", "the room: sitting pages and bench forms"),
    "mark": ("rigcalc.papers.commands", "mark_folder", "mark a folder of returned answers"),
    "papers": ("rigcalc.desk.marking_commands", "look_at_papers", "how evenly hard a class's papers will be"),
    "correct": ("rigcalc.desk.marking_commands", "correct_class", "mark a class again after a question was wrong"),
    "quiz": ("rigcalc.papers.quality_commands", "how_good", "how good is the quiz? from kept results"),
    "simulate": ("rigcalc.papers.quality_commands", "simulate_candidates", "whom a paper decides rightly: simulated candidates"),
    "exchange": ("rigcalc.papers.quality_commands", "package_questions", "newly drawn questions as a QTI 3.0 package"),
    "register": ("rigcalc.register.commands", "check_register", "check the register for changed entries"),
    "certificate": ("rigcalc.register.commands", "check_certificate", "check a certificate file"),
    "demonstration": ("rigcalc.demonstration.commands", "make_demonstration", "make the invented class of twelve"),
}


def main(argv: list[str] | None = None) -> int:
    """Run one command; the exit status is 0 when it did what was asked, 2 when it refused."""
    words = list(sys.argv[1:] if argv is None else argv)
    if not words or words[0] in ("-h", "--help", "help"):
        print("rigcalc: the cable assembly workbook\n")
        for word, (_, _, does) in COMMANDS.items():
            print(f"  {word:<14} {does}")
        print("\nrigcalc COMMAND --help tells a command's own options.")
        return 0
    if words[0] not in COMMANDS:
        print(f"The command '{words[0]}' was given; accepted: {', '.join(COMMANDS)}; "
              "type one of these after rigcalc.", file=sys.stderr)
        return 2
    module, function, _ = COMMANDS[words[0]]
    try:
        status = getattr(importlib.import_module(module), function)(words[1:])
        sys.stdout.flush()
        return status
    except BrokenPipeError:  # the reader left, as in   rigcalc job | head
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        return 2
    except OSError as trouble:
        where = trouble.filename or f"the command '{words[0]}'"
        print(Refusal(f"{where} ({trouble.strerror or trouble})", "a file or folder that can be read and written here",
                      "look at its place and permissions, or set RIGCALC_HOME to a folder of yours"), file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
