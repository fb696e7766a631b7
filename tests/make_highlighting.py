"""Writes how editors colour a rig: a TextMate grammar and a Vim syntax, from the words of the code.

Run with `python tests/make_highlighting.py`; a house test holds the files to it.
"""

import json
import re
from collections.abc import Iterable

from helpers.home import HOME
from rigfolio.books import colour_book
from rigfolio.lang import SIZE_UNITS
from rigfolio.lang.parser import grammar_text
from rigfolio.reading.text import reference
from rigfolio.units import UNITS

TEXTMATE = HOME / "grammar" / "rig.tmLanguage.json"
VIM = HOME / "grammar" / "rig.vim"
END = r"(?![\w-])"
"""What ends a word: no letter, no digit and no hyphen may follow."""


def statements() -> list[str]:
    """The words that open a line."""
    return sorted(reference())


def fact_words() -> list[str]:
    """The words that facts begin with, or that stand within them."""
    found = set()
    for kind in reference().values():
        for fact in (*kind.takes, *(kind.inner_takes or ())):
            for part in fact.parts:
                if not part.startswith("<"):
                    found |= {word for word in part.split("|") if not word[0].isdigit()}
                elif part.startswith("<n "):
                    found |= {part[3:-1], part[3:-1].rstrip("s")}
    return sorted(found)


def colours() -> list[str]:
    """The colours by word and by code, the longest first."""
    book = colour_book()
    return sorted({*book.by_word, *book.by_code}, key=lambda word: (-len(word), word))


def units() -> list[str]:
    """The units, the longest first."""
    return sorted({*UNITS, *SIZE_UNITS}, key=lambda unit: (-len(unit), unit))


def terminal(name: str) -> str:
    """The pattern of a terminal of the grammar, as the grammar has it."""
    found = re.search(rf"^{name}[.\d]*: /(.*)/$", grammar_text(), re.MULTILINE)
    if found is None:
        raise ValueError(f"the grammar has no {name}")
    return found[1]


def either(words: Iterable[str]) -> str:
    """A pattern for one of some words."""
    return "|".join(re.escape(word).replace(r"\ ", "[ \\t]+") for word in words)


def patterns() -> list[tuple[str, str]]:
    """What is coloured, in the order in which it is tried: the scope and the pattern."""
    number = rf"(?:{terminal('FRACTION')}|{terminal('NUMBER')})"
    return [
        ("comment.line.number-sign", "#.*$"),
        ("string.quoted.double", terminal("LABEL")),
        ("constant.other.date", terminal("DATE")),
        ("keyword.control", rf"(?i:^[ \t\f\xa0]*(?:{either(statements())}){END})"),
        ("variable.other", terminal("PLACE")),
        ("constant.numeric", rf"{number}[ \t]*(?i:{either(units())})?{END}"),
        ("constant.numeric", number),
        ("constant.language", r"\?"),
        ("support.constant.color", rf"(?i:\b(?:{either(colours())}){END})"),
        ("support.type.property-name", rf"(?i:\b(?:{either(fact_words())}){END})"),
        ("keyword.control", rf"(?i:\b(?:{either(statements())}){END})"),
        # A name, or a word that nothing is known of: as a whole, so that no part of it is coloured.
        ("variable.other", terminal("WORD")),
    ]


def textmate() -> str:
    """The grammar file for editors that read this format."""
    rules = [{"name": f"{scope}.rig", "match": pattern} for scope, pattern in patterns()]
    whole = {
        "name": "Rig", "scopeName": "source.rig", "fileTypes": ["rig"], "patterns": rules,
    }  # fmt: skip
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def _vim(words: Iterable[str]) -> str:
    """A very nomagic pattern for one of some words, in no matter which capitals."""
    each = r"\|".join(word.replace("\\", r"\\").replace("/", r"\/") for word in words)
    return rf"\V\%({each}\)\m\ze\%([^0-9A-Za-z_-]\|$\)"


def vim() -> str:
    """The syntax file for Vim."""
    lines = [
        '" How Vim colours a rig file; made by tests/make_highlighting.py.',
        'if exists("b:current_syntax")',
        "  finish",
        "endif",
        "syntax case ignore",
        rf"syntax match rigWord /\<{_vim(statements())}/",
        rf"syntax match rigFact /\<{_vim(fact_words())}/",
        rf"syntax match rigColour /\<{_vim(colours())}/",
        r"syntax match rigPlace /\<\h\w*\%(\%(\.\w\+\)\+[+-]\=\|[+-]\)[0-9A-Za-z_+]\@!/",
        rf"syntax match rigNumber /\<\d\+\%([.\/]\d\+\)\=\%(\s*{_vim(units())}\)\=/",
        r"syntax match rigNumber /\<\d\{4}-\d\d-\d\d\>/",
        "syntax match rigUnknown /?/",
        rf"syntax match rigStatement /^\s*{_vim(statements())}/",
        'syntax region rigLabel start=/"/ end=/"/ oneline',
        "syntax match rigComment /#.*$/",
        "highlight default link rigStatement Statement",
        "highlight default link rigWord Statement",
        "highlight default link rigFact Type",
        "highlight default link rigColour Constant",
        "highlight default link rigPlace Identifier",
        "highlight default link rigNumber Number",
        "highlight default link rigUnknown Todo",
        "highlight default link rigLabel String",
        "highlight default link rigComment Comment",
        'let b:current_syntax = "rig"',
    ]
    return "\n".join(lines) + "\n"


FILES = {TEXTMATE: textmate, VIM: vim}


def main() -> None:
    """Write the files."""
    for file, make in FILES.items():
        file.write_text(make(), encoding="utf-8")


if __name__ == "__main__":
    main()
