"""What was found in the place of a wire or a fuse, beside what belongs there."""

from collections.abc import Collection

from rigfolio.findings import Unknown
from rigfolio.model import (
    Conductor,
    Device,
    Rig,
    found_in,
    in_place,
    is_other,
    is_other_found,
)
from rigfolio.reports import Paragraph
from rigfolio.units import Size
from rigfolio.wording.parts import amps, gauge_words, rating_words


def there_words(wire: Conductor, *, short: bool = False) -> str:
    """What is there now, and what belongs there where that is another: `18 AWG found`.

    What belongs there is left out where it is to be `short`.
    """
    if not is_other(wire):
        return gauge_words(wire)
    is_told = isinstance(wire.size, Size) and not short
    belongs = f", {gauge_words(wire)} belongs" if is_told else ""
    return f"{gauge_words(in_place(wire))} found{belongs}"


def found_instead(rig: Rig) -> str:
    """That wires are reckoned as they were found in place of others; empty where none is."""
    wires = [wire for wire in rig.conductors if is_other(wire) and not wire.assumed]
    words = [f"{gauge_words(in_place(wire))} in place of {wire.name}" for wire in wires]
    if not words:
        return ""
    return f"Reckoned with what was found, until another one is pulled: {', '.join(words)}."


def fuses_instead(rig: Rig, asked: Collection[str] | None = None) -> str:
    """That fuses and breakers are reckoned as they were found; empty where none is.

    Told are those `asked` for, by name; all of them where that is left out.
    """
    held = (one for one in rig.devices if asked is None or one.about.name in asked)
    words = [
        f"{one.about.name} {fitted_there(rig, one)}" for one in held if is_other_found(rig, one)
    ]
    if not words:
        return ""
    return f"Reckoned with what was found, until that is changed: {'; '.join(words)}."


def fitted_there(rig: Rig, device: Device, belongs: str = "", *, is_warned: bool = False) -> str:
    """What is in the place of a device now, and what belongs there: `20 A found, 5 A tan belongs`.

    What belongs alone where it was found, or nothing is said of it; in the words given where those
    say more than its rating, and warn of one that is too large.
    """
    return both_words(
        found_there(rig, device), belongs or rating_words(device), is_warned=is_warned
    )


def both_words(found: str, belongs: str, *, is_warned: bool = False) -> str:
    """What was found and what belongs there, in one way everywhere; the latter alone without it."""
    if not found:
        return belongs
    # What is too large belongs nowhere, though the text has it so.
    if is_warned:
        return f"{found}, the text says {belongs}"
    return f"{found}, {belongs} belongs"


def found_there(rig: Rig, device: Device | None) -> str:
    """What is in the place of a device now, where another one belongs there: `20 A found`.

    Empty where what belongs there was found, or nothing is said of it.
    """
    if device is None or not is_other_found(rig, device):
        return ""
    found_a = found_in(rig, device)
    return "not read" if isinstance(found_a, Unknown) else f"{amps(found_a)} found"


def found_remark(rig: Rig, *, has_fuses: bool = False) -> tuple[Paragraph, ...]:
    """The same as the last paragraphs of a report; none where nothing was found in place."""
    told = (found_instead(rig), fuses_instead(rig) if has_fuses else "")
    return tuple(Paragraph(words, name="found") for words in told if words)
