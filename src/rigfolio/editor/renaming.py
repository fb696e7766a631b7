"""A name changed wherever it stands, with the proof that the rig is otherwise the same."""

import re
from collections.abc import Mapping

from rigfolio.editor.index import NameIndex
from rigfolio.findings import Edit
from rigfolio.judgement import Result, check, whole_of
from rigfolio.lang import apply, parse
from rigfolio.model import Rig
from rigfolio.reading import context
from rigfolio.record import fields_of
from rigfolio.refusal import RefusalError

_BARE = re.compile(r"Span\([^)]*\)|\b(start|end)=-?\d+")


def renamed(result: Result, index: NameIndex, old: str, new: str) -> Mapping[str, tuple[Edit, ...]]:
    """The edits that give a part another name, by file.

    Raises
    ------
    RefusalError
        It is no name, or taken, or the rig would be another one: then nothing may be written.
    """
    _refuse_no_name(new, index, old)
    edits: dict[str, list[Edit]] = {}
    for one in index.of(old):
        edits.setdefault(one.span.file, []).append(Edit(one.span, new))
    texts = dict(result.texts)
    for file, made in edits.items():
        texts[file] = apply(texts[file], dict.fromkeys(made))
    again = check(result.file, text=texts[result.file], instead=texts)
    if not _is_same(result, again, old, new):
        raise RefusalError(
            "rename-changes", f"with `{new}` for `{old}` the rig would be another one",
            "another name, one that nothing else of the rig is called by",
        )  # fmt: skip
    return {file: tuple(dict.fromkeys(made)) for file, made in edits.items()}


def _refuse_no_name(new: str, index: NameIndex, old: str) -> None:
    lines, found = parse(new, "")
    items = lines[0].items if lines and not found else ()
    is_word = len(items) == 1 and items[0].kind == "word" and items[0].text == new
    if not is_word:
        headline = f"`{new}` is no name: letters, digits and `_`, a letter first"
        raise RefusalError("rename-no-name", headline)
    if new.casefold() in context().keywords or new.casefold() in context().colours:
        raise RefusalError("rename-no-name", f"`{new}` is a word of the language and no name")
    if new.casefold() != old.casefold() and index.of(new):
        raise RefusalError("rename-taken", f"`{new}` is in use already")


def _is_same(before: Result, after: Result, old: str, new: str) -> bool:
    """Whether two rigs are the same but for a name, and the same was not understood."""
    told = [[one.rule for one in each.findings if each.study is None] for each in (before, after)]
    one, two = _rig_of(before), _rig_of(after)
    if told[0] != told[1] or one is None or two is None:
        return False
    name = re.compile(rf"(?<!\w)({re.escape(old)}|{re.escape(new)})(?!\w)", re.IGNORECASE)
    return _plain(one, name) == _plain(two, name)


def _rig_of(result: Result) -> Rig | None:
    whole = result if result.study is not None else whole_of(result)
    return whole.study.rig if whole is not None and whole.study is not None else None


def _plain(rig: Rig, name: re.Pattern[str]) -> list[str]:
    """Everything that a rig holds, without places in the text and with one word for both names."""
    return [name.sub("\0", _BARE.sub("", repr(value))) for value in fields_of(rig)]
