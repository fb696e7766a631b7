"""Small constructors that both wires and circuits need."""

from rigfolio.findings import Unknown
from rigfolio.model.asides import About
from rigfolio.model.draft import FuseSaid, LoadSaid, WireFacts
from rigfolio.model.graph import Conductor, Device, Load, Rig
from rigfolio.record import replace
from rigfolio.units import Size


def conductor(name: str, ends: tuple[str, str], said: WireFacts, circuit: str = "") -> Conductor:
    """A conductor between two terminals."""
    return Conductor(
        name=name, a=ends[0], b=ends[1], size=said.size, colour=said.colour,
        length_m=said.length_m, span=said.span, size_span=said.size_span or said.span,
        circuit=circuit, insulation_c=said.insulation_c, ambient_c=said.ambient_c,
        bundle=said.bundle, engine_space=said.engine_space, sheathed=said.sheathed,
        count=said.count, cranking=said.cranking, note=said.note, condition=said.condition,
        insulation=said.insulation, ends=said.ends, tail_m=said.tail_m,
        breakout_m=said.breakout_m, length_unit=said.length_unit, found=said.found,
    )  # fmt: skip


def inline_fuse(name: str, ends: tuple[str, str], said: FuseSaid, on_wire: str) -> Device:
    """A fuse or breaker that was said within a wire or a circuit."""
    return Device(
        about=About(name, "", said.span, rated_v=said.rated_v), kind=said.kind, line=ends[0],
        load=ends[1], rating_a=said.rating_a, interrupts_a=said.interrupts_a,
        family=said.family, on_wire=on_wire, rating_span=said.span,
        resets_itself=said.resets_itself, found_a=said.found_a,
    )  # fmt: skip


def split(whole: Conductor, stub: str, after_m: float) -> tuple[Conductor, Conductor]:
    """A conductor cut where a fuse sits on it: the stub before the fuse, the rest behind it."""
    rest = whole.length_m
    if not isinstance(rest, Unknown):
        rest = max(rest - after_m, 0.0)
    return replace(whole, name=stub, length_m=after_m), replace(whole, length_m=rest)


def bonded(rig: Rig) -> Rig:
    """A rig whose bonds have the resistance that is stated of the frames they land on.

    What a circuit or a load brings back to a frame runs on through a bond, so that it counts there.
    """
    ohms = {j.terminal: j.ohm for j in rig.junctions if j.traits.is_frame and j.ohm}
    if not ohms:
        return rig
    of_loads = {load.minus for load in rig.loads}
    made = []
    for wire in rig.conductors:
        ends = {wire.a, wire.b}
        ohm = max((ohms.get(end, 0.0) for end in ends), default=0.0)
        is_bond = not wire.circuit and not (ends - ohms.keys()) & of_loads
        made.append(replace(wire, frame_ohm=ohm) if ohm and is_bond else wire)
    return replace(rig, conductors=tuple(made))


def load_of(said: LoadSaid, ends: tuple[str, str], name: str = "", circuit: str = "") -> Load:
    """A load between two terminals."""
    about = said.about if said.about.name else replace(said.about, name=name)
    return Load(
        about=about, plus=ends[0], minus=ends[1], kind=said.kind, value=said.value,
        duty=said.duty, circuit=circuit, always_on=said.always_on, critical=said.critical,
        drop_share=said.drop_share, day_share=said.day_share, starts_at=said.starts_at,
        start_s=said.start_s,
        nature=said.nature, stated_w=said.stated_w, runs_on=said.runs_on,
        rest_a=said.rest_a, made_for_v=said.made_for_v,
    )  # fmt: skip


def is_other(wire: Conductor) -> bool:
    """Whether a wire was found of another size than belongs there, or nobody knows of that."""
    return isinstance(wire.found, Size) and wire.found != wire.size


def is_found_thinner(wire: Conductor) -> bool:
    """Whether a wire was found that is thinner than what belongs there, or nobody knows of that."""
    if not isinstance(wire.found, Size):
        return False
    return not isinstance(wire.size, Size) or wire.found.area_m2 < wire.size.area_m2


def in_place(wire: Conductor) -> Conductor:
    """A wire as it is there now."""
    return replace(wire, size=wire.found) if is_other(wire) else wire


def thinner_of(wire: Conductor) -> Conductor:
    """A wire in the thinner size of what is there now and what belongs there."""
    return in_place(wire) if is_found_thinner(wire) else wire


def found_in(rig: Rig, device: Device) -> float | Unknown | None:
    """The rating that was found in the place of a device; None where nothing was said of it [A].

    That of a slot is said of the circuit that begins there.
    """
    if device.found_a is not None:
        return device.found_a
    begun = rig.begun.get(device.about.name, ())
    return next((one.found_a for one in begun if one.found_a is not None), None)


def is_other_found(rig: Rig, device: Device) -> bool:
    """Whether a device was found of another rating than belongs there, or nobody read which."""
    found_a = found_in(rig, device)
    return found_a is not None and found_a != device.rating_a


def is_found_larger(rig: Rig, device: Device) -> bool:
    """Whether a device was found larger than what belongs there, or nobody knows of that."""
    found_a = found_in(rig, device)
    if not isinstance(found_a, float):
        return False
    return not isinstance(device.rating_a, float) or found_a > device.rating_a


def larger_of(rig: Rig, device: Device) -> Device:
    """A device with the larger rating of what is there now and what belongs there."""
    return fitted_now(rig, device) if is_found_larger(rig, device) else device


def fitted_now(rig: Rig, device: Device) -> Device:
    """A device with the rating that is there now."""
    return (
        replace(device, rating_a=found_in(rig, device)) if is_other_found(rig, device) else device
    )
