"""Fuses that are bought alike: what a shop has to be told of each."""

from collections.abc import Iterable

from rigfolio.books import family_words
from rigfolio.findings import UNKNOWN
from rigfolio.model import Device
from rigfolio.natural_order import natural
from rigfolio.protection import Replacement, replacement_of
from rigfolio.record import record
from rigfolio.shorts import breaks_too_little_words, is_barred
from rigfolio.study import Study
from rigfolio.units import show_limit
from rigfolio.wording import fuse_word

_BLADES = frozenset({"mini", "regular", "maxi"})


@record
class Spare:
    """Fuses that are bought alike: what they must be, the colour word, what they are for."""

    must: Replacement
    word: str
    places: tuple[str, ...]
    fitted: int

    @property
    def rating(self) -> str:
        """The rating in words, `? A` where the text does not know it."""
        return show_limit(UNKNOWN if self.must.rating_a is None else self.must.rating_a, "A")

    @property
    def make(self) -> str:
        """The make as it is asked for in a shop."""
        named = family_words(self.must.family) or "fuse, kind not stated"
        return f"{named} blade" if self.must.family in _BLADES else named

    @property
    def borne(self) -> str:
        """Its volts and what it breaks, where these have to be asked for; else empty."""
        return ", ".join(filter(None, (self.must.volts, self.must.breaks)))

    @property
    def words(self) -> str:
        """All that a shop has to be told: `class T 125 A, interrupts 20 kA`."""
        words = f"{self.make} {self.rating} {self.word}".strip()
        return f"{words}, {self.borne}" if self.borne else words

    @property
    def is_known(self) -> bool:
        """Whether make and rating are known."""
        return bool(self.must.family and self.must.rating_a)


def fuses_fitted(study: Study, devices: Iterable[Device]) -> tuple[Spare, ...]:
    """The fuses among some devices, those that are bought alike together, the smallest first."""
    found: dict[Replacement, list[Device]] = {}
    for device in devices:
        if device.protects and not device.traits.resets:
            found.setdefault(replacement_of(study, device), []).append(device)
    return tuple(
        Spare(
            must,
            fuse_word(alike[0]) or "",
            tuple(sorted({d.about.name for d in alike}, key=natural)),
            len(alike),
        )
        for must, alike in sorted(found.items(), key=lambda each: _shelf(each[0]))
    )


def spares_to_carry(study: Study) -> tuple[Spare, ...]:
    """The fuses of a rig of which others are carried.

    None of one that is too large, breaks too little, or is not known yet.
    """
    return fuses_fitted(
        study,
        (
            one for one in study.rig.devices
            if not (is_barred(study, one) or breaks_too_little_words(study, one))
        ),
    )  # fmt: skip


def _shelf(must: Replacement) -> tuple[str, float, float, float]:
    """The order in which fuses are listed."""
    return must.family, must.volts_v or 0.0, must.breaks_a or 0.0, must.rating_a or 0.0
