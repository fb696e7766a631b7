"""What a part, a place, a colour or an amount is called on every sheet and in every message.

It gives each part of a rig its printed name, short and long, and finds the part that a person
means by what is typed. It knows the rig alone; what it words is worked out elsewhere.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.wording.as_found import (
        both_words as both_words,
        fitted_there as fitted_there,
        found_instead as found_instead,
        found_remark as found_remark,
        found_there as found_there,
        fuses_instead as fuses_instead,
        there_words as there_words,
    )
    from rigfolio.wording.as_written import (
        DIGITS as DIGITS,
        DRAWN_IN as DRAWN_IN,
        draw_words as draw_words,
        stated as stated,
    )
    from rigfolio.wording.complaints import (
        Complaint as Complaint,
        complaint as complaint,
    )
    from rigfolio.wording.finder import (
        Finder as Finder,
        Named as Named,
        NameKind as NameKind,
        finder_of as finder_of,
        one_of as one_of,
    )
    from rigfolio.wording.names import (
        AHEAD_OF_MAIN as AHEAD_OF_MAIN,
        ALWAYS_ON as ALWAYS_ON,
        MUST_STAY_ON as MUST_STAY_ON,
        NO_COLOUR as NO_COLOUR,
        NOT_ALWAYS_ON as NOT_ALWAYS_ON,
        called as called,
        end_words as end_words,
        how_many as how_many,
        in_a_row as in_a_row,
        in_runs as in_runs,
        is_unnamed as is_unnamed,
        load_words as load_words,
        loads_words as loads_words,
        name_and_words_at as name_and_words_at,
        on_paper as on_paper,
        part_at as part_at,
        short_end as short_end,
        spans_of as spans_of,
        states_no as states_no,
        typed as typed,
        unknown_copper as unknown_copper,
        unknown_inside as unknown_inside,
        with_kind as with_kind,
    )
    from rigfolio.wording.panel_places import (
        PanelPlaces as PanelPlaces,
    )
    from rigfolio.wording.parts import (
        again_words as again_words,
        amps as amps,
        circuit_of as circuit_of,
        circuits_in_order as circuits_in_order,
        closes_again_words as closes_again_words,
        colour_code as colour_code,
        colour_order as colour_order,
        colour_short as colour_short,
        colour_text as colour_text,
        colour_words as colour_words,
        device_named as device_named,
        fed_from as fed_from,
        found_words as found_words,
        fuse_word as fuse_word,
        gauge_words as gauge_words,
        goes_words as goes_words,
        in_slots as in_slots,
        is_imperial as is_imperial,
        is_return as is_return,
        kinds_title as kinds_title,
        length_words as length_words,
        module_words as module_words,
        most_amps as most_amps,
        off_words as off_words,
        outside_title as outside_title,
        polarity_words as polarity_words,
        rating_and_kind as rating_and_kind,
        rating_words as rating_words,
        shades as shades,
        sign as sign,
        slot_holders as slot_holders,
        verdict_words as verdict_words,
        wire_length as wire_length,
        wires_in_order as wires_in_order,
    )
    from rigfolio.wording.positions import (
        position_words as position_words,
        turned_words as turned_words,
    )
    from rigfolio.wording.quoted import (
        all_dark_words as all_dark_words,
        bears as bears,
        capital as capital,
        carrying as carrying,
        distance as distance,
        joined_words as joined_words,
        label_of as label_of,
        listed as listed,
        listed_wires as listed_wires,
        load_name as load_name,
        lost_words as lost_words,
        may_bear as may_bear,
        may_words as may_words,
        name_of as name_of,
        place as place,
    )
    from rigfolio.wording.terminals import (
        Terminals as Terminals,
        terminals_of as terminals_of,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        as_found="both_words fitted_there found_instead found_remark found_there fuses_instead "
        "there_words",
        complaints="Complaint complaint",
        finder="Finder NameKind Named finder_of one_of",
        names="AHEAD_OF_MAIN ALWAYS_ON MUST_STAY_ON NO_COLOUR NOT_ALWAYS_ON called end_words "
        "how_many in_a_row in_runs is_unnamed load_words loads_words name_and_words_at on_paper "
        "part_at short_end "
        "spans_of states_no typed unknown_copper unknown_inside with_kind",
        parts="again_words amps closes_again_words circuit_of "
        "circuits_in_order colour_code "
        "colour_order colour_short colour_text colour_words device_named fed_from "
        "found_words fuse_word gauge_words goes_words in_slots is_imperial is_return kinds_title "
        "length_words module_words most_amps off_words outside_title polarity_words "
        "rating_and_kind rating_words shades sign slot_holders verdict_words wire_length "
        "wires_in_order",
        panel_places="PanelPlaces",
        positions="position_words turned_words",
        quoted="all_dark_words bears capital carrying distance joined_words label_of "
        "listed listed_wires load_name lost_words may_bear may_words name_of place",
        terminals="Terminals terminals_of",
        as_written="DIGITS DRAWN_IN draw_words stated",
    )
