"""How each kind of fault is told to somebody who has to find it."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from rigfolio.diagnosis import (
    OF_BATTERIES,
    Diagnosis,
    RoofFaultKind,
    RoofRead,
    Suspect,
    SuspectKind,
    Verdict,
    roof_of,
)
from rigfolio.isolation import fed_in, unfed_in
from rigfolio.model import Device, Reading, Rig
from rigfolio.network import places_of, with_whole_returns
from rigfolio.operating import wire_ohm
from rigfolio.reports import Field, Listing, Paragraph, Part, Value, items
from rigfolio.study import Study
from rigfolio.units import show, show_between, show_load
from rigfolio.wording import called, in_a_row, short_end, with_kind

# Up to how many times its stated resistance a wire may have more: eight gauges thinner [-].
_THIN = 6.0
# Kinds of faults that are less likely than this are not told [-].
_TOLD_SHARE = 0.01
# What is less than that is dead [V].
_DEAD_V = 1.0


def _ends(rig: Rig, name: str) -> str:
    wire = with_whole_returns(rig).conductor(name)
    places = places_of(rig)
    one, two = (
        short_end(rig, end) if end in places else "an unstated joint" for end in (wire.a, wire.b)
    )
    return f"{one} to {two}"


def _joint(study: Study, fault: Suspect, ohm: float) -> str:
    wire = with_whole_returns(study.rig).conductor(fault.name)
    stated_ohm = wire_ohm(study, wire, study.heat(wire)[0])
    # By one leg alone nobody can tell a joint from copper that is not as the text says.
    may_be_thin = stated_ohm is not None and ohm <= _THIN * stated_ohm
    more = ", which may be thinner or longer than the text says" if may_be_thin else ""
    return (
        f"a bad joint at either end of `{fault.name}` ({_ends(study.rig, fault.name)}), or the "
        f"wire between{more}"
    )


def _thin(study: Study, fault: Suspect, times: float) -> str:
    circuit = study.circuit(fault.circuit)
    label = called(fault.circuit, circuit.label) if circuit else fault.circuit
    whole = with_whole_returns(study.rig).by_name.conductors
    wires = in_a_row(f"`{name}`" for name, _ in fault.ohms if name in whole)
    return (
        f"the wire of {label} is thinner or longer than the text says, all the way: {wires} have "
        f"{times:.2g} times the resistance; look at what is printed on the jacket"
    )


def _chafed(_: Study, fault: Suspect, is_open: float) -> str:
    now = f"; it has opened `{fault.name}` again" if is_open else ""
    return (
        f"a chafed wire behind `{fault.name}` that shorts now and then{now}: move it along its "
        "way, and look where it passes an edge, a screw or a hinge"
    )


def _stuck(study: Study, fault: Suspect, _: float) -> str:
    return (
        f"`{load_name(study, fault.name)}` is stuck or shorted inside, and draws so much that "
        f"`{fault.fuse}` has opened"
    )


def _open_wire(study: Study, fault: Suspect, _: float) -> str:
    wire = study.rig.conductor(fault.name)
    is_return = study.side.get(wire.a) == "-"
    what = "lost return" if is_return else "no contact"
    return f"{what}: `{fault.name}` ({_ends(study.rig, fault.name)}) is open at an end or between"


def _device(study: Study, name: str) -> Device | None:
    return study.device(name) or next(
        (each for each in study.rig.devices if each.line == name), None
    )


def _contact(study: Study, fault: Suspect, _: float) -> str:
    device = _device(study, fault.name)
    if device is not None and device.traits.contact:
        return (
            f"a bad contact in the {device.traits.contact} of {with_kind(device.kind, fault.name)}"
        )
    return f"a bad contact in {with_kind(device.kind if device else 'part', fault.name)}"


def _open_device(study: Study, fault: Suspect, _: float) -> str:
    device = _device(study, fault.name)
    if device is None:
        return f"part `{fault.name}` is open or gives no contact"
    return f"{with_kind(device.kind, fault.name)} {device.traits.fails}"


def load_name(study: Study, name: str) -> str:
    """A load as it is printed."""
    return next((str(load.about) for load in study.rig.loads if load.about.name == name), name)


def banks_words(fault: Suspect) -> str:
    """Batteries that are cold at one time, as they are printed."""
    names = in_a_row(f"`{name}`" for name in fault.banks)
    return f"battery {names}" if len(fault.banks) == 1 else f"batteries {names}"


_Words = Callable[[Study, Suspect, float], str]
FAULT_WORDS: Mapping[SuspectKind, _Words] = {
    "nothing": lambda _, __, ___: "nothing that these readings would show",
    "joint": _joint,
    "open wire": _open_wire,
    "contact": _contact,
    "open device": _open_device,
    "thin wire": _thin,
    "chafed": _chafed,
    "stuck load": _stuck,
    "short": lambda _, fault, __: f"a short behind `{fault.name}`, which has opened it",
    "overload": lambda study, fault, share: (
        f"`{load_name(study, fault.name)}` draws {share:.2g} times what it should"
    ),
    "dead load": lambda study, fault, _: f"`{load_name(study, fault.name)}` itself takes nothing",
    "flat": lambda _, fault, share: (
        f"battery `{fault.name}` is flat, at {share * 100:.0f} % of its voltage at rest"
    ),
    "tired": lambda _, fault, ohm: (
        f"battery `{fault.name}` has grown weak: {show(ohm, 'ohm', 2)} more inside"
    ),
    "open battery": lambda _, fault, __: (
        f"battery `{fault.name}` gives nothing: open inside, or cut off by a guard of its own"
    ),
    "dead source": lambda _, fault, __: f"`{fault.name}` gives nothing, though it should",
    "passes through": lambda _, fault, __: (
        f"`{fault.name}` has failed inside and lets its input through: its output has the volts of "
        f"`{fault.through[0]}`"
    ),
    "drain": lambda study, fault, _: (
        f"`{load_name(study, fault.name)}` goes on drawing from battery `{fault.bank}` with "
        f"everything off: up to {show_load(fault.drain_a, 'A')} at the battery"
    ),
    "cold": lambda _, fault, __: (
        f"{banks_words(fault)} too cold to take a charge: it is refused below "
        f"{show(fault.least_c, '°C')}"
    ),
    "reversed": lambda study, fault, _: (
        f"`{load_name(study, fault.name)}` is joined the wrong way round"
    ),
}

_GROUPS: tuple[tuple[str, frozenset[SuspectKind]], ...] = (
    ("a bad joint or contact, or a wire that is open",
     frozenset({"joint", "contact", "open wire"})),
    ("a fuse, breaker or switch that is open", frozenset({"open device"})),
    ("a battery that is flat, weak or cut off", OF_BATTERIES),
    ("a battery that is too cold to take a charge", frozenset({"cold"})),
    ("something that goes on drawing with everything off", frozenset({"drain"})),
    ("a charger or converter that gives nothing", frozenset({"dead source"})),
    ("a converter that lets its input through", frozenset({"passes through"})),
    ("a short, or a load so stuck that its fuse has opened",
     frozenset({"short", "chafed", "stuck load"})),
    ("the load itself", frozenset({"overload", "dead load", "reversed"})),
    ("wire that is thinner or longer than the text says", frozenset({"thin wire"})),
)  # fmt: skip


def kinds_told(found: Diagnosis) -> Iterator[str]:
    """How likely each kind of fault is wherever it sits, the likeliest first."""
    single = [one for one in found.verdicts if one.touches and len(one.faults) == 1]
    shares = [
        (sum(one.share for one in single if one.faults[0].kind in kinds), words)
        for words, kinds in _GROUPS
    ]
    for share, words in sorted(shares, key=lambda each: -round(each[0], 4)):
        if share >= _TOLD_SHARE:
            yield f"{per_cent(share)}  {words}"


def per_cent(share: float) -> str:
    """A share as it is told: nothing is ever said to be certain."""
    return f"{min(round(share * 100.0), 99):>3} %"


_IN_SHORT: Mapping[SuspectKind, str] = {
    "joint": "joint or wire", "open wire": "open", "contact": "contact of",
    "open device": "open", "short": "short behind", "overload": "overload",
    "thin wire": "thin wire in", "chafed": "chafed wire behind", "stuck load": "stuck",
    "dead load": "dead", "flat": "flat", "tired": "weak", "open battery": "open",
    "reversed": "reversed", "dead source": "nothing from", "passes through": "input through",
    "drain": "drain by", "cold": "too cold", "nothing": "nothing wrong here",
}  # fmt: skip


def verdict_name(study: Study, one: Verdict) -> str:
    """A verdict in a few words, to stand beside what a meter shows for it."""

    def name(fault: Suspect) -> str:
        is_load = fault.kind in ("overload", "stuck load", "dead load", "reversed", "drain")
        return load_name(study, fault.name) if is_load else fault.name

    return " with ".join(f"{_IN_SHORT[f.kind]} {name(f)}".strip() for f in one.faults)


ROOF_WORDS: Mapping[RoofFaultKind, str] = {
    "nothing": "nothing: that is what it shows by day",
    "module": "`{part}`: a module, or a part of one, gives nothing, or one too few is in series",
    "shade": "`{part}`: in shade or dirty",
    "open string": "`{part}`: open in the string: a plug between modules, or a module",
    "open lead": "wire `{part}`: open, its end or a plug in it",
    "blown": "`{part}`: open: blown, off, or out of its holder",
    "open switch": "`{part}`: open, or its contacts are burnt",
    "turned": "`{part}`: joined the wrong way round",
}
"""What is wrong between modules and their controller."""


def roof_parts(study: Study, readings: Sequence[Reading]) -> Iterator[Part]:
    """What was read between modules and their controller, and what may show that."""
    found = roof_of(study, readings)
    read = [f"`{one.reading.text}`: {_by_day(one)}" for one in found.read]
    told = [ROOF_WORDS[one.kind].format(part=one.part) for one in found.faults]
    words = [f"{per_cent(f.share)}  {said}" for f, said in zip(found.faults, told, strict=True)]
    facts: list[Mapping[str, Value]] = [
        {"kind": f.kind, "part": f.part, "share": round(f.share, 4)} for f in found.faults
    ]
    yield Field("roof", {"readings": [one.text for one in readings], "faults": facts})
    yield Listing("Between modules and controller, by day, a string at its own ends by itself",
                  items(read))  # fmt: skip
    if words:
        yield Listing("What may show that by itself, the likeliest first", items(words))
    else:
        yield Listing("Nothing alone shows that", items(("read again, by the light of one hour",)))
    yield Paragraph(
        "Measure next: each string by itself at its own ends, then behind its fuse and its switch, "
        "then at the input of the controller; the fault lies where the volts end. Cover the "
        "modules before a lead is touched.",
        gap=True,
    )


def _by_day(one: RoofRead) -> str:
    if one.expected is None:
        return "what it should show is not on a label that was read"
    unit = "V" if one.reading.measure == "voltage" else "A"
    return f"expected {show_between(*one.expected, unit)}"


def unfed_words(found: Diagnosis) -> Iterator[str]:
    """The states of the text in which the wiring itself leaves dead what was found dead."""
    evidence = found.evidence
    study = evidence.study
    dead = {one.reading.part for one in evidence.symptoms if one.reading.symptom == "dead"}
    read = {(one.a, one.b): evidence.sound[one.scene] for one in evidence.numeric
            if not (one.reading.state or one.reading.set_to)}  # fmt: skip
    for load in study.rig.loads:
        shown = read.get((load.plus, load.minus))
        if shown is not None and abs(shown.between_v(load.plus, load.minus)) < _DEAD_V:
            name, fed = load_name(study, load.about.name), fed_in(study, load)
            more = f"; write `, in {fed[0]}` if it stood so" if fed else ""
            yield f"nothing feeds {name} then{more}"
        if dead & {load.about.name, load.circuit} and (states := unfed_in(study, load)):
            which = in_a_row([f"`{name}`" for name in states])
            words = (
                f"as in {which} the wiring itself leaves {load_name(study, load.about.name)} dead"
            )
            yield f"{words}: write `, in {states[0]}` if it stood so"
