"""What the text marks a part as, and what is done about it."""

from rigfolio.record import record


@record
class ConditionKind:
    """A mark of heat, of damp or of a joint that gives.

    Parameters
    ----------
    mend : str
        What is done about it, with the power off.
    called : tuple of str
        What people write for it in a survey.
    cause : str
        What has to be found with the power on before that; empty where nothing has to.
    is_slow : bool
        Whether it takes seasons to do harm. A joint that gives may run hot with the next load.
    """

    mend: str
    called: tuple[str, ...]
    cause: str = ""
    is_slow: bool = False

    @property
    def of_heat(self) -> bool:
        """Whether it is the trace of a current or of a joint that made something hot."""
        return bool(self.cause)


_HEAT = "renew the part and what the heat reached"
_FOUND = (
    "find the cause before anything is renewed: compare what runs through it with its rating, "
    "measure the drop across its joints under load"
)

CONDITIONS = {
    "scorched": ConditionKind(
        _HEAT,
        ("scorched", "burnt", "burned", "burn", "charred", "browned", "singed", "toasted",
         "overheated", "heat marks", "cooked", "discoloured", "discolored"),
        _FOUND,
    ),
    "loose": ConditionKind(
        "tighten it to its maker's torque and pull at it; see what let it work loose and whether "
        "it has run hot",
        ("loose", "wobbly", "wobbles", "not tight", "slack", "falls out"),
    ),
    "corroded": ConditionKind(
        "cut back to bright copper and renew the terminal; see where the damp comes in",
        ("corroded", "corrosion", "rusty", "rust", "rusted", "green", "verdigris", "damp",
         "oxidised", "oxidized", "wet"),
        is_slow=True,
    ),
    "melted": ConditionKind(_HEAT, ("melted", "melting", "molten", "melty", "melt"), _FOUND),
}  # fmt: skip
"""Every mark by its word, in the order in which they are offered."""


def is_of_heat(mark: str) -> bool:
    """Whether what bears a mark is renewed, and not cut back: heat has reached all of it."""
    return mark in CONDITIONS and CONDITIONS[mark].of_heat
