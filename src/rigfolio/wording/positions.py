"""How a switch that makes one of several ways stands, in words."""

from collections.abc import Iterable, Iterator

from rigfolio.model import Rig


def position_words(rig: Rig, name: str, position: str) -> str:
    """A position as it is typed, with what is written there: `1 anchor`."""
    ways = rig.poles.get(name, ())
    called = next((one.called for one in ways if one.position == position), "")
    return f"{position} {called}".strip()


def turned_words(rig: Rig, stand: Iterable[tuple[str, str]]) -> Iterator[str]:
    """How each of some switches stands: `SW5 on 1 anchor`, in the order of the text."""
    stands = dict(stand)
    for name, ways in rig.poles.items():
        if name in stands and ways[0].position:
            yield f"{name} on {position_words(rig, name, stands[name])}"
