"""Values that were asked for with `?` and that the graph has no room for as unknown."""

from collections.abc import Iterator

from rigfolio.model import Gap, guards
from rigfolio.reading.word import Said
from rigfolio.values import Place

# These are unknown in the graph itself, where each check meets them.
_HELD = frozenset({
    "size", "colour", "length", "rating", "limit", "current", "power", "resistance", "capacity",
    "internal", "delivers", "interrupts", "slot", "total", "draws", "leads", "main",
    "open", "short", "back", "input", "rest", "run", "to",
    "from", "at", "after", "found", "was", "marked", "beside",
})  # fmt: skip
_WORDS = {
    "insulation": "insulation temperature", "ambient": "ambient temperature",
    "coldest": "coldest temperature",
    "bundle": "number of wires in the bundle", "count": "number of conductors in parallel",
    "rated": "rated voltage", "volts": "voltage", "system": "system voltage",
    "hours": "hours a day", "starts": "starting current",
    "start_time": "time of a start", "drop": "allowed drop",
    "negative": "negative bar", "slots": "number of slots", "pins": "number of pins",
    "ways": "number of ways",
    "series": "number of modules in series", "parallel": "number of strings in parallel",
    "works": "voltage at its watts", "gains": "gain of volts in the cold",
    "ohm": "resistance", "lasting": "current for hours", "cold": "cold cranking current",
    "marine": "marine cranking current", "made_for": "volts that it is made for",
}  # fmt: skip


def gaps_of(said: Said) -> Iterator[Gap]:
    """The gaps of a statement and of the statements inside it."""
    first = said.opening[0] if said.opening else ""
    name = str(first) if isinstance(first, str | Place) else ""
    for key, span in said.facts.asked():
        if key not in _HELD and key not in guards():
            yield Gap(name, key, _WORDS.get(key, key), span)
    for one in said.inside:
        yield from gaps_of(one)
