"""The structure tree as it stands in a PDF, and the links of its pages; part of `pdf.py`.

A tree of thousands of elements is most of what is added to a document by tagging it, so each is
written in the shortest form that ISO 32000-1, 14.7 allows.
"""

from collections.abc import Iterable, Sequence
from typing import Protocol, cast

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas

from rigfolio.draw import Group, Mark, Page, Text, link_areas, plain
from rigfolio.render.languages import in_languages
from rigfolio.render.pdf_code import TextRun, code_of
from rigfolio.render.structure import Content, Element, Pressed, Structure

_PRINTED = 4
"""Flag of an annotation that may stand in an archived document (ISO 19005-3, 6.3.2)."""


class _Catalog(Protocol):
    """What is set on the root of the document."""

    StructTreeRoot: pdfdoc.PDFObject
    MarkInfo: pdfdoc.PDFObject


class _PageObject(Protocol):
    """What is set on a page: what is named in `__NoDefault__` is written."""

    __NoDefault__: list[str]
    StructParents: int
    Tabs: str


class _TaggedDocument(Protocol):
    """What is used of the document of a canvas and has no types of its own."""

    Catalog: _Catalog
    idToObject: dict[str, _PageObject]  # noqa: N815
    idToObjectNumberAndVersion: dict[str, tuple[int, int]]  # noqa: N815

    def Reference(self, thing: pdfdoc.PDFObject) -> pdfdoc.PDFObjectReference: ...  # noqa: N802

    def annotationName(self, name: str) -> str: ...  # noqa: N802


class _TaggedCanvas(Protocol):
    """What is used of the inside of a canvas."""

    _doc: _TaggedDocument

    def _bookmarkReference(self, name: str) -> pdfdoc.PDFObject: ...  # noqa: N802

    def _addAnnotation(self, annotation: pdfdoc.PDFObject, name: str) -> None: ...  # noqa: N802


_ARTIFACT = Element("Artifact")
_JOINED = ("-", "/")
"""How a line ends that breaks inside a word."""


class MarkedContent:
    """The marked stretches of one page, each opened and closed either among words or outside."""

    def __init__(self, canvas: Canvas, structure: Structure) -> None:
        self.structure = structure
        self.code = code_of(canvas)
        self.current: Element | None = None
        self.owner: Element | None = None
        """What the words that were written last belong to, or the run of another language in it."""
        self.last = ""
        self.is_in_words = False
        self.is_in_figure = False

    def graphics(self) -> None:
        """What is drawn next is no word, and no run of words is open."""
        if not self.is_in_figure:
            self._turn_to(_ARTIFACT, None)

    def belongs(self, text: Text, within: Sequence[Group]) -> Element | None:
        """What a text belongs to that stands within groups, the outermost first."""
        if self.is_in_figure:
            return self.current
        return self.structure.text(text, within) or _ARTIFACT

    def interrupts(self, element: Element | None) -> bool:
        """Whether a stretch that was opened outside of words has to be closed before a text."""
        return self.current not in (None, element) and not self.is_in_words

    def word(self, element: Element | None, words: TextRun) -> None:
        """What is written next belongs to an element; a further line of it is parted by a blank."""
        if element is None:
            return
        if not self.is_in_words or element is not self.owner:
            self._turn_to(element, words.code)
        elif element is not _ARTIFACT and not self.last.endswith(_JOINED):
            words.write(" ")
        self.owner = element

    def write(self, words: TextRun, text: str) -> None:
        """Write a line, its words in other languages marked as such."""
        self.last = text
        if text.isascii() or not self.is_in_words or self.owner in (None, _ARTIFACT):
            words.write(text)
            return
        code = words.code
        for piece, language in in_languages(text):
            target = self.owner
            if language:
                target = self.owner.grow("Span")
                target.language = language
            self._turn_to(target, code)
            words.write(piece)

    def begin_figure(self, about: str, marks: Iterable[Mark]) -> None:
        """What is drawn next is one picture."""
        self._turn_to(self.structure.figure(about, marks), None)
        self.is_in_figure = True

    def end_figure(self) -> None:
        """The picture ends here."""
        self.is_in_figure = False
        self.close()

    def end_words(self, words: TextRun) -> None:
        """A run of words ends."""
        if self.is_in_words:
            self._close(words.code)

    def close(self) -> None:
        """What was opened outside of words ends."""
        self._close(self.code)

    def _turn_to(self, element: Element, words: list[str] | None) -> None:
        if element is self.current:
            return
        code = self.code if words is None else words
        self._close(code)
        if element is _ARTIFACT:
            code.append("/Artifact BMC")
        else:
            code.append(f"/{element.kind}<</MCID {self.structure.mark(element)}>>BDC")
        self.current, self.is_in_words = element, words is not None

    def _close(self, code: list[str]) -> None:
        if self.current is not None:
            code.append("EMC")
        self.current, self.is_in_words = None, False


