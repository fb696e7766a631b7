"""How much more resistance cable has than a gauge of full, plain copper, from published figures."""

from types import MappingProxyType

# Circular mils by ASTM B258 (computed from its formula), and those of SAE cable in a maker's list
# of boat and vehicle cable (seen).
_MILS = {
    "18": (1624, 1537), "16": (2583, 2336), "14": (4107, 3702), "12": (6530, 5833),
    "10": (10383, 9343), "8": (16510, 14810), "6": (26251, 24538), "4": (41741, 37360),
    "2": (66371, 62450), "1/0": (105535, 98980), "2/0": (133077, 125100), "3/0": (167806, 158600),
    "4/0": (211600, 205500),
}  # fmt: skip
SAE = MappingProxyType({gauge: full / held for gauge, (full, held) in _MILS.items()})
"""SAE cable over full gauge, by gauge [-]."""
TINNED = 1.03
"""Coated copper over plain, IEC 60228 (computed from seen tables; 1.02 to 1.03) [-]."""
