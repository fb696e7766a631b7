"""The structure tree of a PDF, walked with pikepdf, which does not write the documents.

What is asked is that of ISO
32000-1, 14.7 and 14.8, and ISO 14289-1 (PDF/UA-1), 7.1 to 7.5; numbers of clauses from memory.
"""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO

import pikepdf

SHOWS = frozenset(
    ("S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "'", '"', "Do", "sh")
)
"""Operators that leave something on paper."""
PAIR = re.compile(rb"^<(..)> <([0-9A-F]{4,})>$", re.MULTILINE)
WHOLE = frozenset(("H1", "H2", "P", "TH", "TD", "Figure", "Link", "Span"))
STANDARD = frozenset(
    ("Document", "Sect", "H1", "H2", "P", "Table", "TR", "TH", "TD", "Figure", "Link", "Span")
)


@dataclass
class Branch:
    """An element of the tree with the words below it."""

    kind: str
    about: str = ""
    language: str = ""
    parts: list["Branch | str"] = field(default_factory=list)

    @property
    def kids(self) -> list["Branch"]:
        """The elements below, in reading order."""
        return [part for part in self.parts if isinstance(part, Branch)]

    def each(self, *kinds: str) -> Iterator["Branch"]:
        """All elements of some kinds below, in reading order."""
        for kid in self.kids:
            if kid.kind in kinds:
                yield kid
            yield from kid.each(*kinds)

    @property
    def text(self) -> str:
        """All words below, those of one element as they are, a blank between the others."""
        if self.kind in WHOLE:
            return "".join(each if isinstance(each, str) else each.text for each in self.parts)
        return " ".join(filter(None, (kid.text for kid in self.kids)))


def tree_of(content: bytes) -> Branch:
    """The tree of a document, after all that must hold of any tree was seen to hold."""
    with pikepdf.open(BytesIO(content)) as pdf:
        assert bool(pdf.Root.MarkInfo.Marked)
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
        assert str(pdf.Root.Lang) == "en"
        return _Walk(pdf, [_marked(page) for page in pdf.pages]).tree()


def _letters(page: pikepdf.Page) -> dict[str, dict[int, str]]:
    """What each code of each font of a page means."""
    found = {}
    for name, font in page.Resources.Font.items():
        table = font.ToUnicode.read_bytes() if "/ToUnicode" in font else b""
        found[name] = {
            int(code, 16): bytes.fromhex(letters.decode()).decode("utf-16-be")
            for code, letters in PAIR.findall(table)
        }
    return found


def _marked(page: pikepdf.Page) -> dict[int, str]:
    """The words of each marked stretch of a page; nothing is shown outside of any."""
    letters = _letters(page)
    open_tags: list[tuple[str, int | None]] = []
    words: dict[int, str] = {}
    font = ""
    words_at: int | None = None
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name == "BT":
            words_at = len(open_tags)
        elif name == "ET":
            assert words_at == len(open_tags), "a stretch begins or ends inside words only"
            words_at = None
        elif name in ("BMC", "BDC"):
            facts = operands[1] if name == "BDC" else {}
            number = int(facts["/MCID"]) if "/MCID" in facts else None
            if number is not None:
                assert all(each is None for _, each in open_tags), "marked twice"
                assert number not in words
                words[number] = ""
            open_tags.append((str(operands[0]), number))
        elif name == "EMC":
            assert len(open_tags) > (words_at or 0)
            open_tags.pop()
        elif name in SHOWS:
            held = [tag for tag, number in open_tags if number is not None or tag == "/Artifact"]
            assert len(held) == 1, f"{name} is neither read nor an artifact"
        elif name == "Tf":
            font = str(operands[0])
        if name == "Tj" and open_tags[-1][1] is not None:
            codes = bytes(operands[0])
            words[open_tags[-1][1]] += "".join(letters[font][code] for code in codes)
    assert not open_tags
    assert sorted(words) == list(range(len(words)))
    return words


class _Walk:
    def __init__(self, pdf: pikepdf.Pdf, marked: list[dict[int, str]]) -> None:
        self.root = pdf.Root.StructTreeRoot
        self.places = {page.objgen: number for number, page in enumerate(pdf.pages)}
        self.pdf = pdf
        self.marked = marked
        self.parents: dict[tuple[int, int], pikepdf.Object] = {}
        self.pressed: dict[tuple[int, int], pikepdf.Object] = {}

    def tree(self) -> Branch:
        made = self.branch(self.root.K, self.root)
        assert made.kind == "Document"
        wanted = {(page, each) for page, numbers in enumerate(self.marked) for each in numbers}
        assert set(self.parents) == wanted
        nums = list(self.root.ParentTree.Nums)
        table = dict(zip(map(int, nums[::2]), nums[1::2], strict=True))
        assert list(table) == sorted(table)
        seen = Counter[tuple[int, int]]()
        for number, page in enumerate(self.pdf.pages):
            here = table.pop(int(page.StructParents))
            for mark, parent in enumerate(here):
                assert self.parents[number, mark].objgen == parent.objgen
            assert len(here) == len(self.marked[number])
            links = [each for each in page.get("/Annots", []) if each.Subtype == "/Link"]
            for link in links:
                seen[link.objgen] += 1
                parent = table.pop(int(link.StructParent))
                assert self.pressed[link.objgen].objgen == parent.objgen
                assert str(parent.S) == "/Link"
                assert str(link.Contents)
            assert str(page.Tabs) == "/S"
        assert not table
        assert set(seen) == set(self.pressed)
        return made

    def branch(self, element: pikepdf.Object, parent: pikepdf.Object) -> Branch:
        assert element.P.objgen == parent.objgen
        made = Branch(str(element.S)[1:])
        assert made.kind in STANDARD
        made.about = str(element.get("/Alt", element.get("/T", "")))
        made.language = str(element.get("/Lang", ""))
        kids = element.get("/K")
        each = [] if kids is None else list(kids) if isinstance(kids, pikepdf.Array) else [kids]
        page = self.places[element.Pg.objgen] if "/Pg" in element else -1
        for kid in each:
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                made.parts.append(self.branch(kid, element))
            elif isinstance(kid, pikepdf.Dictionary) and "/Obj" in kid:
                assert kid.Obj.objgen not in self.pressed, "two elements for one link"
                self.pressed[kid.Obj.objgen] = element
            else:
                at = (page, int(kid)) if isinstance(kid, int) else self._elsewhere(kid)
                assert at not in self.parents, "two elements for one stretch"
                self.parents[at] = element
                made.parts.append(self.marked[at[0]][at[1]])
        self._well_made(made, element)
        return made

    def _elsewhere(self, kid: pikepdf.Object) -> tuple[int, int]:
        return self.places[kid.Pg.objgen], int(kid.MCID)

    def _well_made(self, made: Branch, element: pikepdf.Object) -> None:
        if made.kind == "Figure":
            assert len(made.about) > 3
        if made.kind == "Sect":
            assert made.about
        if made.kind == "Table":
            assert made.kids
            assert {row.kind for row in made.kids} == {"TR"}
            rows = element.K if isinstance(element.K, pikepdf.Array) else [element.K]
            assert len({_columns(row) for row in rows}) == 1
        if made.kind == "TR":
            assert {cell.kind for cell in made.kids} <= {"TH", "TD"}
        if made.kind == "TH":
            assert str(element.A.Scope) == "/Column"


def _columns(row: pikepdf.Object) -> int:
    cells = row.K if isinstance(row.K, pikepdf.Array) else [row.K]
    return sum(int(cell.get("/A", {}).get("/ColSpan", 1)) for cell in cells)
