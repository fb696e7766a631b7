"""Which source is joined the wrong way round, by what all other parts say of plus and minus."""

from collections.abc import Mapping

from rigfolio.model import Rig, Source
from rigfolio.network.graph import Net, net_of
from rigfolio.record import replace

_SURE = 2
"""So many parts have to agree before one source is said to be wrong and not they."""


def reversed_source(rig: Rig, net: Net) -> Source | None:
    """The one source with which turned round nothing is wrong any more; None where there is none.

    That is so where loads, panels and other sources that are joined to it all lie the wrong way
    round. With two sources and nothing else neither is said to be wrong.
    """
    before = _wrong(rig, net)
    if before < _SURE:
        return None
    found = [source for source in rig.sources if not _wrong(turned(rig, source), None)]
    return found[0] if len(found) == 1 else None


def turned(rig: Rig, source: Source) -> Rig:
    """A rig with the wires at the two posts of a source changed over."""
    other = {source.plus: source.minus, source.minus: source.plus}
    devices = tuple(
        replace(one, line=other.get(one.line, one.line), load=other.get(one.load, one.load))
        for one in rig.devices
    )
    # A return that the text does not state was assumed to come back to the minus post as such.
    wires = tuple(
        one if one.assumed else replace(one, a=other.get(one.a, one.a), b=other.get(one.b, one.b))
        for one in rig.conductors
    )
    circuits = tuple(replace(one, start=other.get(one.start, one.start)) for one in rig.circuits)
    return replace(rig, devices=devices, conductors=wires, circuits=circuits)


def _wrong(rig: Rig, net: Net | None) -> int:
    """How many parts lie the wrong way round, or with plus and minus on one net."""
    net = net or net_of(rig)
    plus = net.walk(source.plus for source in rig.sources)
    minus = net.walk(source.minus for source in rig.sources)
    loads = sum(one.plus in minus or one.minus in plus for one in rig.loads)
    panels = sum(
        one.feed in minus or (one.negative is not None and one.negative in plus)
        for one in rig.panels
    )
    frames = sum(one.terminal in plus for one in rig.junctions if one.traits.is_frame)
    sources = sum(_is_crossed(one, plus, minus) for one in rig.sources)
    return loads + panels + frames + sources


def _is_crossed(source: Source, plus: Mapping[str, object], minus: Mapping[str, object]) -> bool:
    return source.plus in minus or source.minus in plus
