"""The word of a kind, for one part and for several."""


def plural(word: str) -> str:
    """The word for several parts of a kind.

    Examples
    --------
    >>> plural("fuse"), plural("switch"), plural("chassis")
    ('fuses', 'switches', 'chassis')
    """
    if word.endswith("is"):
        return word
    return f"{word}es" if word.endswith(("ch", "s", "x")) else f"{word}s"


def with_article(word: str) -> str:
    """The word for one part of a kind with its article.

    Examples
    --------
    >>> with_article("relay"), with_article("alternator")
    ('a relay', 'an alternator')
    """
    return f"{'an' if word[:1] in 'aeiou' else 'a'} {word}"
