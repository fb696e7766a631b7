"""A fuse has a rating that its family is not commonly in stock in.

Held against the ratings of its family that are in stock, and against the colours of its standard.
A blade in a slot, of which the text names no family, may have any body. Breakers, and fuses outside
slots of which the text names none, are left out: they are made in more ratings than a table holds.

*Why:* most often the figure was misread, or the family is another one; and what is hard to buy is
replaced by something else one day. It may be made all the same: the table holds what is in stock.
"""

from collections.abc import Iterator

from rigfolio.books import family_words, next_down, next_up, series_source
from rigfolio.findings import Citation, Finding, Fix, Severity
from rigfolio.model import Device
from rigfolio.rule import Rule
from rigfolio.standard_sizes import unmade_in
from rigfolio.study import Study
from rigfolio.units import show_limit
from rigfolio.wording import joined_words

RULE = Rule(
    "rating-not-made",
    Severity.ADVICE,
    Citation("ratings in which fuses of a family are in stock", "common practice"),
)


def check(study: Study) -> Iterator[Finding]:
    """Every fuse whose family is known."""
    for device in study.rig.devices:
        family = unmade_in(device)
        if family and isinstance(device.rating_a, float):
            what = f"{family_words(family)} fuse of {show_limit(device.rating_a, 'A')}"
            yield RULE.finding(
                f"no {what} is commonly in stock",
                device.rating_span or device.about.span,
                source=series_source(family),
                fix=_fix(device, family, device.rating_a),
            )


def _fix(device: Device, family: str, rated_a: float) -> Fix:
    near = (next_down(rated_a, family), next_up(rated_a, family))
    made = joined_words([show_limit(one, "A") for one in near if one is not None])
    return Fix(
        f"read again what is printed on `{device.about.name}`, and of which family it is: the next "
        f"in stock are of {made}"
        if None not in near else
        f"read again what is printed on `{device.about.name}`, and of which family it is: they "
        f"{'begin' if near[0] is None else 'end'} at {made}"
    )  # fmt: skip
