"""What is fitted before a circuit against what its wires allow, in words."""

from rigfolio.model import USUAL_GUARD, Circuit
from rigfolio.protection.limits import largest_fuse_of
from rigfolio.study import Study
from rigfolio.wording import amps, device_named, most_amps, rating_words


def largest_words(study: Study, circuit: Circuit, *, short: bool = True) -> str:
    """Largest device that the wires of a circuit allow: `max fuse 15 A`, or `max fuse ?`."""
    device = device_named(study.rig, circuit.device)
    kind = device.kind if device else USUAL_GUARD
    limit = largest_fuse_of(study, circuit)
    figure = most_amps(limit.value) if limit else "?"
    return f"max {kind} {figure}" if short else figure


def is_too_large(study: Study, circuit: Circuit) -> bool:
    """Whether the device is rated above what the wires of its circuit allow."""
    device = device_named(study.rig, circuit.device)
    limit = largest_fuse_of(study, circuit)
    if device is None or limit is None or not isinstance(device.rating_a, float | int):
        return False
    return device.rating_a > limit.value * (1.0 + 1e-9)


def fitted_words(study: Study, circuit: Circuit) -> str:
    """The device that is fitted: rating and colour, or a warning that leaves no colour to copy."""
    device = device_named(study.rig, circuit.device)
    if device is not None and is_too_large(study, circuit):
        return f"{amps(device.rating_a)} TOO LARGE"
    return rating_words(device)
