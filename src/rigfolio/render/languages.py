"""Words whose script tells their language, by tags of BCP 47.

The Greek script is that of one language. Cyrillic is that of many: where the letters of a text are
in the alphabet of one of them only, it is that one, else only the script is stated.
"""

import re
from collections.abc import Iterator

_RUNS = tuple(f"[{letters}]+(?:[^\\w]+[{letters}]+)*" for letters in (
    "\u0370-\u03ff\u1f00-\u1fff", "\u0400-\u052f"))  # fmt: skip
_RUN = re.compile(f"(?P<el>{_RUNS[0]})|(?P<cyrillic>{_RUNS[1]})")
_SIGN = re.compile("[^\\w]*(?:[\u0370-\u03ff]|[\u03a9\u03bc]+)[^\\w]*")
"""A Greek letter alone, or those of a unit, as in 5 Ω or 3 μΩ, is no word."""
_ALPHABETS = {
    "be": "абвгдеёжзійклмнопрстуўфхцчшыьэюя",
    "bg": "абвгдежзийклмнопрстуфхцчшщъьюя",
    "mk": "абвгдѓежзѕијклљмнњопрстќуфхцчџш",
    "ru": "абвгдеёжзийклмнопрстуфхцчшщъыьэюя",
    "sr": "абвгдђежзијклљмнњопрстћуфхцчџш",
    "uk": "абвгґдеєжзиіїйклмнопрстуфхцчшщьюя",
}
"""Alphabets of languages, by their tags (from memory)."""


def in_languages(text: str) -> Iterator[tuple[str, str]]:
    """A text in pieces, each with the language of its words, empty for that of the document.

    Examples
    --------
    >>> list(in_languages("P1.3 Φώτα κουζίνας 5 Ω"))
    [('P1.3 ', ''), ('Φώτα κουζίνας', 'el'), (' 5 Ω', '')]
    >>> list(in_languages("Свет, кухня")), list(in_languages("Вытяжка и свет"))
    ([('Свет, кухня', 'und-Cyrl')], [('Вытяжка и свет', 'ru')])
    """
    if text.isascii():
        yield text, ""
        return
    done = 0
    for run in _RUN.finditer(text):
        if _SIGN.fullmatch(run[0]):
            continue
        if run.start() > done:
            yield text[done : run.start()], ""
        yield run[0], _language(run)
        done = run.end()
    if done < len(text):
        yield text[done:], ""


def _language(run: re.Match[str]) -> str:
    if run.lastgroup == "el":
        return "el"
    letters = {letter for letter in run[0].lower() if letter.isalpha()}
    able = [tag for tag, alphabet in _ALPHABETS.items() if letters <= set(alphabet)]
    return able[0] if len(able) == 1 else "und-Cyrl"
