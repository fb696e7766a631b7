"""What is not put to use until a danger is put right, and what is said and read in its place.

It knows findings, and what is live in use. It may not know in which order work is done.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.swap.held.back import (
        ANEW as ANEW,
        NOT_READ as NOT_READ,
        held_back as held_back,
        kept_out_words as kept_out_words,
        not_on_words as not_on_words,
        stays_dead as stays_dead,
    )
    from rigfolio.swap.held.by_danger import (
        barred as barred,
        dangers as dangers,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        back="ANEW NOT_READ held_back kept_out_words not_on_words stays_dead",
        by_danger="barred dangers",
    )