class _PressedPlace(pdfdoc.PDFObject):
    """A place that is pressed: where, what it is called, where it leads, its key in the tree."""

    def __init__(self, sides: Iterable[float], about: str, to: pdfdoc.PDFObject, key: int) -> None:
        self.sides = sides
        self.about = about
        self.to = to
        self.key = key

    def format(self, document: pdfdoc.PDFDocument) -> bytes:
        """The annotation as it stands in the file."""
        sides = " ".join(f"{side:g}" if side % 1 else f"{side:.0f}" for side in self.sides)
        about = pdfdoc.PDFString(plain(self.about)).format(document)
        head = f"<</Type/Annot/Subtype/Link/F {_PRINTED}/Border[0 0 0]/Rect[{sides}]"
        tail = f"/StructParent {self.key}/Dest "
        to: bytes = pdfdoc.format(self.to, document)
        return b"".join((head.encode(), b"/Contents", about, tail.encode(), to, b">>"))


class _Written(pdfdoc.PDFObject):
    """An object whose words are known when the document is saved."""

    def __init__(self) -> None:
        self.words = b""

    def format(self, document: pdfdoc.PDFDocument) -> bytes:  # noqa: ARG002
        """The words."""
        return self.words


def lay_links(canvas: Canvas, page: Page, first: int, pages: int) -> list[Group]:
    """Lay the links of the current page; gives the groups that are pressed, in their order.

    Parameters
    ----------
    canvas, page : Canvas, Page
        The document, and the page that is drawn.
    first, pages : int
        Links of the document before those of the page, and how many pages it has.
    """
    inside = cast("_TaggedCanvas", canvas)
    groups = []
    for number, (box, group) in enumerate(link_areas(page), start=first):
        left, top, right, bottom = box
        sides = (left, page.height_mm - bottom, right, page.height_mm - top)
        corners = tuple(round(side * mm, 2) for side in sides)
        to = inside._bookmarkReference(group.goes_to)
        link = _PressedPlace(corners, group.title, to, pages + number)
        inside._addAnnotation(link, _link_name(number))
        groups.append(group)
    return groups


def _link_name(number: int) -> str:
    return f"link{number}"


def hang_structure(canvas: Canvas, structure: Structure) -> None:
    """Hang the tree on the root of the document, and its pages on the tree.

    Parameters
    ----------
    canvas : Canvas
        With all its pages, not yet saved.
    structure : Structure
        Grown with the pages of the canvas.
    """
    document = cast("_TaggedCanvas", canvas)._doc
    for number in range(len(structure.marked)):
        page = document.idToObject[_page_name(number)]
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = number, "/S"
    _TreeWriter(document, structure).hang()
    document.Catalog.MarkInfo = pdfdoc.PDFDictionary({"Marked": "true"})


def _page_name(number: int) -> str:
    return f"Page{number + 1}"


