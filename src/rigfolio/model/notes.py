"""Remarks put on the things they speak of."""

from collections.abc import Iterable, Mapping

from rigfolio.findings import Span
from rigfolio.model.asides import About, Acceptance, Photo, Problem, Remark
from rigfolio.model.draft import NoteSaid
from rigfolio.model.graph import Rig
from rigfolio.model.names import Bare, Names
from rigfolio.model.wire_names import JOIN, either_order
from rigfolio.nearness import nearest
from rigfolio.record import replace
from rigfolio.values import read_place


def noted(rig: Rig, notes: Iterable[NoteSaid], names: Names) -> Rig:
    """The rig with every remark on its object, or kept with its place where it has none."""
    wires, named = _by_any_name(rig), _named(rig)
    for said in notes:
        name = str(said.place)
        name = wires.get(name.casefold(), name)
        if name in named:
            rig = _put(rig, name, said)
            continue
        if JOIN in name:
            _no_wire(rig, name, said.span, names)
            continue
        where = name if name in names.terminals else names.resolve(said.place, said.span)
        if where is not None:
            place = where.key if isinstance(where, Bare) else where
            remark = Remark(place, said.text, said.condition, said.span)
            rig = replace(rig, remarks=(*rig.remarks, remark))
    return rig


def pictured(rig: Rig, photos: Iterable[Photo], names: Names) -> Rig:
    """The rig with its pictures; a mark that names nothing is noted as a problem."""
    wires = _by_any_name(rig)
    kept = tuple(_named_so(photo, wires) for photo in photos)
    known = _known(rig, names)
    for mark in (mark for photo in kept for mark in photo.marks):
        if mark.place in known:
            continue
        if JOIN in mark.place:
            _no_wire(rig, mark.place, mark.span, names)
        else:
            names.resolve(read_place(mark.place, mark.span.start), mark.span)
    return replace(rig, photos=kept)


def accepting(rig: Rig, accepted: Iterable[Acceptance], names: Names) -> Rig:
    """The rig with what its text accepts; a place that is none is noted as a problem."""
    kept = tuple(accepted)
    known = _known(rig, names)
    for one in kept:
        if one.place not in known:
            names.resolve(read_place(one.place, one.span.start), one.span)
    return replace(rig, accepted=kept)


def _no_wire(rig: Rig, name: str, at: Span, names: Names) -> None:
    near = nearest(name, sorted(wire.name for wire in rig.conductors))
    names.problems.append(Problem("not-defined", at, name, near=near))


def _named_so(photo: Photo, wires: Mapping[str, str]) -> Photo:
    """A picture on which every wire is called by its one name."""
    marks = tuple(
        replace(mark, place=wires.get(mark.place.casefold(), mark.place)) for mark in photo.marks
    )
    return replace(photo, marks=marks)


def _by_any_name(rig: Rig) -> dict[str, str]:
    """The wires by their names without capitals, and by those with the ends the other way round."""
    turned = {either_order(wire.name).casefold(): wire.name for wire in rig.conductors}
    return turned | {wire.name.casefold(): wire.name for wire in rig.conductors}


def _named(rig: Rig) -> set[str]:
    abouts = [one.about for one in rig.sources] + [one.about for one in rig.devices]
    abouts += [one.about for one in rig.junctions] + [one.about for one in rig.panels]
    abouts += [one.about for one in rig.loads]
    return (
        {about.name for about in abouts}
        | {wire.name for wire in rig.conductors}
        | {circuit.place for circuit in rig.circuits}
    )


def _known(rig: Rig, names: Names) -> set[str]:
    """Every place that a text may speak of: parts, wires, circuits, terminals, free slots."""
    return _named(rig) | names.terminals.keys() | {slot.place for slot in rig.slots}


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
