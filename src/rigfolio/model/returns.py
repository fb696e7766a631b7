"""How circuits come back: by their own wires, beside the wires out, through a frame."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from rigfolio.findings import Span
from rigfolio.model.asides import Assumption, Panel, Problem
from rigfolio.model.draft import ReturnSaid
from rigfolio.model.graph import Conductor, Device, Load
from rigfolio.model.names import Names
from rigfolio.model.parts import conductor
from rigfolio.model.wire_names import return_name
from rigfolio.record import record, replace
from rigfolio.values import Place


@record
class Surroundings:
    """What a circuit must know of the rest of the rig.

    `negative` is the bar that returns go to where nothing else is said, `frames` the terminals of
    metal frames with their resistance as far as it is stated, `loads` the names of loads with a
    line of their own, `minus` the minus terminal of everything a circuit can lead to, `wired` the
    terminals that wires of their own land on, `fed` the terminals by which a circuit leads to a
    source: what is joined to the minus of a source must be said.
    """

    negative: str | None
    frames: Mapping[str, float | None]
    loads: frozenset[str]
    minus: Mapping[str, str]
    wired: frozenset[str]
    fed: frozenset[str]


@record
class WayOut:
    """A circuit's way out: wires, devices, and loads whose minus marks the wire they hang on.

    `stem` begins the names of its terminals, `place` is what the circuit is called. `back` is what
    the text says of the way back, each with the name of the wire that it is, if it is one.
    """

    stem: str
    place: str
    span: Span
    begin: str
    panel: Panel | None
    wires: tuple[Conductor, ...]
    devices: tuple[Device, ...]
    loads: tuple[Load, ...]
    back: tuple[tuple[ReturnSaid, str], ...]


class Back:
    """A circuit's way back.

    `visited` are the loads with a line of their own that the circuit feeds; `joined` gives the
    new minus of those that stand on the frame.
    """

    def __init__(self, loads: list[Load]) -> None:
        self.loads = loads
        self.wires: list[Conductor] = []
        self.assumptions: list[Assumption] = []
        self.visited: tuple[str, ...] = ()
        self.joined: dict[str, str] = {}


def returned(way: WayOut, around: Surroundings, names: Names) -> Back:
    """The way back of a circuit, as the text says or as it is taken to be."""
    ends = {wire.b for wire in way.wires}
    # A return that is only taken to be there would hide that the minus of a source is off.
    unsaid = around.fed if not way.back else ()
    visits = [wire.b for wire in way.wires
              if wire.b in around.minus and around.minus[wire.b] not in around.wired
              and wire.b not in unsaid]  # fmt: skip
    back = Back(list(way.loads))
    back.visited = tuple(
        dict.fromkeys(end.rstrip("+") for end in ends if end.rstrip("+") in around.loads)
    )
    own = [(one, name) for one, name in way.back if one.facts is not None]
    if not (way.loads or visits or own):
        return back
    to = _to(way)
    target = _target(way, around, names)
    if any(one.unknown for one, _ in way.back):
        names.problems.append(Problem("return-unknown", way.back[0][0].span, way.place))
        _nowhere(back)
    elif target is None:
        if to is None:
            names.problems.append(Problem("return-not-plain", way.span, way.place))
        _nowhere(back)
    elif own:
        _by_own_wires(way, own, target, around, back)
    elif target in around.frames:
        _by_frame(way, visits, target, around, back)
    else:
        _beside(way, visits, target, around, back)
    return back


def _to(way: WayOut) -> Place | None:
    return next((one.to for one, _ in way.back if one.to is not None), None)


def _target(way: WayOut, around: Surroundings, names: Names) -> str | None:
    to = _to(way)
    if to is not None:
        found = names.resolve(to, way.span)
        if found is not None and not isinstance(found, str):
            found = names.meant(names.ends(found)[0])
        return found
    if way.panel is not None and way.panel.negative is not None:
        return way.panel.negative
    return around.negative


def _nowhere(back: Back) -> None:
    back.loads = [replace(load, minus=f"{load.about.name}-") for load in back.loads]


def _by_frame(
    way: WayOut, visits: Iterable[str], target: str, around: Surroundings, back: Back
) -> None:
    back.loads = [replace(load, minus=target) for load in back.loads]
    back.joined = {around.minus[end]: target for end in visits}
    bare = "that joint and the frame are" if around.frames[target] is None else "that joint is"
    back.assumptions.append(
        Assumption(
            f"{way.place}: its loads are joined to {target} where they stand; {bare} taken to have "
            "no resistance",
            way.span,
        )
    )


def _by_own_wires(
    way: WayOut,
    own: Sequence[tuple[ReturnSaid, str]],
    target: str,
    around: Surroundings,
    back: Back,
) -> None:
    last = way.wires[-1].b if way.wires else ""
    here = around.minus.get(last, f"{way.stem}-")
    back.loads = [replace(load, minus=here) for load in back.loads]
    for number, (one, name) in enumerate(own, 1):
        there = target if number == len(own) else f"{way.stem}-{number}-"
        if one.facts is not None:
            back.wires.append(conductor(name, (here, there), one.facts, way.place))
        here = there


def _beside(way: WayOut, visits: list[str], target: str, around: Surroundings, back: Back) -> None:
    """The same wire back beside each wire out that leads to a load.

    Switches and fuses of the circuit are in the plus wire only: what hangs on them returns from
    the wire before them.
    """
    # Of two devices of one name the first has the terminals, so that none leads back to itself.
    ends = {wire.b for wire in way.wires}
    before = dict(_before(one, {way.begin, *ends}) for one in reversed(way.devices))

    def returns_at(end: str) -> str:
        while end not in ends and end in before:
            end = before[end]
        if end not in ends:
            return target
        return around.minus.get(end, f"{end}-")

    for wire in way.wires:
        if wire.name in _leading(way, [*(load.minus for load in way.loads), *visits], before):
            back.wires.append(
                replace(
                    wire, name=return_name(wire.name), a=returns_at(wire.b), b=returns_at(wire.a),
                    colour=None, assumed=True, ends=("", ""), condition="",
                )
            )  # fmt: skip
    back.loads = [replace(load, minus=returns_at(load.minus)) for load in back.loads]
    what = "returns" if way.back else "is taken to return"
    back.assumptions.append(
        Assumption(
            f"{way.place} {what} to {target} with the same wire beside each wire out", way.span
        )
    )


def _before(device: Device, led_to: Collection[str]) -> tuple[str, str]:
    """The end of a device that a circuit goes on from, and that by which it comes to it.

    Of a switch that makes one of several ways it comes to the end that they share, or to theirs.
    """
    ends = device.load, device.line
    return ends[::-1] if device.position and device.load in led_to else ends


def _leading(way: WayOut, needs: Iterable[str], before: Mapping[str, str]) -> set[str]:
    """The wires of a circuit that lead to something which has to return."""
    into: dict[str, list[Conductor]] = {}
    for wire in way.wires:
        into.setdefault(wire.b, []).append(wire)
    leading: set[str] = set()
    seen: set[str] = set()
    waiting = list(needs)
    # What is fed in either of two positions comes back by one wire all the same.
    beside = 1 if any(one.position for one in way.devices) else None
    while waiting:
        here = waiting.pop()
        if here in seen or here == way.begin:
            continue
        seen.add(here)
        if here in before:
            waiting.append(before[here])
        for wire in into.get(here, [])[:beside]:
            leading.add(wire.name)
            waiting.append(wire.a)
    return leading
