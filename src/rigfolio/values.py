"""Written values that are not quantities: colours and places."""

from rigfolio.record import record


@record
class Colour:
    """An insulation colour in plain words, `tan/white` is tan with a white stripe."""

    base: str
    stripe: str | None = None

    def __str__(self) -> str:
        """Base and stripe with a slash, as the trade writes it."""
        return f"{self.base}/{self.stripe}" if self.stripe else self.base


@record
class Place:
    """A terminal as it is written: name, pin or end behind dots, sign.

    `B1+` has sign `+`; `F1.line` has tail `line`; `P1.3` has tail `3`. `start` and `end` are the
    characters that wrote it; they do not count when places are compared.
    """

    name: str
    tail: tuple[str, ...] = ()
    sign: str = ""
    start: int = -1
    end: int = -1

    def __str__(self) -> str:
        """The place as it is written."""
        return ".".join((self.name, *self.tail)) + self.sign

    def __eq__(self, other: object) -> bool:
        """Whether both mean the same terminal."""
        return isinstance(other, Place) and str(self) == str(other)

    def __hash__(self) -> int:
        """The hash of the terminal that is meant."""
        return hash(str(self))


def read_place(text: str, start: int = -1) -> Place:
    """The parts of a written place that starts at some character."""
    sign = text[-1] if text[-1] in "+-" else ""
    name, *tail = (text[:-1] if sign else text).split(".")
    return Place(name, tuple(tail), sign, start, start + len(text) if start >= 0 else -1)


MINUS = "−"
"""The minus sign as it is printed; typed, it is a hyphen."""


def printed(name: str) -> str:
    """The name of a terminal with its sign as it is printed.

    Examples
    --------
    >>> printed("B1-"), printed("S1.line-2 fuse")
    ('B1−', 'S1.line-2 fuse')
    """
    return f"{name[:-1]}{MINUS}" if name.endswith("-") else name
