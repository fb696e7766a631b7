"""Verdicts that are kept, so that a rig whose texts are as they were costs next to nothing.

They lie in the user's own cache folder, one file for each rig and way of asking, and may be deleted
at any time. One counts only if it is whole, made by this program, and of the bytes that every file
of the rig holds now; else the rig is judged. Nothing is kept of a text that was not understood:
what is said of it may depend on files that are not there.
"""

import json
import os
import sys
from hashlib import sha256
from pathlib import Path
from typing import Any

from rigfolio.faces import own_version
from rigfolio.judgement.verdict import Asking, RigVerdict, verdict_of
from rigfolio.lang import grammar_page
from rigfolio.own_folder import keep, kept, own_folder
from rigfolio.reading import LARGEST_FILE, plain_bytes
from rigfolio.record import record

_OURS = (".py", ".toml")


@record
class KeptVerdicts:
    """Where verdicts are kept, what they must have been made by, and how was asked for them."""

    folder: Path
    made_by: bytes
    asking: Asking

    def verdict(self, file: str) -> RigVerdict:
        """The verdict on a rig file: as it was kept, if it still holds; else judged and kept."""
        place = self._place(file)
        found = self._held(place, file)
        if found is not None:
            return found
        made, raw = verdict_of(file, self.asking)
        if made.is_judged and not made.errors:
            digests = {name: sha256(content).hexdigest() for name, content in raw.items()}
            body = json.dumps({"texts": digests, "verdict": _fields(made)}).encode()
            keep(place, self._made_of(raw[file]), body)
        return made

    def _place(self, file: str) -> Path:
        asked = repr((str(Path.cwd()), file, *_fields(self.asking).values()))
        return self.folder / f"{sha256(asked.encode(errors='surrogatepass')).hexdigest()}.verdict"

    def _made_of(self, content: bytes) -> bytes:
        return sha256(self.made_by + content).digest()

    def _held(self, place: Path, file: str) -> RigVerdict | None:
        content = _content(file)
        body = None if content is None else kept(place, self._made_of(content))
        if body is None:
            return None
        held: dict[str, Any] = json.loads(body)
        if not all(_is(name, digest) for name, digest in held["texts"].items()):
            return None
        fields: dict[str, Any] = {name: _tuple(value) for name, value in held["verdict"].items()}
        return RigVerdict(**fields)


def kept_verdicts(asking: Asking) -> KeptVerdicts | None:
    """Where the verdicts of a way of asking are kept; None where the user has no cache folder."""
    home = own_folder()
    if home is None:
        return None
    folder = home / "verdicts"
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError:
        return None
    return KeptVerdicts(folder, _made_by(), asking)


def _made_by() -> bytes:
    """What stands for this program: its version, and the files that it runs from as they are."""
    root = Path(__file__).resolve().parents[1]
    told = [sys.version, own_version(), grammar_page("rigfolio.lark")]
    for here, below, names in os.walk(root):
        below.sort()
        for name in sorted(names):
            if name.endswith(_OURS):
                about = os.stat(os.path.join(here, name))  # noqa: PTH116, PTH118
                told.append(f"{here[len(str(root)) :]}/{name} {about.st_size} {about.st_mtime_ns}")
    return sha256("\n".join(told).encode()).digest()


def _fields(one: Asking | RigVerdict) -> dict[str, Any]:
    values = {name: getattr(one, name) for name in type(one).__match_args__}
    return {name: getattr(value, "value", value) for name, value in values.items()}


def _tuple(value: object) -> object:
    return tuple(value) if isinstance(value, list) else value


def _is(name: str, digest: str) -> bool:
    content = _content(name)
    return content is not None and sha256(content).hexdigest() == digest


def _content(name: str) -> bytes | None:
    """What a file holds; None where it cannot be read, which whoever judges it will tell."""
    try:
        return plain_bytes(Path(name), LARGEST_FILE)
    except (OSError, ValueError):
        return None
