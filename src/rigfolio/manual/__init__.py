"""What the program says of itself: pages of rules and words, the text that a new rig starts from.

It knows the language, the rules and the books, and no rig.
"""

from typing import TYPE_CHECKING

from rigfolio.faces import face

if TYPE_CHECKING:
    from rigfolio.manual.first_text import (
        IGNORED as IGNORED,
        PARTS as PARTS,
        Start as Start,
        starter as starter,
    )
    from rigfolio.manual.reference import (
        nearest_word as nearest_word,
        other_word as other_word,
        reference_words as reference_words,
        section as section,
    )
    from rigfolio.manual.topics import (
        explain as explain,
        nearest_topic as nearest_topic,
        overview as overview,
    )
else:
    __getattr__, __all__ = face(
        __name__,
        topics="explain nearest_topic overview",
        reference="nearest_word other_word reference_words section",
        first_text="IGNORED PARTS Start starter",
    )
