"""The files that a folio carries, taken out again; the only module that talks to pypdf."""

import logging
import os
import re
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from hashlib import md5, sha256
from io import BytesIO
from itertools import permutations
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from rigfolio.judgement import digest
from rigfolio.reading import LARGEST_FILE, MOST_FILES, plain_bytes
from rigfolio.record import record
from rigfolio.refusal import RefusalError
from rigfolio.render import SHA_256

if TYPE_CHECKING:
    from pypdf import PdfReader
    from pypdf.generic import DictionaryObject, PdfObject, StreamObject

_LARGEST_FOLIO = 200_000_000
"""Bytes of a folio that is read; a large one has two million."""
_DEEPEST = 8
"""Folders in the name of an attached file."""
_MOST_NODES = 500
"""Nodes of a name tree that are looked at."""
_ANOTHER = "name a `folio.pdf` that `rigfolio folio` made"
_FORBIDDEN = frozenset('\\:*?"<>|' if os.name == "nt" else "\\")
"""Letters that part a name, or that no name may hold."""
_DIGEST = re.compile("\\btext ([0-9a-f]{12})\\b")
"""How the pages and the keywords of a folio name its text."""
_STATED = re.compile(f"{SHA_256}([0-9a-f]{{64}})")
_BARE_RETURN = re.compile("\r(?!\n)")
_DRIVE = re.compile("[A-Za-z]:")
_DEVICE = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)
"""Names that stand for devices on some machines, whatever follows the point."""
_MOST_SORTED = 6
"""Files whose order is tried where a document does not say it."""


@record
class TakenOut:
    """The files that a PDF carries, by their names, with `/` between folders.

    `unproved` are those of which nothing in it tells whether they are as they were attached.
    """

    files: Mapping[str, bytes]
    unproved: tuple[str, ...] = ()


def taken_out(file: str) -> TakenOut:
    """The files that are attached to a PDF.

    Parameters
    ----------
    file : str
        Path of the PDF.

    Raises
    ------
    RefusalError
        It cannot be read, is no PDF, is locked, carries nothing, not all that it names or not what
        was attached, or carries a file whose name or size nobody should trust.
    """
    content = _content(file)
    try:
        with _without_its_remarks():
            made = _all(content, file)
    except RefusalError:
        raise
    except Exception as problem:  # noqa: BLE001
        # What is broken in a PDF shows in as many ways as the library has lines.
        said = f"`{file}` is a PDF that cannot be read ({type(problem).__name__})"
        raise _refusal("folio-not-read", said, _ANOTHER) from None
    if not made.files:
        raise _refusal("folio-empty", f"`{file}` carries no file", _ANOTHER)
    return made


@contextmanager
def _without_its_remarks() -> Iterator[None]:
    """What the library would say of a broken file is said in our own words, once."""
    log = logging.getLogger("pypdf")
    kept = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        yield
    finally:
        log.setLevel(kept)


def _all(content: bytes, file: str) -> TakenOut:
    from pypdf import PdfReader

    reader = PdfReader(BytesIO(content), strict=False)
    if reader.is_encrypted:
        raise _refusal("folio-locked", f"`{file}` is encrypted", "take the one that was made")
    carried: dict[str, _Carried] = {}
    for one in _attached(reader, file):
        if one.name in carried:
            said = f"two files in `{file}` are called `{one.name}`"
            raise _refusal("folio-not-read", said, _ANOTHER)
        carried[one.name] = one
        if len(carried) > MOST_FILES:
            said = f"`{file}` carries more than {MOST_FILES} files"
            raise _refusal("folio-not-read", said, _ANOTHER)
    made = {name: one.content for name, one in carried.items()}
    printed = _printed(reader)
    found = _digests(_orders(reader, made, file), made) if printed and made else ()
    for one in carried.values():
        if not one.is_sound(is_printed=printed in found):
            raise _damaged(one, printed, file)
    if found and printed not in found:
        also = "" if len(made) == 1 else ", or not all files that it was printed from"
        raise _refusal(
            "folio-changed",
            f"`{file}` carries a text that is not the one it was printed from{also}: "
            f"text {found[0]} found, text {printed} is printed on its pages",
            f"take the folio as it was made; its pages call the right copy text {printed}",
        )
    bare = (one.name for one in carried.values() if not (found or one.md5 or one.sha256))
    return TakenOut(made, tuple(bare))