class _TreeWriter:
    """Writes the elements of a tree, each with its number in the document."""

    def __init__(self, document: _TaggedDocument, structure: Structure) -> None:
        self.document = document
        self.structure = structure
        self.numbers: dict[int, int] = {}
        self.waiting: list[tuple[Element, int, _Written]] = []

    def hang(self) -> None:
        """Write all of it below the root of the document."""
        top = _Written()
        parents = _Written()
        self.document.Catalog.StructTreeRoot = top
        top_number, parents_number = self._number(top), self._number(parents)
        first = self._enter(self.structure.root, top_number)
        for element, parent, written in self.waiting:
            written.words = self._words(element, parent).encode("latin-1")
        count = len(self.structure.marked) + len(self.structure.links)
        top.words = (
            f"<</Type/StructTreeRoot/K {first} 0 R/ParentTree {parents_number} 0 R"
            f"/ParentTreeNextKey {count}>>"
        ).encode()
        parents.words = f"<</Nums[{' '.join(self._parents())}]>>".encode()

    def _parents(self) -> Iterable[str]:
        """Whose each marked stretch of each page is, then whose each link is."""
        for page, marked in enumerate(self.structure.marked):
            each = " ".join(f"{self.numbers[id(element)]} 0 R" for element in marked)
            yield f"{page}[{each}]"
        for key, link in enumerate(self.structure.links, start=len(self.structure.marked)):
            yield f"{key} {self.numbers[id(link)]} 0 R"

    def _number(self, thing: pdfdoc.PDFObject) -> int:
        name = self.document.Reference(thing).name
        return self.document.idToObjectNumberAndVersion[name][0]

    def _enter(self, element: Element, parent: int) -> int:
        """Give numbers to an element and all below it that marks or holds anything."""
        written = _Written()
        number = self.numbers[id(element)] = self._number(written)
        self.waiting.append((element, parent, written))
        for kid in element.kids:
            if isinstance(kid, Element) and kid.kids:
                self._enter(kid, number)
        return number

    def _words(self, element: Element, parent: int) -> str:
        page = next((kid.page for kid in element.kids if not isinstance(kid, Element)), None)
        own = self.numbers[id(element)]
        kids = [self._kid(kid, own, page) for kid in element.kids]
        inside = kids[0] if len(kids) == 1 else f"[{' '.join(kids)}]"
        at = "" if page is None else f"/Pg {self._page(page)}"
        return f"<</S/{element.kind}/P {parent} 0 R{at}/K {inside}{_facts(element)}>>"

    def _kid(self, kid: Element | Content | Pressed, own: int, page: int | None) -> str:
        match kid:
            case Element():
                if not kid.kids:
                    return f"<</S/{kid.kind}/P {own} 0 R{_facts(kid)}>>"
                return f"{self.numbers[id(kid)]} 0 R"
            case Content():
                if kid.page == page:
                    return str(kid.mark)
                return f"<</Type/MCR/Pg {self._page(kid.page)}/MCID {kid.mark}>>"
            case Pressed():
                name = self.document.annotationName(_link_name(kid.link))
                number = self.document.idToObjectNumberAndVersion[name][0]
                return f"<</Type/OBJR/Pg {self._page(kid.page)}/Obj {number} 0 R>>"

    def _page(self, number: int) -> str:
        return f"{self.document.idToObjectNumberAndVersion[_page_name(number)][0]} 0 R"


def _facts(element: Element) -> str:
    """What an element says beside what it holds."""
    facts = ""
    if element.about:
        words = pdfdoc.PDFString(element.about).format(pdfdoc.DummyDoc()).decode("latin-1")
        facts += f"/{'T' if element.kind == 'Sect' else 'Alt'}{words}"
    if element.language:
        facts += f"/Lang({element.language})"
    if element.kind == "TH":
        facts += "/A<</O/Table/Scope/Column>>"
    elif element.columns > 1:
        facts += f"/A<</O/Table/ColSpan {element.columns}>>"
    return facts
