"""The texts that are open, saved or not, and the rig that each of them belongs to."""

import re
from collections.abc import Iterator
from pathlib import Path

from rigfolio.judgement import INCLUDE, Result, check, included_path, whole_of

_HEAD = re.compile(r"^rig\b", re.MULTILINE | re.IGNORECASE)
_LARGEST = 1_000_000
"""Bytes of a file that is looked into for what it includes."""
_MOST_FILES = 200
_UP = 3
"""Folders above a part that are searched for the rig that includes it."""


class Desk:
    """All open texts by path.

    A part is judged within the rig that includes it, with all texts as they stand in the editor.
    What came of a rig is kept until a text changes.
    """

    def __init__(self) -> None:
        self.open: dict[str, str] = {}
        self._kept: dict[str, Result] = {}
        self._seen: dict[str, tuple[float, tuple[str, ...]]] = {}

    def put(self, path: str, text: str) -> None:
        """Open a text, or change one that is open."""
        self.open[path] = text
        self._kept.clear()

    def take(self, path: str) -> None:
        """Close a text; from now on the file counts."""
        self.open.pop(path, None)
        self.forget()

    def forget(self) -> None:
        """Judge anew when asked next: something has changed on the disk."""
        self._kept.clear()

    def text(self, path: str) -> str:
        """The text of a file, as it is open or as it was read with its rig."""
        if path in self.open:
            return self.open[path]
        return self.result(path).texts.get(path, "")

    def result(self, path: str) -> Result:
        """What came of the rig that a text belongs to."""
        root = self.root(path)
        if root not in self._kept:
            self._kept[root] = check(root, text=self.open.get(root), instead=self.open)
        return self._kept[root]

    def whole(self, path: str) -> Result:
        """The same; of a text that is not understood what is whole in it, if anything is."""
        result = self.result(path)
        if result.study is not None:
            return result
        key = f"{result.file}\0"
        if key not in self._kept:
            self._kept[key] = whole_of(result) or result
        return self._kept[key]

    def root(self, path: str) -> str:
        """The rig file that a text belongs to: the one that includes it, or itself."""
        held = self.open.get(path)
        if held is not None and _HEAD.search(held):
            return path
        seen = {path}
        top = path
        while above := next((one for one in self._above(top) if one not in seen), ""):
            seen.add(above)
            top = above
        return top

    def sharer(self, path: str, root: str) -> str:
        """A rig, other than one that is known, which a text is a part of; empty where none is."""
        others = (one for one in self._above(path) if self.root(one) != root)
        return next((one for one in others if one != root), "")

    def _above(self, path: str) -> Iterator[str]:
        """The texts that include another one: those that are open first."""
        for name, text in self.open.items():
            if path in _included(name, text):
                yield name
        folder = Path(path).parent
        for place in [folder, *folder.parents][: _UP + 1]:
            for file in sorted(place.glob("*.rig"))[:_MOST_FILES]:
                if str(file) not in self.open and path in self._includes(file):
                    yield str(file)

    def _includes(self, file: Path) -> tuple[str, ...]:
        """What a file on the disk includes; it is read again once it has changed."""
        try:
            about = file.stat()
            if about.st_size > _LARGEST:
                return ()
            known = self._seen.get(str(file))
            if known is None or known[0] != about.st_mtime:
                text = file.read_text(encoding="utf-8", errors="replace")
                known = self._seen[str(file)] = about.st_mtime, _included(str(file), text)
        except OSError:
            return ()
        return known[1]


def _included(file: str, text: str) -> tuple[str, ...]:
    """The paths of what a text includes."""
    return tuple(included_path(file, name) for name in INCLUDE.findall(text))
