"""The commands and the arguments that each of them takes."""

import argparse
from collections.abc import Callable, Mapping
from typing import NoReturn

from rigfolio.refusal import RefusalError

COMMANDS = {
    "new": "write a commented rig file to start from",
    "survey": "print a sheet to take to the panel and a table to fill in, or put a filled one in",
    "check": "judge rig files under their rule book",
    "explain": "say what a rule forbids and why, or list all rules",
    "isolate": "say what to open to make a panel or part dead, and what stays live then",
    "live": "say what is alive in which state of the rig, and what must stay on but does not",
    "demand": "say what every part must carry, what a day takes, how long the battery lasts",
    "short": "say what a dead short at some place does: what flows, what opens, what burns",
    "size": "propose gauge and fuse for every circuit and feed, and write them in if asked",
    "diagnose": "say which fault explains readings and symptoms best, and what to measure next",
    "log": "keep readings and work done in a text beside the rig file, or show them",
    "arrange": "propose the order of slots that every wire reaches, and write it in if asked",
    "compare": "say what changed between two versions of a rig, and what to print again",
    "draw": "draw the schematic",
    "face": "draw each panel as it is seen, with the fuse that belongs in each slot",
    "rulers": "print a page to measure your printer by",
    "photo": "print the pictures of the panel with names beside their marks, and guess colours",
    "labels": "print the labels of the panel's slots",
    "tags": "print the tags for both ends of every wire",
    "legend": "print which colour belongs to which circuit",
    "directory": "print the directory for the panel's door",
    "picklist": "print what has to be bought, with spares and slack",
    "workplan": "print the work at a panel step by step: dead, marked, moved, checked, live",
    "testsheet": "print what a meter should show, stage by stage, with blanks to fill in",
    "folio": "print all of these, each by itself and bound as one PDF",
    "extract": "give back the rig file that a folio was made from",
}
"""Every command, and what it is for."""
CAUTION = "Not a safety certificate: local code and licensed practice come first."


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """Refuse arguments in the manner of every other message."""
        text = message[:1].lower() + message[1:].replace("invalid choice: ", "found ")
        raise RefusalError("command-not-understood", text, f"`{self.prog} --help` shows how")


def parser(name: str) -> argparse.ArgumentParser:
    """The parser of one command; those of the others are not made."""
    made = _Parser(
        prog=f"rigfolio {name}",
        description=f"{COMMANDS[name].capitalize()}.",
        epilog=CAUTION,
        allow_abbrev=False,
    )
    _TAKES[name](made)
    made.set_defaults(command=name)
    return made


def _file(made: argparse.ArgumentParser, *, many: bool = False) -> None:
    made.add_argument(
        "file",
        nargs="+" if many else None,
        metavar="FILE",
        help="a rig file; - reads from a pipe",
    )
    _book(made)


def _book(made: argparse.ArgumentParser) -> None:
    made.add_argument("--rules", metavar="NAME", help="a rule book instead of the file's own")


def _format(made: argparse.ArgumentParser) -> None:
    made.add_argument("--format", choices=("text", "json"), default="text")


def _out(made: argparse.ArgumentParser, where: str) -> None:
    made.add_argument("-o", dest="out", metavar="PATH", help=f"{where} instead of one under out/")


def _check(made: argparse.ArgumentParser) -> None:
    _file(made, many=True)
    _format(made)


def _new(made: argparse.ArgumentParser) -> None:
    made.add_argument("kind", choices=("towable", "van", "boat", "cabin"), help="what the rig is")
    made.add_argument("file", metavar="FILE", help="the rig file to be written")
    made.add_argument("--name", help="what the rig is called; as the file if left out")
    made.add_argument("--slots", type=int, default=12, metavar="N", help="slots of its panel")
    made.add_argument("--volts", type=int, choices=(12, 24, 48), default=12)
    made.add_argument("--metric", action="store_true", help="mm² and metres, A4 paper")
    made.add_argument("--with", dest="parts", metavar="PARTS", default="",
                      help="what else there is, with commas: shore, solar, vehicle, alternator, "
                      "disconnect")  # fmt: skip


def _survey(made: argparse.ArgumentParser) -> None:
    _file(made)
    _out(made, "file or folder")
    _paper(made)
    made.add_argument("--from", dest="survey", metavar="TABLE", help="a filled survey, as CSV")
    made.add_argument("--write", action="store_true", help="write what it says into the rig file")


def _explain(made: argparse.ArgumentParser) -> None:
    made.add_argument("rule", nargs="?", help="a rule or an error; all of them if left out")


def _ask(made: argparse.ArgumentParser) -> None:
    _file(made)
    _format(made)
    made.set_defaults(place="", write=False)


def _isolate(made: argparse.ArgumentParser) -> None:
    _ask(made)
    made.add_argument("place", metavar="PLACE", help="a panel, a slot or a part: P1, P1.3")


