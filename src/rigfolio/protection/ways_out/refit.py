"""What is done with fuses and breakers that were found larger than what belongs there."""

from collections.abc import Iterable

from rigfolio.model import Device
from rigfolio.natural_order import natural
from rigfolio.protection.too_large import is_device_too_large
from rigfolio.study import Study
from rigfolio.units import show_limit
from rigfolio.wording import in_a_row


def refit_words(study: Study, larger: Iterable[Device]) -> str:
    """What is put in instead of devices that were found too large, or has to be settled first."""
    put: dict[str, list[str]] = {}
    for device in larger:
        rated_a = device.rating_a
        is_plain = isinstance(rated_a, float) and not is_device_too_large(study, device)
        do = f"put {show_limit(rated_a, 'A')} in" if is_plain else "settle what belongs in"
        put.setdefault(do, []).append(f"`{device.about.name}`")
    return "; ".join(f"{do} {in_a_row(sorted(held, key=natural))}" for do, held in put.items())
