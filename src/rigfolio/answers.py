"""Answers to what a person asks of a rig at the panel, as text or JSON; prints nothing."""

import json
from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from rigfolio.excerpt import clean
from rigfolio.study.isolation import places
from rigfolio.study.isolation_text import (
    Plain,
    isolation_lines,
    isolation_plain,
    live_lines,
    live_plain,
)
from rigfolio.study.study import Study


def isolate(study: Study, place: str, *, as_json: bool = False) -> str:
    """What to open to make a place dead, in order, and what stays live then.

    Raises
    ------
    KeyError
        There is no such place.
    """
    if as_json:
        return _json(isolation_plain(study, place))
    return _text(isolation_lines(study, place))


def live(study: Study, *, as_json: bool = False) -> str:
    """What is alive in which state and from which source, and what must stay on but does not."""
    return _json(live_plain(study)) if as_json else _text(live_lines(study))


def nearest_place(study: Study, place: str) -> str:
    """The closest name of a place, or the first few where none is near."""
    known = tuple(places(study.rig))
    near = get_close_matches(place, known, n=1, cutoff=0.5)
    if near:
        return f"the nearest is `{near[0]}`"
    return "there are " + ", ".join(f"`{name}`" for name in known[:8])


def _text(lines: Iterable[str]) -> str:
    return "".join(f"{clean(line)}\n" for line in lines)


def _json(plain: Mapping[str, Plain]) -> str:
    return json.dumps(plain, ensure_ascii=False, indent=2) + "\n"
