"""Where documents go, and what is refused before anything is written."""

import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Literal

from rigfolio.refusal import ELSEWHERE, RefusalError

Format = Literal["svg", "pdf", "png", "dot"]
WHOLE = "folio.pdf"
"""The document that binds all sheets of a folio."""
FORMS: Mapping[str, Format] = {".svg": "svg", ".pdf": "pdf", ".png": "png", ".dot": "dot"}
"""The format that the end of a file's name means."""

FOLDER = Path("out")
"""Where documents go that were not given a place."""


def form_of(out: str | None, asked: Format | None) -> Format:
    """The format to write, from what was asked and from the end of the file's name."""
    suffix = Path(out or "").suffix.lower()
    is_file = suffix != "" and not _is_folder(out or "")
    named = FORMS.get(suffix)
    if is_file and asked is not None and named not in (asked, None):
        raise RefusalError("format-not-plain", f"`{out}` is to hold {asked.upper()}", f"`.{asked}`")
    if is_file and asked is None and named is None:
        known = ".svg, .pdf, .png or .dot"
        raise RefusalError("format-not-plain", f"`{suffix}` found, expected {known}")
    return asked or (named if is_file else None) or "svg"


def placed(
    documents: Mapping[str, bytes], file: str, command: str, out: str | None
) -> dict[Path, bytes]:
    """Documents by the path where each goes; a name without an end is a folder for several.

    A folio that is to be one file is what binds all of its sheets, and nothing beside it.
    """
    if out is None:
        folder = folder_of(file)
    elif command == "folio" and is_one_file(out):
        return {Path(out): _bound(documents, out)}
    elif command != "folio" and not _is_folder(out) and (len(documents) < 2 or Path(out).suffix):
        path = Path(out)
        paths = [path] + [path.with_stem(f"{path.stem}-{n}") for n in range(2, len(documents) + 1)]
        ends = [Path(name).suffix for name in documents]
        whole = [_ending(path, end) for path, end in zip(paths, ends, strict=True)]
        return dict(zip(whole, documents.values(), strict=True))
    else:
        folder = Path(out)
    return {folder / name: content for name, content in documents.items()}


def _ending(path: Path, end: str) -> Path:
    """A place with the end of the document that goes there, put behind what else it ends in.

    What is no file, such as a device, is left for the refusal to name as it was given.
    """
    is_meant = path.suffix.lower() == end or (path.exists() and not path.is_file())
    return path if is_meant else path.with_name(f"{path.name}{end}")


def is_one_file(out: str | None) -> bool:
    """Whether a place has the name of one document."""
    return out is not None and Path(out).suffix.lower() in FORMS and not _is_folder(out)


def _bound(documents: Mapping[str, bytes], out: str) -> bytes:
    if Path(out).suffix.lower() != ".pdf" or WHOLE not in documents:
        raise RefusalError(
            "format-not-plain",
            f"`{out}` is one file, and there are several documents",
            "name a folder, or for the whole folio a file that ends in `.pdf`",
        )
    return documents[WHOLE]


def folder_of(file: str) -> Path:
    """The folder for the documents of a rig file that were not given a place."""
    return FOLDER / ("rig" if file == "-" else Path(file).stem)


def spare(contents: Mapping[Path, bytes], texts: Iterable[str]) -> None:
    """Refuse to write over a text that was read."""
    read = {os.path.realpath(file) for file in texts}
    for path in contents:
        if os.path.realpath(path) in read:
            raise RefusalError(
                "would-overwrite",
                f"`{path}` is a text of this rig and would be lost",
                ELSEWHERE,
            )


def _is_folder(out: str) -> bool:
    """Whether a place is a folder, or is written as one."""
    try:
        return out.endswith(("/", os.sep)) or Path(out).is_dir()
    except (OSError, ValueError):
        # No name that a file could have; writing will say so.
        return False
