"""What a part, a place, a colour or an amount is called on every sheet and in every message.

It knows the rig and on which side of a source a terminal lies. What it words is worked out
elsewhere.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.wording.parts import (
        MINUS as MINUS,
        amps as amps,
        circuit_of as circuit_of,
        circuits_in_order as circuits_in_order,
        colour_code as colour_code,
        colour_order as colour_order,
        colour_short as colour_short,
        colour_text as colour_text,
        colour_words as colour_words,
        device_named as device_named,
        end_words as end_words,
        fed_from as fed_from,
        found_words as found_words,
        fuse_word as fuse_word,
        gauge_words as gauge_words,
        is_imperial as is_imperial,
        is_return as is_return,
        length_words as length_words,
        loads_words as loads_words,
        most_amps as most_amps,
        natural as natural,
        part_at as part_at,
        place_words as place_words,
        polarity_words as polarity_words,
        rating_words as rating_words,
        shades as shades,
        short_end as short_end,
        sign as sign,
        slot_holders as slot_holders,
        wires_in_order as wires_in_order,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        parts="MINUS amps circuit_of circuits_in_order colour_code colour_order "
        "colour_short colour_text colour_words device_named end_words fed_from "
        "found_words fuse_word gauge_words is_imperial is_return "
        "length_words loads_words most_amps natural part_at place_words "
        "polarity_words rating_words shades short_end sign slot_holders "
        "wires_in_order",
    )
