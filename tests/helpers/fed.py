"""Wires of made-up parts as text, fused at a battery strongly enough for any of the examples."""

STRONG = "interrupts 20 kA rated 125 V"
"""What a fuse says of itself so that no rule finds it too weak."""


def fuse_at(bank: str, rating_a: int) -> str:
    """A strong fuse at the plus post of a battery, as a fact of the wire that it sits on."""
    return f"fuse {rating_a} A at {bank}+ {STRONG}"


def fed(bank: str, end: str, run: str, rating_a: int) -> str:
    """A wire of a make and length from the plus post of a battery to an end, fused at the post."""
    return f"wire {bank}+ to {end} {run}, {fuse_at(bank, rating_a)}"
