"""What has to be bought: fuses, terminals, sleeves, wire, tags, labels, with spares and slack."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from rigfolio.books import (
    barrel_colour,
    barrel_gauges,
    bought_m,
    outside_diameter_m,
    sleeve_length_m,
    sleeve_m,
    spare_fuses,
    with_waste,
)
from rigfolio.compare import Deed, Work
from rigfolio.findings import Unknown
from rigfolio.job import Again
from rigfolio.kinds import is_of_heat
from rigfolio.model import Conductor, Device, Rig
from rigfolio.natural_order import natural
from rigfolio.network import ends_of_run, runs_of
from rigfolio.protection import (
    bare_behind,
    below_least,
    instead_words,
    is_device_too_large,
    serving_a,
)
from rigfolio.record import once, record, replace
from rigfolio.shorts import breaks_too_little_words
from rigfolio.study import Study
from rigfolio.swap.spares import fuses_fitted
from rigfolio.units import Size, from_si, show_limit
from rigfolio.wording import (
    circuits_in_order,
    colour_text,
    gauge_words,
    in_a_row,
    is_imperial,
    rating_and_kind,
    wires_in_order,
)

_BOUGHT: tuple[Deed, ...] = ("pull new", "replace")


@record
class Pick:
    """One line of the list: what, how many or how much in words, and what it is for.

    `fitted` is how many go into the rig, `bought` the words for what is to be bought; `note` says
    what is not known of it.
    """

    group: str
    what: str
    fitted: str
    bought: str
    places: tuple[str, ...]
    note: str = ""


@record
class Marks:
    """How many tags and labels are stuck on: tags of wires, labels in panels and elsewhere."""

    tags: int = 0
    slots: int = 0
    devices: int = 0


def picks(
    study: Study,
    only: Collection[str] = (),
    again: Again | None = None,
    marks: Marks | None = None,
) -> tuple[Pick, ...]:
    """The whole list, as `picks_in_turn` gives it."""
    return tuple(picks_in_turn(study, only, again, marks))


def picks_in_turn(
    study: Study,
    only: Collection[str] = (),
    again: Again | None = None,
    marks: Marks | None = None,
) -> Iterator[Pick]:
    """The whole list, or that of some circuits and wires, or of what changed.

    Parameters
    ----------
    study : Study
        The rig.
    only : Collection[str]
        Places of circuits and names of wires; all of them if left out.
    again : Again, optional
        What changed since an earlier version: what is new or replaced is bought, a wire that moves
        has its ends made anew, and for what was only learnt nothing is bought.
    marks : Marks, optional
        How many tags and labels are printed for it.
    """
    chosen = _Chosen(study.rig, only, again)
    for some in (_fuses, _terminals, _sleeves, _wire, _parts):
        yield from some(study, chosen)
    yield from _marked(marks or Marks())


class _Chosen:
    """The wires and devices that are meant.

    `ended` are the wires that are crimped, `run` those that are laid, both out of what was chosen;
    `devices` are the fuses and breakers that are bought, `others` what else is fitted new, `fresh`
    what was not there before, `held_anew` the fuses for which no holder is there.
    """

    def __init__(self, rig: Rig, only: Collection[str], again: Again | None) -> None:
        names = frozenset(only)
        circuits = [c for c in circuits_in_order(rig) if not names or {c.place, c.panel} & names]
        mine = {name for c in circuits for name in (*c.wires, *c.returns) if c.place in names}
        mine |= {name for c in circuits for name in (*c.wires, *c.returns) if c.panel in names}
        wires = tuple(w for w in wires_in_order(rig) if not names or w.name in names | mine)
        self.others: tuple[Work, ...] = ()
        self.held_anew: tuple[Device, ...] = ()
        self.fresh: frozenset[str] = frozenset()
        if again is None:
            self.run = self.ended = wires
            held = {c.device for c in circuits} | names
            carried = {wire.name for wire in wires} - {""}
            self.devices = tuple(
                d for d in rig.devices
                if not names or d.about.name in held or d.on_wire in carried
            )  # fmt: skip
            return
        deeds = {(work.thing, work.after): work.deed for work in again.work}

        for run in runs_of(rig):
            # A return that is assumed is one wire, called by one of its pieces.
            kinds = [deeds[("wire", w.name)] for w in run if ("wire", w.name) in deeds]
            if run[0].assumed and kinds:
                deeds |= {("wire", wire.name): kinds[0] for wire in run}

        def of(wire: Conductor, *wanted: Deed) -> bool:
            return deeds.get(("wire", wire.name)) in wanted

        self.run = tuple(w for w in wires if of(w, *_BOUGHT))
        self.ended = tuple(w for w in wires if of(w, *_BOUGHT, "move", "new ends"))
        self.devices = tuple(
            d for d in rig.devices if deeds.get(("device", d.about.name)) in _BOUGHT
        )
        self.held_anew = tuple(d for d in self.devices if needs_holder(again, d))
        self.fresh = frozenset(name for (_, name), deed in deeds.items() if deed == "pull new")
        protects = {d.about.name for d in self.devices if d.protects}
        self.others = tuple(
            work
            for work in again.work
            if work.deed in _BOUGHT and work.thing not in ("wire", "slot")
            and work.after not in protects
        )  # fmt: skip


_READ_IT = "read it on the fuse that is fitted"
_UNNAMED = "new: chosen with its holder, and written into the text"
_UNREAD = "none is bought, and none goes in, until its rating is known"


def _fuses(study: Study, chosen: _Chosen) -> Iterator[Pick]:
    wrong = tuple(device for device in chosen.devices if is_device_too_large(study, device))
    weak = {one: words for one in chosen.devices if one not in wrong
            and (words := breaks_too_little_words(study, one))}  # fmt: skip
    right = tuple(one for one in chosen.devices if one not in wrong and one not in weak)
    for one in fuses_fitted(study, right):
        if one.must.rating_a is None:
            words = f"{one.make} of unknown rating"
            yield Pick("Fuses", words, str(one.fitted), "0", one.places, _UNREAD)
            continue
        yield Pick(
            "Fuses", one.words, str(one.fitted), str(one.fitted + spare_fuses()), one.places,
            "" if one.is_known else _UNNAMED if chosen.fresh.issuperset(one.places) else _READ_IT,
        )  # fmt: skip
    breakers: dict[str, list[str]] = {}
    for device in right:
        if device.traits.resets:
            known = isinstance(device.rating_a, float)
            words = show_limit(device.rating_a, "A") if known else ""
            breakers.setdefault(words, []).append(device.about.name)
    for words, names in sorted(breakers.items(), key=lambda each: natural(each[0])):
        fitted = str(len(names))
        called = f"breaker {words}" if words else "breaker of unknown rating"
        bought, remark = (fitted, "") if words else ("0", _UNREAD)
        yield Pick("Fuses", called, fitted, bought, _places(names), remark)
    yield from (_instead(study, device) for device in wrong)
    for device, why in weak.items():
        words = f"{device.about.name} {rating_and_kind(device)}"
        yield Pick("Fuses", words, "1", "0", _places((device.about.name,)), f"not bought: {why}")


def _instead(study: Study, device: Device) -> Pick:
    """In place of one that is too large the largest fuse that serves; nothing where none does."""
    serves_a = None if device.traits.resets else serving_a(study, device)
    if serves_a is not None:
        (spare,) = fuses_fitted(study, (replace(device, rating_a=serves_a, found_a=None),))
        bare = in_a_row([wire.name for wire in bare_behind(study, device)])
        lacks = f"; {bare}: wants a fuse of its own" if bare else ""
        return Pick("Fuses", spare.words, "1", str(1 + spare_fuses()), spare.places,
                    f"instead of {rating_and_kind(device)}, TOO LARGE{lacks}")  # fmt: skip
    largest = instead_words(study, device)
    most = f"max {largest}" if largest[0].isdigit() else "none is made that is small enough"
    words = f"{rating_and_kind(device)} TOO LARGE"
    return Pick("Fuses", words, "1", "0", _places((device.about.name,)), f"not bought: {most}")


def _terminals(study: Study, chosen: _Chosen) -> Iterator[Pick]:
    """Terminals by kind, stud and size; the kind as the text says, else a ring for its stud."""
    found: dict[tuple[str, str], list[str]] = {}
    inside = _inside(study.rig)
    for wire in chosen.ended:
        for end, said in zip((wire.a, wire.b), wire.ends, strict=True):
            if (wire.name, end) in inside:
                continue
            kind = said or usual_terminal(study.rig, end)
            found.setdefault((kind, _barrel(wire)), []).extend([wire.name] * wire.count)
    for (kind, barrel), names in sorted(found.items(), key=lambda each: natural(" ".join(each[0]))):
        count = len(names)
        yield Pick(
            "Terminals", f"{kind or 'terminal to suit'}, {barrel}", str(count),
            str(with_waste(count)), _places(names), "" if kind else "see what the part takes",
        )  # fmt: skip


@once
def _inside(rig: Rig) -> frozenset[tuple[str, str]]:
    """The ends of conductors at which a piece of wire goes on, each with its conductor."""
    return frozenset(
        (wire.name, end)
        for run in runs_of(rig)
        if len(run) > 1
        for wire in run
        for end in {wire.a, wire.b}.difference(ends_of_run(run))
    )


def usual_terminal(rig: Rig, terminal: str) -> str:
    """The terminal for a part whose stud is stated: a ring for that stud.

    The stud of a panel is that of its feed; what its slots take is not said by it.
    """
    bare = terminal.rstrip("+-")
    names = (terminal, bare, bare.rsplit(".", 1)[0])
    by_feed, others = _studs(rig)
    stud = by_feed.get(terminal) or next((stud for name, stud in others if name in names), "")
    return f"ring {stud}" if stud else ""


@once
def _studs(rig: Rig) -> tuple[Mapping[str, str], tuple[tuple[str, str], ...]]:
    """The studs that are stated: of panels by their feed, then of other parts by name."""
    by_feed = {one.feed: one.about.stud for one in reversed(rig.panels) if one.about.stud}
    abouts = [one.about for one in rig.sources] + [one.about for one in rig.devices]
    abouts += [one.about for one in rig.junctions]
    return by_feed, tuple((one.name, one.stud) for one in abouts if one.stud)


def _barrel(wire: Conductor) -> str:
    if isinstance(wire.size, Unknown):
        return "for a wire of unknown size"
    colour = barrel_colour(wire.size.area_m2)
    return f"{colour}, {barrel_gauges(colour)}" if colour else f"for {wire.size.text}"


def _sleeves(study: Study, chosen: _Chosen) -> Iterator[Pick]:
    found: dict[str, list[str]] = {}
    inside = _inside(study.rig)
    for wire in chosen.ended:
        ends = [end for end in (wire.a, wire.b) if (wire.name, end) not in inside]
        if not isinstance(wire.size, Size):
            continue
        diameter = sleeve_m(outside_diameter_m(wire.size).value)
        if diameter is not None:
            found.setdefault(f"{diameter * 1000.0:g} mm", []).extend(
                [wire.name] * len(ends) * wire.count
            )
    for what, names in sorted(found.items(), key=lambda each: natural(each[0])):
        long_m = with_waste(len(names)) * sleeve_length_m()
        yield Pick(
            "Heat-shrink and sleeves", f"tube {what}, cut to {sleeve_length_m() * 1000.0:.0f} mm",
            str(len(names)), _length(long_m, imperial=is_imperial(study.rig)), _places(names),
        )  # fmt: skip


def _wire(study: Study, chosen: _Chosen) -> Iterator[Pick]:
    """Wire by size, thinnest first, and colour."""
    found: dict[tuple[float, str, str, str, str], list[Conductor]] = {}
    for wire in chosen.run:
        area = float("inf") if isinstance(wire.size, Unknown) else wire.size.area_m2
        unread = isinstance(wire.colour, Unknown)
        colour = "colour ?" if unread else colour_text(wire.colour)
        size = gauge_words(wire).split(" x ")[-1]
        found.setdefault((area, size, colour, _too_thin(study, wire), _renewed(wire)), []).append(
            wire
        )
    for (_, size, shade, thin, new), wires in sorted(found.items()):
        runs = [(w.length_m, w.count) for w in wires if isinstance(w.length_m, float)]
        run_m = sum(length_m * count for length_m, count in runs)
        buy_m = sum(bought_m(length_m, 1) * count for length_m, count in runs)
        imperial = 2 * sum(wire.is_in_feet for wire in wires) >= len(wires)
        note = thin or "; ".join(filter(None, (new, _wire_note(wires))))
        yield Pick(
            "Wire", f"{size}, {shade}", _length(run_m, imperial=imperial) if runs else "?",
            "0" if thin else _length(buy_m, imperial=imperial) if runs else "?",
            _places(w.name for w in wires), note,
        )  # fmt: skip


def _renewed(wire: Conductor) -> str:
    """That a wire is pulled new as the one there has been hot, in words; empty for all others."""
    return f"new: the one there is {wire.condition}" if is_of_heat(wire.condition) else ""


def _too_thin(study: Study, wire: Conductor) -> str:
    """That no wire may be so thin, in words; empty where the rule book allows it."""
    least = below_least(study, wire)
    how = "" if least is None else least.how or f"{least.value * 1e6:.2f} mm²"
    return f"not bought: no wire may be thinner than {how}" if how else ""


def _wire_note(wires: list[Conductor]) -> str:
    missing = [wire for wire in wires if isinstance(wire.length_m, Unknown)]
    if missing:
        return f"length of {_some(missing)} not surveyed"
    assumed = [wire for wire in wires if wire.assumed]
    if not assumed:
        return ""
    whole = len(assumed) == len(wires)
    return "assumed: no return is stated" if whole else f"of it assumed: {_some(assumed)}"


def _some(wires: list[Conductor], most: int = 3) -> str:
    more = len(wires) - most
    listed = ", ".join(wire.name for wire in wires[:most])
    return f"{listed} and {more} more" if more > 0 else listed


def _parts(study: Study, chosen: _Chosen) -> Iterator[Pick]:
    """Sources, panels, bars, switches and loads that a change asks for."""
    index = study.rig.by_name
    holders = (index.devices, index.sources, index.panels, index.junctions, index.loads)
    for work in chosen.others:
        part = next((each[work.after] for each in holders if work.after in each), None)
        words = str(part.about) if part is not None else work.after
        yield Pick("Parts", words.strip(), "1", "1", (), "; ".join(work.facts))
    yield from _holders(study, chosen.held_anew)


def needs_holder(again: Again, device: Device) -> bool:
    """Whether a fuse outside slots is new, or of another make than the holder there is made for."""
    if device.in_slot or not device.protects or device.traits.resets:
        return False
    name = device.about.name
    done = next((w for w in again.work if (w.thing, w.after) == ("device", name)), None)
    if done is None or done.deed not in _BOUGHT:
        return False
    known = again.before.rig.by_name.devices.get(done.before) if again.before is not None else None
    return known is None or bool(known.family and known.family != device.family)


def holder_words(study: Study, device: Device) -> str:
    """The holder of a fuse, as it is asked for in a shop."""
    (one,) = fuses_fitted(study, (device,))
    return f"fuse holder, {one.make}" if one.must.family else "fuse holder, as its fuse asks"


def _holders(study: Study, devices: Iterable[Device]) -> Iterator[Pick]:
    """The holders of fuses that are new outside slots, those of one make together."""
    found: dict[str, list[str]] = {}
    for device in devices:
        found.setdefault(holder_words(study, device), []).append(device.about.name)
    for words, names in sorted(found.items()):
        count = str(len(names))
        yield Pick("Parts", words, count, count, _places(names), "none is there that takes it")


def _marked(marks: Marks) -> Iterator[Pick]:
    for what, count in (
        ("wire tags, both ends", marks.tags),
        ("slot labels", marks.slots),
        ("labels of devices outside panels", marks.devices),
    ):
        if count:
            yield Pick("Tags and labels", what, str(count), str(count), ())


def _length(length_m: float, *, imperial: bool) -> str:
    """A length to be bought: whole feet or tenths of a metre, rounded up."""
    if imperial:
        return f"{-(-from_si(length_m, 'ft') // 1):.0f} ft"
    return f"{-(-length_m * 10.0 // 1) / 10.0:.1f} m"


def _places(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(dict.fromkeys(names), key=natural))
