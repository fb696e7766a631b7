"""Arguments that several commands share; each function adds some to a parser."""

from argparse import ArgumentParser


def add_file(made: ArgumentParser, *, many: bool = False) -> None:
    """A rig file, or several, and the rule book to judge under."""
    folder = ", or a folder for all of its rigs" if many else ""
    made.add_argument(
        "file",
        nargs="+" if many else None,
        metavar="FILE",
        help=f"a rig file{folder}; - reads from a pipe",
    )
    add_book(made)


def add_book(made: ArgumentParser) -> None:
    """Another rule book than that of the text."""
    made.add_argument("--rules", metavar="NAME", help="a rule book instead of the file's own")


def add_format(made: ArgumentParser) -> None:
    """An answer as text or as JSON."""
    made.add_argument("--format", choices=("text", "json"), default="text")


def add_question(made: ArgumentParser) -> None:
    """What a question to one rig takes."""
    add_file(made)
    add_format(made)


def add_readings(made: ArgumentParser) -> None:
    """A rig file with readings, typed or out of a text."""
    add_file(made)
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


def add_out(made: ArgumentParser, where: str = "file or folder") -> None:
    """Where documents go."""
    made.add_argument("-o", dest="out", metavar="PATH", help=f"{where} instead of one under out/")


def add_paper(made: ArgumentParser) -> None:
    """What the printer takes, and by how much it is off."""
    made.add_argument("--paper", metavar="NAME", help="letter, a4 or another paper")
    made.add_argument(
        "--measured",
        metavar="MM",
        help="what 100 mm of the print check measure on your paper, or both: across,down",
    )


def add_sheet(made: ArgumentParser) -> None:
    """What every printed sheet of one rig takes."""
    add_file(made)
    add_out(made)
    add_paper(made)


def add_part(made: ArgumentParser) -> None:
    """What a sheet takes that can be printed for some parts alone."""
    add_sheet(made)
    made.add_argument("--only", metavar="NAMES", help="circuits, panels or wires: P1.3,P1.4,W7")
    add_since(made)


def add_since(made: ArgumentParser) -> None:
    """An earlier version, of which only what changed is printed."""
    made.add_argument(
        "--since", metavar="OLD", help="only what changed since that file, or REVISION:FILE"
    )
