"""The files that a folio carries, taken out again; the only module that talks to pypdf."""

from collections.abc import Iterator, Mapping
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from rigfolio.placing import RefusalError
from rigfolio.reading.files import LARGEST_FILE, MOST_FILES

if TYPE_CHECKING:
    from pypdf import PdfReader
    from pypdf.generic import DictionaryObject, PdfObject

_LARGEST_FOLIO = 200_000_000
"""Bytes of a folio that is read; a large one has two million."""
_DEEPEST = 8
"""Levels of a name tree that are followed."""
_FORBIDDEN = frozenset('\\:*?"<>|')
"""Letters that part or end a name on one machine or another."""


def taken_out(file: str) -> Mapping[str, bytes]:
    """The files that are attached to a PDF, by their names, with `/` between folders.

    Parameters
    ----------
    file : str
        Path of the PDF.

    Raises
    ------
    RefusalError
        It cannot be read, is no PDF, is locked, carries nothing, or carries a file whose name or
        size nobody should trust.
    """
    content = _content(file)
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        reader = PdfReader(BytesIO(content), strict=False)
        if reader.is_encrypted:
            raise _refusal("folio-locked", f"`{file}` is encrypted", "take the one that was made")
        made: dict[str, bytes] = {}
        for name, data in _attached(reader, file):
            if name in made:
                raise _refusal("folio-not-read", f"two files in `{file}` are called `{name}`")
            made[name] = data
            if len(made) > MOST_FILES:
                raise _refusal("folio-not-read", f"`{file}` carries more than {MOST_FILES} files")
    except RefusalError:
        raise
    except (PyPdfError, ArithmeticError, LookupError, OSError, RecursionError, TypeError,
            ValueError, AttributeError) as problem:  # fmt: skip
        # What is broken in a PDF shows in as many ways as the library has lines.
        said = f"`{file}` is no PDF that can be read: {type(problem).__name__}"
        raise _refusal("folio-not-read", said, _ANOTHER) from None
    if not made:
        raise _refusal("folio-empty", f"`{file}` carries no file", _ANOTHER)
    return made


_ANOTHER = "name a `folio.pdf` that `rigfolio folio` made"


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
    path = Path(file)
    try:
        if path.exists() and not path.is_file():
            raise OSError(0, "it is a folder" if path.is_dir() else "it is not a plain file")
        with path.open("rb") as stream:
            content = stream.read(_LARGEST_FOLIO + 1)
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


def _attached(reader: "PdfReader", file: str) -> Iterator[tuple[str, bytes]]:
    from pypdf.generic import DictionaryObject

    names = reader.root_object.get("/Names")
    names = names.get_object() if names is not None else None
    if not isinstance(names, DictionaryObject) or "/EmbeddedFiles" not in names:
        return
    for spec in _leaves(names["/EmbeddedFiles"], _DEEPEST):
        yield _named(spec, file), _bytes(spec, file)


def _leaves(node: "PdfObject", deep: int) -> Iterator["DictionaryObject"]:
    """File specifications of a name tree; a tree that goes round in circles comes to an end."""
    from pypdf.generic import ArrayObject, DictionaryObject

    held = node.get_object()
    if not isinstance(held, DictionaryObject) or deep == 0:
        return
    names, kids = (held.get(key, ArrayObject()).get_object() for key in ("/Names", "/Kids"))
    for leaf in names[1::2]:
        spec = leaf.get_object()
        if isinstance(spec, DictionaryObject):
            yield spec
    for kid in kids[:MOST_FILES]:
        yield from _leaves(kid, deep - 1)


def _named(spec: "DictionaryObject", file: str) -> str:
    """The name of an attached file, which must lie in the folder that is written to or below it."""
    name = str(spec.get("/UF", spec.get("/F", "")))
    parts = PurePosixPath(name).parts
    is_plain = all(
        part not in ("..", "/") and part.isprintable() and not _FORBIDDEN & set(part)
        and part == part.strip(" .") and len(part.encode("utf-8", "replace")) <= 200
        for part in parts
    )  # fmt: skip
    if not parts or not is_plain or len(parts) > _DEEPEST:
        said = f"`{file}` carries a file called `{name[:80]}`, which no folder should be given"
        raise _refusal("folio-not-read", said, "see who made this PDF")
    return "/".join(parts)


def _bytes(spec: "DictionaryObject", file: str) -> bytes:
    from pypdf.generic import DictionaryObject, StreamObject

    held = spec.get("/EF", DictionaryObject()).get_object()
    stream = held.get("/UF", held.get("/F"))
    stream = stream.get_object() if stream is not None else None
    if not isinstance(stream, StreamObject):
        raise _refusal("folio-not-read", f"`{file}` names a file that it does not carry")
    if "/Filter" in stream:
        # None that this program makes is packed; what is packed can unfold to any size.
        said = f"`{file}` carries a packed file, and folios carry plain ones"
        raise _refusal("folio-not-read", said, _ANOTHER)
    content = stream.get_data()
    if len(content) > LARGEST_FILE:
        said = f"`{file}` carries a file of more than {LARGEST_FILE} bytes"
        raise _refusal("folio-not-read", said, _ANOTHER)
    return content
