"""Pictures of panels, and what is marked on them."""

from rigfolio.findings import Span
from rigfolio.record import record


@record
class PhotoMark:
    """A slot or wire on a picture: its name, and its place as shares of width and height [-]."""

    place: str
    x: float
    y: float
    span: Span


@record
class Photo:
    """A picture of a panel: its file, from the folder of the rig file, and what is marked on it.

    `white` are two corners of something white on it, as shares of width and height [-].
    """

    file: str
    marks: tuple[PhotoMark, ...]
    white: tuple[float, float, float, float] | None
    span: Span
