"""Remarks put on the things they speak of."""

from collections.abc import Iterable

from rigfolio.model.asides import Acceptance, Photo, Remark
from rigfolio.model.draft import NoteSaid
from rigfolio.model.graph import About, Rig
from rigfolio.model.names import Bare, Names
from rigfolio.record import replace
from rigfolio.values import read_place


def noted(rig: Rig, notes: Iterable[NoteSaid], names: Names) -> Rig:
    """The rig with every remark on its object, or kept with its place where it has none."""
    for said in notes:
        name = str(said.place)
        if name in _named(rig):
            rig = _put(rig, name, said)
            continue
        where = name if name in names.terminals else names.resolve(said.place, said.span)
        if where is not None:
            place = where.key if isinstance(where, Bare) else where
            remark = Remark(place, said.text, said.condition, said.span)
            rig = replace(rig, remarks=(*rig.remarks, remark))
    return rig


def pictured(rig: Rig, photos: Iterable[Photo], names: Names) -> Rig:
    """The rig with its pictures; a mark that names nothing is noted as a problem."""
    kept = tuple(photos)
    known = _named(rig) | names.terminals.keys() | {f"{s.panel}.{s.number}" for s in rig.slots}
    for mark in (mark for photo in kept for mark in photo.marks):
        if mark.place not in known:
            names.resolve(read_place(mark.place, mark.span.start), mark.span)
    return replace(rig, photos=kept)


def accepting(rig: Rig, accepted: Iterable[Acceptance], names: Names) -> Rig:
    """The rig with what its text accepts; a place that is none is noted as a problem."""
    kept = tuple(accepted)
    known = _named(rig) | names.terminals.keys() | {f"{s.panel}.{s.number}" for s in rig.slots}
    for one in kept:
        if one.place not in known:
            names.resolve(read_place(one.place, one.span.start), one.span)
    return replace(rig, accepted=kept)


def _named(rig: Rig) -> set[str]:
    abouts = [one.about for one in rig.sources] + [one.about for one in rig.devices]
    abouts += [one.about for one in rig.junctions] + [one.about for one in rig.panels]
    abouts += [one.about for one in rig.loads]
    return (
        {about.name for about in abouts}
        | {wire.name for wire in rig.conductors}
        | {circuit.place for circuit in rig.circuits}
    )


def _put(rig: Rig, name: str, said: NoteSaid) -> Rig:
    def about(old: About) -> About:
        if old.name != name:
            return old
        return replace(
            old, note=said.text or old.note, condition=said.condition or old.condition
        )  # fmt: skip

    return replace(
        rig,
        sources=tuple(replace(one, about=about(one.about)) for one in rig.sources),
        devices=tuple(replace(one, about=about(one.about)) for one in rig.devices),
        junctions=tuple(replace(one, about=about(one.about)) for one in rig.junctions),
        panels=tuple(replace(one, about=about(one.about)) for one in rig.panels),
        loads=tuple(replace(one, about=about(one.about)) for one in rig.loads),
        conductors=tuple(
            replace(one, note=said.text or one.note, condition=said.condition or one.condition)
            if one.name == name
            else one
            for one in rig.conductors
        ),
        circuits=tuple(
            replace(one, note=said.text or one.note, condition=said.condition or one.condition)
            if one.place == name
            else one
            for one in rig.circuits
        ),
    )
