"""What each command does with its arguments: judge, ask, print; gives the exit code.

What a command needs is imported when it is asked for, so that `check` starts fast.
"""

import sys
from argparse import Namespace
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from rigfolio.cli import printing_commands
from rigfolio.cli.parts import judged, known_book, not_understood, write
from rigfolio.cli.terminal import in_colour, say
from rigfolio.refusal import RefusalError, not_written

if TYPE_CHECKING:
    from rigfolio.judgement import Result


def _check(given: Namespace) -> int:
    from rigfolio.judgement import as_json, as_text, check_many

    known_book(given.rules)
    results = check_many(given.file, given.rules or "")
    if given.format == "json":
        say(sys.stdout, as_json(results))
    else:
        say(sys.stdout, as_text(results, colour=in_colour(sys.stdout)))
    return max(result.exit_code for result in results)


def _explain(given: Namespace) -> int:
    from rigfolio.answers import explain, nearest_topic, overview

    if given.rule is None:
        say(sys.stdout, overview())
        return 0
    try:
        say(sys.stdout, explain(given.rule))
    except KeyError:
        near = nearest_topic(given.rule)
        fix = f"the nearest is `{near}`" if near else "`rigfolio explain` lists all rules"
        raise RefusalError("rule-unknown", f"`{given.rule}` is not a rule", fix) from None
    return 0


def _answer(given: Namespace) -> int:
    from rigfolio.answers import answer, nearest_place

    result = judged(given.file, given.rules)
    study = result.study
    if study is None:
        return not_understood(result)
    try:
        text = answer(given.command, study, given.place, as_json=given.format == "json")
    except KeyError:
        near = nearest_place(study, given.place)
        raise RefusalError("place-unknown", f"nothing is called `{given.place}`", near) from None
    if given.write:
        return _write_sizes(result, text)
    say(sys.stdout, text)
    return 0


def _write_sizes(result: "Result", text: str) -> int:
    """Edit the texts; what was proposed is said when it has been written."""
    from rigfolio.answers import sized

    try:
        contents, told = sized(result)
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    write(contents)
    say(sys.stdout, text)
    say(sys.stderr, told)
    return 0


def _arrange(given: Namespace) -> int:
    from rigfolio.answers import arranging

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    try:
        text, contents = arranging(result, as_json=given.format == "json")
    except TimeoutError as problem:
        raise RefusalError(
            "no-best-order", str(problem), "say `stays put` of some circuits"
        ) from None
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    if given.write:
        write(contents)
    say(sys.stdout, text)
    if given.write:
        told = "".join(f"written: {path}\n" for path in contents)
        say(sys.stderr, told or "nothing had to be written\n")
    return 0


def _diagnose(given: Namespace) -> int:
    from rigfolio.answers import day_of, diagnosis, hear, logged

    result = judged(given.file, given.rules)
    study = result.study
    if study is None:
        return not_understood(result)
    heard = [hear(result, given.reading, given.texts)]
    if given.logged:
        heard.append(logged(result, day_of(given.logged)))
    broken = [each.as_result for each in heard if each.found]
    if broken:
        return not_understood(*broken)
    readings = [reading for each in heard for reading in each.log.readings]
    if not readings:
        raise RefusalError("reading-not-understood", "no reading was given", "`'P1.3 = 11.2 V'`")
    say(sys.stdout, diagnosis(study, readings, as_json=given.format == "json"))
    return 0


def _log(given: Namespace) -> int:
    from rigfolio.answers import day_of, hear, log_lines, log_path, log_with, today
    from rigfolio.reports import clean

    result = judged(given.file, given.rules)
    if result.study is None:
        return not_understood(result)
    heard = hear(result, given.reading, given.texts)
    if heard.found:
        return not_understood(heard.as_result)
    lines = [line for text in heard.texts.values() for line in text.split("\n") if line.strip()]
    path = log_path(result.file)
    if lines:
        date = day_of(given.on) if given.on else today()
        path, content = log_with(result, lines, date)
        write({path: content})
    elif path.exists():
        say(sys.stdout, "".join(f"{clean(each)}\n" for each in log_lines(path)))
        return 0
    say(sys.stdout, f"{clean(str(path))}\n" if lines else "nothing was kept yet\n")
    return 0


def _compare(given: Namespace) -> int:
    from rigfolio.folio import told, version

    known_book(given.rules)
    versions = [version(name, given.rules or "") for name in (given.old, given.new)]
    broken = [result for result in versions if result.study is None]
    if broken:
        return not_understood(*broken)
    old, new = versions
    say(sys.stdout, told(old, new, as_json=given.format == "json"))
    return 0


def _new(given: Namespace) -> int:
    from pathlib import Path

    from rigfolio.answers import PARTS, Start, starter

    parts = frozenset(part.strip() for part in given.parts.split(",") if part.strip())
    for part in sorted(parts - PARTS):
        listed = ", ".join(f"`{name}`" for name in sorted(PARTS))
        raise RefusalError("command-not-understood", f"`{part}` is no part", f"there are {listed}")
    path = Path(given.file)
    if path.exists():
        headline = f"`{given.file}` is there already and would be lost"
        raise RefusalError("would-overwrite", headline, "name another file")
    start = Start(given.kind, given.name or path.stem, given.slots, given.volts,
                  metric=given.metric, parts=parts)  # fmt: skip
    write({path: starter(start).encode()})
    say(sys.stdout, f"{given.file}\n")
    return 0


def _survey(given: Namespace) -> int:
    if not given.survey:
        return printing_commands.sheet_command(given)
    from rigfolio.answers import put_in

    known_book(given.rules)
    try:
        put, result = put_in(given.file, given.survey, given.rules or "")
    except (OSError, ValueError) as problem:
        raise not_written(problem) from None
    if put is None:
        return not_understood(result)
    say(sys.stdout, put.told)
    if given.write:
        write(put.contents)
        say(sys.stderr, "".join(f"written: {path}\n" for path in put.contents))
    elif put.contents:
        say(sys.stderr, "nothing was written; `--write` puts it into the text\n")
    return 1 if put.has_trouble else 0


def _extract(given: Namespace) -> int:
    from pathlib import Path

    from rigfolio.folio import kept_apart, taken_out
    from rigfolio.reports import clean

    folder = Path(given.out or ".")
    contents = {folder / name: content for name, content in taken_out(given.file).items()}
    write(kept_apart(contents))
    say(sys.stdout, "".join(f"{clean(str(path))}\n" for path in contents))
    return 0


RUN: Mapping[str, Callable[[Namespace], int]] = {
    "new": _new,
    "survey": _survey,
    "check": _check,
    "explain": _explain,
    "isolate": _answer,
    "live": _answer,
    "demand": _answer,
    "short": _answer,
    "size": _answer,
    "diagnose": _diagnose,
    "log": _log,
    "arrange": _arrange,
    "compare": _compare,
    "draw": printing_commands.draw_command,
    "face": printing_commands.sheet_command,
    "rulers": printing_commands.rulers_command,
    "photo": printing_commands.photo_command,
    "labels": printing_commands.labels_command,
    "tags": printing_commands.sheet_command,
    "legend": printing_commands.sheet_command,
    "directory": printing_commands.sheet_command,
    "picklist": printing_commands.sheet_command,
    "workplan": printing_commands.sheet_command,
    "testsheet": printing_commands.sheet_command,
    "folio": printing_commands.folio_command,
    "extract": _extract,
}
"""What runs each command."""
