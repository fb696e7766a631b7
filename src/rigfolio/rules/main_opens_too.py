"""A short in one circuit may open the fuse or breaker of many.

Both are overloaded by the same current, and by the times of their standards the main may open
before the branch has. It is told only where the times of both are known, once for each main. Far
beyond the last time of a standard nothing is told of a main of twice the rating of its branch.

*Why:* the lamp that shorted is dark, and so is the pump. Nobody finds the lamp then.
"""

from collections.abc import Iterator

from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Circuit, Device
from rigfolio.rule import Rule
from rigfolio.shorts import faults_of, knows_shorts
from rigfolio.study import Study
from rigfolio.wording import listed

RULE = Rule(
    "main-opens-too",
    Severity.ADVICE,
    Citation("opening times of branch and main compared", "computed"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every main with the circuits that may take it with them."""
    if not knows_shorts(study):
        return
    mains: dict[str, tuple[Device, list[Circuit]]] = {}
    for circuit in study.rig.circuits:
        for main in _taken_along(study, circuit):
            mains.setdefault(main.about.name, (main, []))[1].append(circuit)
    for main, circuits in mains.values():
        places = [circuit.place for circuit in circuits]
        yield RULE.finding(
            f"a short in {listed(places[:4])}{f' and {len(places) - 4} more' * (len(places) > 4)} "
            f"may open `{main.about.name}` too",
            main.rating_span or main.about.span,
            fix=Fix(
                "a slower kind for the main, or smaller branch fuses where their loads allow it"
            ),
        )


def _taken_along(study: Study, circuit: Circuit) -> Iterator[Device]:
    """Devices ahead of that of a circuit that are not sure to wait for it."""
    from rigfolio.shorts import is_timed, waits

    device = study.device(circuit.device)
    if device is None or not is_timed(device):
        return
    case = faults_of(study).coldest_at(circuit.start)
    if case is None or case.current_a is None:
        return
    if case.is_selective is not False:
        return
    first = case.opens
    if first is None or first.device is not device or first.window is None:
        return
    for blow in case.blows:
        if blow is not first and waits(blow, first) is False:
            yield blow.device
