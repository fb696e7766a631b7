"""The root of a PDF: metadata, colour space, named places, attached files; part of `pdf.py`."""

from collections.abc import Iterable, Mapping
from hashlib import md5
from typing import TYPE_CHECKING, Protocol, cast

from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas

from rigfolio.draw import plain
from rigfolio.render.archive import MAKER, Attached, Binding, DocumentInfo, packet, profile

if TYPE_CHECKING:
    from hashlib import _Hash as Hash

_DATE = "D:20000101000000+00'00'"


class _Root(Protocol):
    """The catalog dictionary: what is set on it and named in `__NoDefault__` is written."""

    __NoDefault__: list[str]
    Metadata: pdfdoc.PDFObject
    OutputIntents: pdfdoc.PDFObject
    AF: pdfdoc.PDFObject
    Names: pdfdoc.PDFObject


class _Document(Protocol):
    """What is used of the document of a canvas and has no types of its own."""

    Catalog: _Root
    info: "_Information"

    def Reference(self, thing: pdfdoc.PDFObject) -> pdfdoc.PDFObject: ...  # noqa: N802

    def updateSignature(self, thing: bytes) -> None: ...  # noqa: N802


class _Inside(Protocol):
    """What is used of the inside of a canvas."""

    _doc: _Document

    def _bookmarkReference(self, name: str) -> pdfdoc.PDFObject: ...  # noqa: N802


class _Information(pdfdoc.PDFObject):
    """The information dictionary; it has no entry that the metadata packet has not."""

    invariant: int

    def __init__(self, about: DocumentInfo) -> None:
        said = {
            "Title": about.title,
            "Author": about.author,
            "Subject": about.subject,
            "Keywords": about.keywords,
            "Creator": MAKER,
            "Producer": MAKER,
            "CreationDate": _DATE,
            "ModDate": _DATE,
        }
        self.said = {name: words for name, words in said.items() if words}

    def digest(self, signature: "Hash") -> None:
        """Let the document's own number depend on what it says of itself."""
        signature.update(repr(self.said).encode())

    def format(self, document: pdfdoc.PDFDocument) -> bytes:
        """The dictionary as it stands in the file."""
        strings = {name: pdfdoc.PDFString(words) for name, words in self.said.items()}
        written: bytes = pdfdoc.PDFDictionary(strings).format(document)
        return written


def hang(canvas: Canvas, about: DocumentInfo, binding: Binding, names: Iterable[str]) -> None:
    """Hang metadata, colour space, names and attached files on the root of the document.

    Parameters
    ----------
    canvas : Canvas
        With all its pages, not yet saved.
    about, binding : DocumentInfo, Binding
        What the document says of itself, and what it has beside its pages.
    names : iterable of str
        Bookmarks of the canvas that are to be found by name.
    """
    inside = cast("_Inside", canvas)
    document = inside._doc
    document.info = _Information(about)
    root = document.Catalog
    root.__NoDefault__ = [*root.__NoDefault__, "OutputIntents", "AF"]
    text = packet(about).encode()
    head = {"Type": pdfdoc.PDFName("Metadata"), "Subtype": pdfdoc.PDFName("XML")}
    root.Metadata = pdfdoc.PDFStream(pdfdoc.PDFDictionary(head), text)
    root.OutputIntents = pdfdoc.PDFArray([_intent(document)])
    places = {name: inside._bookmarkReference(name) for name in names}
    trees = {}
    if places:
        trees["Dests"] = _tree(document, places)
    if binding.attached:
        files = {each.name: _filespec(document, each) for each in binding.attached}
        trees["EmbeddedFiles"] = _tree(document, files)
        root.AF = pdfdoc.PDFArray([document.Reference(spec) for spec in files.values()])
    if trees:
        root.Names = pdfdoc.PDFDictionary(trees)
    if binding.outline:
        canvas.addPageLabel(0, style="ARABIC", start=1)


def _intent(document: _Document) -> pdfdoc.PDFDictionary:
    """What the colours mean: sRGB."""
    stream = pdfdoc.PDFStream(pdfdoc.PDFDictionary({"N": 3}), profile())
    return pdfdoc.PDFDictionary(
        {
            "Type": pdfdoc.PDFName("OutputIntent"),
            "S": pdfdoc.PDFName("GTS_PDFA1"),
            "OutputConditionIdentifier": pdfdoc.PDFString("sRGB IEC61966-2.1"),
            "Info": pdfdoc.PDFString("sRGB IEC61966-2.1"),
            "DestOutputProfile": document.Reference(stream),
        }
    )


def _tree(document: _Document, things: Mapping[str, pdfdoc.PDFObject]) -> pdfdoc.PDFDictionary:
    """A name tree of one node, in the order of the bytes of its names."""
    parts: list[pdfdoc.PDFObject] = []
    for name in sorted(things, key=_stored):
        parts += [pdfdoc.PDFString(name), document.Reference(things[name])]
    return pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray(parts)})


def _stored(text: str) -> bytes:
    """The bytes of a string as reportlab writes it: in PDF's own encoding where that has it all."""
    try:
        return text.encode("pdfdoc")
    except UnicodeEncodeError:
        return b"\xfe\xff" + text.encode("utf-16-be")


def _filespec(document: _Document, attached: Attached) -> pdfdoc.PDFDictionary:
    """A file as what the document was made from (ISO 19005-3, 6.8)."""
    params = {
        "Size": len(attached.content),
        "ModDate": pdfdoc.PDFString(_DATE),
        "CheckSum": pdfdoc.PDFText(md5(attached.content, usedforsecurity=False).digest(), "raw"),
    }
    head = {
        "Type": pdfdoc.PDFName("EmbeddedFile"),
        # As it stands in the file: PDFName would leave the stroke unescaped.
        "Subtype": "/text#2Fplain",
        "Params": pdfdoc.PDFDictionary(params),
    }
    document.updateSignature(attached.content)
    stream = document.Reference(pdfdoc.PDFStream(pdfdoc.PDFDictionary(head), attached.content))
    name = pdfdoc.PDFString(plain(attached.name))
    return pdfdoc.PDFDictionary(
        {
            "Type": pdfdoc.PDFName("Filespec"),
            "F": name,
            "UF": name,
            "Desc": pdfdoc.PDFString(plain(attached.description)),
            "AFRelationship": pdfdoc.PDFName("Source"),
            "EF": pdfdoc.PDFDictionary({"F": stream, "UF": stream}),
        }
    )
