"""What makes a PDF a document for the archive: its metadata packet and its colour profile.

ISO 19005-3 (PDF/A-3) at level B; clause numbers in comments are those of that standard.
"""

from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from html import escape
from importlib.resources import files

from rigfolio.record import record

MAKER = "rigfolio"
"""By this name every document says which program made it."""
SHA_256 = "SHA-256 "
"""Before the digest of an attached file, in hexadecimal figures."""
DATE = "2000-01-01T00:00:00+00:00"
"""In every document, since the same text gives the same bytes on any day."""


@record
class DocumentInfo:
    """What a document says of itself."""

    title: str
    author: str = ""
    subject: str = ""
    keywords: str = ""


@cache
def profile() -> bytes:
    """The colour space of all colours, sRGB (IEC 61966-2-1), as an ICC profile of version 4.2.

    Made once with the open-source library littlecms, whose built-in profile says `No copyright,
    use freely`; date and program names in its head are set to fixed values. It is kept as a file
    because another version of that library writes other bytes.
    """
    return files(__package__).joinpath("srgb.icc").read_bytes()


def packet(about: DocumentInfo) -> str:
    """The metadata packet (XMP) of a document; it says what its information dictionary says."""
    body = "\n".join(_properties(about))
    # No attribute for bytes or encoding in the head: 6.6.2.1.
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">\n'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">\n'
        '<rdf:Description rdf:about=""\n'
        ' xmlns:dc="http://purl.org/dc/elements/1.1/"\n'
        ' xmlns:pdf="http://ns.adobe.com/pdf/1.3/"\n'
        ' xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"\n'
        ' xmlns:xmp="http://ns.adobe.com/xap/1.0/">\n'
        f"{body}\n"
        "</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n"
        '<?xpacket end="r"?>'
    )


def _properties(about: DocumentInfo) -> Iterator[str]:
    yield "<pdfaid:part>3</pdfaid:part>"
    yield "<pdfaid:conformance>B</pdfaid:conformance>"
    yield "<dc:format>application/pdf</dc:format>"
    yield f"<dc:title>{_in_any_language(about.title)}</dc:title>"
    if about.author:
        each = f"<rdf:li>{escape(about.author, quote=False)}</rdf:li>"
        yield f"<dc:creator><rdf:Seq>{each}</rdf:Seq></dc:creator>"
    if about.subject:
        yield f"<dc:description>{_in_any_language(about.subject)}</dc:description>"
    if about.keywords:
        yield f"<pdf:Keywords>{escape(about.keywords, quote=False)}</pdf:Keywords>"
    yield f"<pdf:Producer>{MAKER}</pdf:Producer>"
    yield f"<xmp:CreatorTool>{MAKER}</xmp:CreatorTool>"
    yield f"<xmp:CreateDate>{DATE}</xmp:CreateDate>"
    yield f"<xmp:ModifyDate>{DATE}</xmp:ModifyDate>"


def _in_any_language(text: str) -> str:
    return f'<rdf:Alt><rdf:li xml:lang="x-default">{escape(text, quote=False)}</rdf:li></rdf:Alt>'


@record
class Attached:
    """A file inside a document: its name, with `/` between folders, its bytes and what it is."""

    name: str
    content: bytes
    about: str = ""

    @property
    def description(self) -> str:
        """What it is, and a digest of its bytes that any machine can work out again.

        The digest that the format has a place for is MD5 (ISO 32000-1, table 46), for which two
        texts with one digest can be made.
        """
        return f"{self.about} {SHA_256}{sha256(self.content).hexdigest()}".lstrip()


@record
class Entry:
    """A line of the outline; `level` 1 stands under the level 0 before it.

    `goes_to` is as in `Group`.
    """

    title: str
    goes_to: str
    level: int = 0


@record
class Binding:
    """What a document of several sheets has beside its pages.

    Without an `outline` every page with a name has a bookmark.
    """

    keywords: str = ""
    outline: tuple[Entry, ...] = ()
    attached: tuple[Attached, ...] = ()
