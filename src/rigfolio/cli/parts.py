"""What commands share: judge a file, say what was not understood, answer, write whole or not."""

import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING

from rigfolio.cli.terminal import in_colour, say
from rigfolio.refusal import ELSEWHERE, IN_PLACE, ChangedError, not_written

if TYPE_CHECKING:
    from pathlib import Path

    from rigfolio.judgement import Result
    from rigfolio.study import Study

_MOST_TURNS = 100
"""How many others may be first, before nothing is written."""


def judged(file: str, book: str | None) -> "Result":
    """A file checked under its own or another rule book."""
    from rigfolio.books import known_book
    from rigfolio.judgement import check

    known_book(book)
    return check(file, book or "")


def understood(file: str, book: str | None) -> "Result":
    """A file read under its own or another rule book, for an answer that needs no findings."""
    from rigfolio.books import known_book
    from rigfolio.judgement import understood as read

    known_book(book)
    return read(file, book or "")


def ends_soon(given: Namespace) -> None:
    """Look for garbage no more, where this process makes the documents of one rig and then ends.

    What they are made of is there until the end. To go through all of it took a tenth of the time,
    for a few objects in a million.
    """
    if getattr(given, "is_alone", False):
        import gc

        gc.disable()


def not_understood(*results: "Result", given: Namespace | None = None) -> int:
    """Say what a text has in it that cannot be read, to programs too where `given` asks for it."""
    from rigfolio.judgement import FIRST, as_json, as_text, tried

    if given is not None and given.format == "json":
        say(sys.stdout, as_json(results, command=given.command))
    results = tuple(tried(result, FIRST) for result in results)
    say(sys.stderr, as_text(results, colour=in_colour(sys.stderr)))
    return 2


def answered(given: Namespace, *place: str) -> int:
    """Say what a command answers of one rig, and of a place in it."""
    result = understood(given.file, given.rules)
    if result.study is None:
        return not_understood(result, given=given)
    say(sys.stdout, answer_text(given, result.study, *place))
    return 0


def answer_text(given: Namespace, study: "Study", *place: str) -> str:
    """What a command answers, as text or JSON.

    Raises
    ------
    RefusalError
        There is no such place, or several parts have its name.
    """
    from rigfolio.answers import answer

    return answer(given.command, study, *place, as_json=given.format == "json")


def spared(place: str | None, texts: "Iterable[str]") -> None:
    """Refuse a place for documents that is a text that was read, by whatever name."""
    from pathlib import Path

    from rigfolio.folio import spare

    with suppress(OSError, ValueError):
        # What else is wrong with the place is said when it is written to.
        spare({Path(place): b""} if place else {}, texts)


def put(contents: "Mapping[Path, bytes]", texts: "Iterable[str]" = ()) -> None:
    """Write documents, none over what somebody else made or filled in, and say where they went."""
    from rigfolio.folio import beside_others
    from rigfolio.reports import clean

    try:
        placed, moved = beside_others(contents)
    except (OSError, ValueError) as problem:
        raise not_written(problem, ELSEWHERE) from None
    write(placed, texts, fix=ELSEWHERE)
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in placed))
    for belongs, place in moved.items():
        told = f"`{belongs}` was typed into or made by somebody else and is left as it is"
        say(sys.stderr, f"{clean(told)}; the new one is `{clean(str(place))}`\n")


def write_into(
    result: "Result", contents: "Mapping[Path, bytes]", read: "Mapping[str, str] | None" = None
) -> None:
    """Write files of one rig, or none and say why; the file of a type is none of one unit.

    `read` is what the files held where the result is of what they are to hold.
    """
    from rigfolio.judgement import refuse_types

    refuse_types(result, contents)
    write(contents, read=result.texts if read is None else read)


def write_anew(
    make: "Callable[[], tuple[Mapping[Path, bytes], Mapping[str, str]]]",
) -> None:
    """Write what is made of what files hold, or nothing and say why.

    Where somebody else has written them meanwhile it is made again of what they hold now.

    Parameters
    ----------
    make : callable
        Reads the files; gives what each is to hold, and what was read of each.
    """
    from pathlib import Path

    from rigfolio.folio import write_all

    for left in reversed(range(_MOST_TURNS)):
        contents, read = make()
        try:
            write_all(contents, {Path(file): text for file, text in read.items()})
        except (OSError, ValueError) as problem:
            if not left or not isinstance(problem, ChangedError):
                raise not_written(problem) from None
        else:
            return


def write(
    contents: "Mapping[Path, bytes]", texts: "Iterable[str]" = (),
    read: "Mapping[str, str] | None" = None, fix: str = IN_PLACE,
) -> None:  # fmt: skip
    """Write all files, or none and say why; a text that was read is never written over.

    Where it is, as the command was asked to: `read` says what was read, by files. One that somebody
    has changed since then is left as it is. `fix` is what to do where one cannot be written.
    """
    from pathlib import Path

    from rigfolio.folio import spare, write_all

    try:
        spare(contents, texts)
        write_all(contents, {Path(file): text for file, text in (read or {}).items()})
    except (OSError, ValueError) as problem:
        raise not_written(problem, fix) from None
