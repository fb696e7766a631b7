"""What the reference says of a word, a fact or a value of the language, a rule or a command.

Without a word it lists all that may be asked for.
"""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from rigfolio.cli.registry import Command, by_step, is_command, page, parser
from rigfolio.cli.terminal import say
from rigfolio.refusal import RefusalError

COMMAND = Command(
    "print what the reference says of a word, a rule or a command",
    "write down",
    ("help wire", "help fuse-over-wire"),
)


def takes(made: ArgumentParser) -> None:
    """Add the arguments."""
    made.add_argument("word", nargs="*", help="words, rules or commands; a list if left out")


def run(given: Namespace) -> int:
    """Print the pages that words have, or the list of what may be asked for."""
    if not given.word:
        say(sys.stdout, "\n".join(_contents()))
        return 0
    found = [one for word in _words(given.word) for one in _asked(word)]
    say(sys.stdout, "\n".join(found))
    return 0


def _words(given: Sequence[str]) -> Iterable[str]:
    """What is asked for: one thing that has several words in it, else each word by itself."""
    from rigfolio.manual import other_word

    whole = " ".join(given)
    is_one = any(_pages(whole)) or other_word(whole)
    return (whole,) if is_one else dict.fromkeys(given)


def _asked(word: str) -> list[str]:
    """The pages of one word; nothing is printed where one of several has none."""
    found = list(_pages(word))
    if not found:
        raise RefusalError("word-unknown", f"nothing is said of `{word}`", _other(word))
    return found


def _pages(word: str) -> Iterator[str]:
    """What is said of a word: by the language, by the rules, and as a command."""
    from rigfolio.manual import explain, section

    for answer in (section, explain):
        try:
            yield answer(word)
        except KeyError:
            continue
    if word in ("symptom", "symptoms", "reading", "readings"):
        yield _symptoms()
    if is_command(word):
        yield f"{page(word).strip()}\n\n{parser(word).format_help()}"


def _other(word: str) -> str:
    """What to ask for in place of a word that has no page."""
    from rigfolio.manual import nearest_topic, nearest_word, other_word

    other = other_word(word)
    close = "" if other else nearest_word(word) or nearest_topic(word)
    return other or (
        f"the nearest is `{close}`" if close else "`rigfolio help` lists what there is"
    )


def _symptoms() -> str:
    """What `diagnose` and `log` hear, the words for one and the same thing in one paragraph."""
    from rigfolio.books import spoken

    told = [_listed(kind, words) for kind, words in spoken() if kind != "everything"]
    return (
        "symptoms\n\n"
        "Said of a load, a circuit, a panel, a battery, a charger or of everything, by name or "
        "label;\nthe place stands before what is wrong with it or behind:\n"
        "  Pump runs slow\n  fuse blows P1.2\n  no power at P1\n  House battery does not charge\n"
        "  everything dim, in shore\n\n"
        "A reading has a place, a number and a unit (V, mV, A, mA, ohm, mohm, kohm, Mohm):\n"
        "  Pump = 9.6 V\n  P1 to P1.3 = 40 mV\n  B1 = 11.8 V at 7.5 A\n  P1.2 to N1 = 1.2 kohm\n\n"
        "Behind it, what was on and how the rig stood, in any order:\n"
        "  with Pump and Radio on, with all off, with Pump starting, in shore, S1 open\n\n"
        "What is heard, and said for each:\n" + "".join(told)
    )


def _contents() -> Iterator[str]:
    from rigfolio.books import book_names, load_book
    from rigfolio.manual import reference_words
    from rigfolio.rule import rule_names

    yield _listed("words of the language", reference_words())
    books = (f"  {name:<8}  {load_book(name).made_for}\n" for name in book_names())
    yield f"rule books, and what each is made for:\n{''.join(books)}"
    yield _listed("rules", rule_names())
    yield _listed("what is seen of a fault", ["symptoms"])
    for step, names in by_step():
        yield _listed(f"commands, {step}", names)


def _listed(title: str, names: Iterable[str]) -> str:
    """Names below a title, in lines of 100 characters; a name is never broken."""
    held = [name.replace(" ", "\N{NO-BREAK SPACE}") for name in names]
    lines = wrap(", ".join(held), 98, break_on_hyphens=False)
    return f"{title}:\n" + "".join(f"  {line}\n" for line in lines)