def _short(made: argparse.ArgumentParser) -> None:
    _ask(made)
    made.add_argument(
        "place", metavar="WHERE", help="a panel, slot, wire, load, part or terminal: P1.3, W2, B1+"
    )


def _size(made: argparse.ArgumentParser) -> None:
    _ask(made)
    made.add_argument(
        "--write", action="store_true", help="edit those gauges and ratings in the text"
    )


def _arrange(made: argparse.ArgumentParser) -> None:
    _file(made)
    _format(made)
    made.add_argument("--write", action="store_true", help="edit the slot numbers in the text")


def _readings(made: argparse.ArgumentParser) -> None:
    _file(made)
    made.add_argument(
        "reading",
        nargs="*",
        metavar="READING",
        help="one each: 'P1.3 = 11.2 V', 'Porch lamp dead', 'P1 to P1.3 = 40 mV, with Pump on'",
    )
    made.add_argument(
        "--from",
        dest="texts",
        action="append",
        default=[],
        metavar="TEXT",
        help="a text with readings, one a line",
    )


def _diagnose(made: argparse.ArgumentParser) -> None:
    _readings(made)
    made.add_argument("--logged", metavar="DATE", help="the readings of that day in the log too")
    _format(made)


def _log(made: argparse.ArgumentParser) -> None:
    _readings(made)
    made.add_argument("--on", metavar="DATE", help="the day of the entries; today if left out")


def _compare(made: argparse.ArgumentParser) -> None:
    for each in ("old", "new"):
        made.add_argument(
            each, metavar=each.upper(), help="a rig file, or REVISION:FILE out of git"
        )
    _book(made)
    _format(made)


def _sheet(made: argparse.ArgumentParser) -> None:
    _file(made)
    _out(made, "file or folder")
    _paper(made)


def _paper(made: argparse.ArgumentParser) -> None:
    made.add_argument("--paper", metavar="NAME", help="letter, a4 or another paper")
    made.add_argument(
        "--measured",
        metavar="MM",
        help="what 100 mm of the print check measure on your paper, or both: across,down",
    )


def _part(made: argparse.ArgumentParser) -> None:
    _sheet(made)
    made.add_argument("--only", metavar="NAMES", help="circuits, panels or wires: P1.3,P1.4,W7")
    made.add_argument(
        "--since", metavar="OLD", help="only what changed since that file, or REVISION:FILE"
    )


def _draw(made: argparse.ArgumentParser) -> None:
    _sheet(made)
    made.add_argument("--format", choices=("svg", "pdf", "png"))


def _tags(made: argparse.ArgumentParser) -> None:
    _part(made)
    made.add_argument(
        "--form", choices=("wrap", "flag", "sleeve"), help="by the wire's own size if left out"
    )


def _labels(made: argparse.ArgumentParser) -> None:
    _part(made)
    made.add_argument(
        "--form", choices=("strip", "sheet", "tape", "tape-strip"), default="strip",
        help="strips at the pitch of the panel, a sheet of cut labels, single labels on tape, or "
        "strips on tape",
    )  # fmt: skip
    made.add_argument("--stock", metavar="SHEET", help="a sheet by name, or its measures")
    made.add_argument("--start", type=int, metavar="N", help="first label that is left on a sheet")
    made.add_argument("--tape", type=float, metavar="MM", help="width of the tape: 6 to 24 mm")
    made.add_argument("--dpi", type=int, metavar="N", help="dots an inch of the tape: 180 to 360")
    made.add_argument("--dots", type=int, metavar="N", help="dots that are printed across the tape")


def _rulers(made: argparse.ArgumentParser) -> None:
    _out(made, "file or folder")
    _paper(made)


def _folio(made: argparse.ArgumentParser) -> None:
    _file(made)
    _out(made, "folder, or a .pdf for the bound folio alone,")
    _paper(made)
    made.add_argument(
        "--since", metavar="OLD", help="only the sheets that changed since that file or revision"
    )


def _extract(made: argparse.ArgumentParser) -> None:
    made.add_argument("file", metavar="FOLIO.pdf", help="a folio as it was printed to a file")
    made.add_argument("-o", dest="out", metavar="FOLDER", help="a folder instead of this one")


_TAKES: Mapping[str, Callable[[argparse.ArgumentParser], None]] = {
    "new": _new,
    "survey": _survey,
    "check": _check,
    "explain": _explain,
    "isolate": _isolate,
    "live": _ask,
    "demand": _ask,
    "short": _short,
    "size": _size,
    "diagnose": _diagnose,
    "log": _log,
    "arrange": _arrange,
    "compare": _compare,
    "draw": _draw,
    "face": _sheet,
    "rulers": _rulers,
    "photo": _sheet,
    "labels": _labels,
    "tags": _tags,
    "legend": _sheet,
    "directory": _sheet,
    "picklist": _part,
    "workplan": _part,
    "testsheet": _sheet,
    "folio": _folio,
    "extract": _extract,
}
"""What gives each command its arguments."""