@record
class _Carried:
    """An attached file with the digests that the document states of it; empty where it has none."""

    name: str
    content: bytes
    md5: bytes
    sha256: str

    def is_sound(self, *, is_printed: bool) -> bool:
        """Whether it is what was attached: by the stronger digest, or by two of the others.

        A digest may be what was damaged. `is_printed` tells that the whole text has the digest that
        stands on the pages.
        """
        is_same = not self.md5 or self.md5 == md5(self.content, usedforsecurity=False).digest()
        if self.sha256 == sha256(self.content).hexdigest():
            return True
        return is_same and is_printed if self.sha256 else is_same or is_printed


def _damaged(one: _Carried, printed: str, file: str) -> RefusalError:
    """What is said of a file that is not as it was attached, and which copy is right."""
    found = sha256(one.content).hexdigest()
    told = f": SHA-256 {found} found, {one.sha256} stated" if one.sha256 else ""
    right = [f"its SHA-256 is {one.sha256}"] if one.sha256 else []
    right += [f"its pages call it text {printed}"] if printed else []
    whole = f"; the right copy is the one of which {' and '.join(right)}" if right else ""
    return _refusal(
        "folio-changed",
        f"`{file}` carries a file that was changed after it was put there, `{one.name}`{told}",
        f"take the folio as it was made{whole}",
    )


def _printed(reader: "PdfReader") -> str:
    """The digest that stands on every page; empty where another program has left that out."""
    about = reader.metadata
    said = _DIGEST.search(str(about.get("/Keywords", "") if about is not None else ""))
    return said[1] if said is not None else ""


def _orders(reader: "PdfReader", made: Mapping[str, bytes], file: str) -> Iterable[tuple[str, ...]]:
    """The order of the files, the rig first, or all that it may be; none where nobody can tell.

    Another program that has stored a folio anew may have left out which file comes first.
    """
    stated = reader.root_object.get("/AF")
    if stated is None:
        return permutations(made) if len(made) <= _MOST_SORTED else ()
    order = tuple([_named(spec.get_object(), file) for spec in stated.get_object()])
    if sorted(order) != sorted(made):
        lost = ", ".join(f"`{name}`" for name in sorted({*order} ^ {*made})) or "one twice"
        said = f"`{file}` does not carry the files that it names: {lost}"
        raise _refusal("folio-changed", said, "take the folio as it was made")
    return (order,)


def _digests(orders: Iterable[tuple[str, ...]], made: Mapping[str, bytes]) -> tuple[str, ...]:
    """What the pages would call the files in each order."""
    texts = {name: content.decode("utf-8-sig", "replace") for name, content in made.items()}
    plain = {name: _BARE_RETURN.sub("\n", text) for name, text in texts.items()}
    return tuple([digest({name: plain[name] for name in order}) for order in orders])


def kept_apart(contents: Mapping[Path, bytes]) -> dict[Path, bytes]:
    """Those files that are not there yet with the same bytes.

    Raises
    ------
    RefusalError
        A place holds something else.
    """
    fresh: dict[Path, bytes] = {}
    for path, content in contents.items():
        try:
            there = path.read_bytes() if path.exists() or path.is_symlink() else None
        except (OSError, ValueError):
            there = b""
        if there is None:
            fresh[path] = content
        elif there != content:
            said = f"`{path}` is there already and says something else"
            raise _refusal("would-overwrite", said, "name another folder with `-o`")
    return fresh


def _refusal(rule: str, said: str, fix: str = "") -> RefusalError:
    return RefusalError(rule, said, fix)


def _content(file: str) -> bytes:
    try:
        content = plain_bytes(Path(file), _LARGEST_FOLIO)
    except (OSError, ValueError) as problem:
        why = getattr(problem, "strerror", None) or "its name cannot be used"
        said = f"`{file}` cannot be read: {why[0].lower()}{why[1:]}"
        raise _refusal("folio-not-read", said) from None
    if len(content) > _LARGEST_FOLIO:
        said = f"`{file}` holds more than {_LARGEST_FOLIO} bytes"
        raise _refusal("folio-not-read", said, _ANOTHER)
    if b"%PDF-" not in content[:1024]:
        raise _refusal("folio-not-read", f"`{file}` is no PDF", _ANOTHER)
    return content


