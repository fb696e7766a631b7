"""A rig file laid out: its text and its bytes, before and after."""

from rigfolio.findings import Finding
from rigfolio.lang import edited
from rigfolio.layout.spacing import laid
from rigfolio.record import record


@record
class LaidFile:
    """A text before and after, the bytes of its file after, and the errors of lines left alone."""

    before: str
    after: str
    content: bytes
    errors: tuple[Finding, ...]


def laid_out(raw: bytes, file: str) -> LaidFile:
    """A file laid out; its byte order mark and its line ends stay.

    Raises
    ------
    UnicodeDecodeError
        The file is not UTF-8.
    RuntimeError
        The layout would change what the text says.
    """
    text = raw.decode("utf-8-sig")
    edits, errors = laid(text, file)
    content = edited(raw, text, edits)
    return LaidFile(text, content.decode("utf-8-sig"), content, errors)