def _attached(reader: "PdfReader", file: str) -> Iterator[_Carried]:
    from pypdf.generic import DictionaryObject

    names = reader.root_object.get("/Names")
    names = names.get_object() if names is not None else None
    if not isinstance(names, DictionaryObject) or "/EmbeddedFiles" not in names:
        return
    for called, spec in _leaves(names["/EmbeddedFiles"]):
        one = _carried(spec, file)
        if called != one.name:
            said = f"`{file}` calls a file `{called[:80]}` and `{one.name[:80]}`"
            raise _refusal("folio-changed", said, "take the folio as it was made")
        yield one


def _leaves(root: "PdfObject") -> Iterator[tuple[str, "DictionaryObject"]]:
    """Names and file specifications of a name tree; one that goes in circles comes to an end."""
    from pypdf.generic import ArrayObject, DictionaryObject

    waiting, seen = [root], 0
    while waiting and seen < _MOST_NODES:
        seen += 1
        node = waiting.pop(0).get_object()
        if not isinstance(node, DictionaryObject):
            continue
        names, kids = (node.get(key, ArrayObject()).get_object() for key in ("/Names", "/Kids"))
        for called, leaf in zip(names[::2], names[1::2], strict=False):
            spec = leaf.get_object()
            if isinstance(spec, DictionaryObject):
                yield str(called.get_object()), spec
        waiting += kids[:_MOST_NODES]


def _named(spec: "DictionaryObject", file: str) -> str:
    """The name of an attached file, which must lie in the folder that is written to or below it."""
    said = spec.get("/UF", spec.get("/F"))
    name = str(said) if isinstance(said, str) else ""
    path = PurePosixPath(name)
    parts = () if path.anchor or str(path) != name else path.parts
    is_plain = all(_is_plain(part) for part in parts) and spec.get("/F", said) == said
    if not parts or not is_plain or len(parts) > _DEEPEST:
        said = f"`{file}` carries a file called `{name[:80]}`, which no folder should be given"
        raise _refusal("folio-not-read", said, "see who made this PDF")
    return "/".join(parts)


def _is_plain(part: str) -> bool:
    """Whether a folder or a file may have a name on any machine that this one has to do with."""
    if part != part.strip(" .") or not part.isprintable():
        return False
    if _DRIVE.match(part) or _DEVICE.fullmatch(part):
        return False
    return not _FORBIDDEN & set(part) and len(part.encode("utf-8", "replace")) <= 200


def _carried(spec: "DictionaryObject", file: str) -> _Carried:
    from pypdf.generic import DictionaryObject, StreamObject

    held = spec.get("/EF", DictionaryObject()).get_object()
    stream = held.get("/UF", held.get("/F"))
    stream = stream.get_object() if stream is not None else None
    if not isinstance(stream, StreamObject):
        said = f"`{file}` names a file that it does not carry"
        raise _refusal("folio-not-read", said, _ANOTHER)
    content = _unpacked(stream, file)
    params = stream.get("/Params", DictionaryObject()).get_object()
    stated = params.get("/CheckSum")
    if len(content) > LARGEST_FILE:
        said = f"`{file}` carries a file of more than {LARGEST_FILE} bytes"
        raise _refusal("folio-not-read", said, _ANOTHER)
    strong = _STATED.search(str(spec.get("/Desc", "")))
    return _Carried(_named(spec, file), content, _raw(stated), strong[1] if strong else "")


def _raw(said: object) -> bytes:
    """The bytes of a string of a PDF."""
    if isinstance(said, bytes):
        return said
    return bytes(getattr(said, "original_bytes", b""))


def _unpacked(stream: "StreamObject", file: str) -> bytes:
    """The bytes of a stream, no more of them than tell that they are too many.

    Folios carry plain streams; another program that has saved one anew may have packed them.
    """
    from pypdf.generic import ArrayObject

    how = stream.get("/Filter")
    how = how.get_object() if how is not None else None
    steps = [str(each) for each in how] if isinstance(how, ArrayObject) else [str(how or "")]
    content: bytes = stream._data
    if steps in ([], [""]):
        return content
    if steps == ["/FlateDecode"] and "/DecodeParms" not in stream:
        return zlib.decompressobj().decompress(content, LARGEST_FILE + 1)
    said = f"`{file}` carries a file packed in a way that is not read: {' '.join(steps)[:80]}"
    raise _refusal("folio-not-read", said, _ANOTHER)
