"""How many of the hazards put into the sound examples are found by a rule that names them.

``python tests/mutations/score.py`` prints the table; ``--all`` leaves no place out; ``--fixes``
tells of every way out that is offered whether it serves.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module

from mutations.edits import SOUND, Example, Mutant, sound
from mutations.hazard import HAZARDS, Hazard

for stem in (
    "of_plates", "of_protection", "of_ratings", "of_shorts", "of_sources", "of_sun", "of_wiring",
):  # fmt: skip
    import_module(f"mutations.{stem}")

NO_HAZARD = {
    ("fuse far too large", "marsh-wren-17", "W4 fuse"):
        "6 AWG bears the 50 A of the battery fuse, and the charger gives 45 A",
    ("wire fuse left out", "marsh-wren-17", "wire  C1+     to P1"):
        "6 AWG bears the 50 A of the battery fuse, and the charger gives 45 A",
    ("fuse far along its wire", "marsh-wren-17", "wire  C1+     to P1"):
        "6 AWG bears the 50 A of the battery fuse, and the charger gives 45 A",
    ("wire fuse left out", "kittiwake-30", "wire  B1+  to Q1.1"):
        "the fuse at the other bank is 72 in from the post, which the boat's book allows",
    ("wire fuse left out", "kittiwake-30", "wire  Q1.2 to B2+"):
        "the fuse at the other bank is 72 in from the post, which the boat's book allows",
}  # fmt: skip
"""Places where a kind does no harm, and why: nothing is to be found there, and nothing is."""


@dataclass(frozen=True, slots=True)
class Tried:
    """A mutant, whether it was found, and why it need not be."""

    example: str
    mutant: Mutant
    is_caught: bool
    harmless: str
    instead: tuple[str, ...]


def tried(kind: Hazard, *, everywhere: bool = False) -> Iterator[Tried]:
    """All mutants of a kind, in every example."""
    step = 1 if everywhere else kind.every
    for name in SOUND:
        example = sound(name)
        for mutant in list(kind.places(example))[::step]:
            found = example.judged_by(kind.rules, mutant)
            is_caught = any(one.rule in kind.rules and _is_there(one, mutant) for one in found)
            instead = () if is_caught else example.judged(mutant)
            yield Tried(
                name,
                mutant,
                is_caught,
                _harmless(kind, example, mutant),
                tuple(f"{one.severity.value}[{one.rule}] {one.headline}" for one in instead),
            )


def _is_there(finding, mutant: Mutant) -> bool:
    """Whether a finding points at a line that was touched."""
    labels = (finding.at, *finding.others)
    return any(mutant.text.count("\n", 0, label.span.start) in mutant.lines for label in labels)


def _harmless(kind: Hazard, example: Example, mutant: Mutant) -> str:
    for (name, rig, where), reason in NO_HAZARD.items():
        if (name, rig) == (kind.name, example.name) and mutant.where.startswith(where):
            return reason
    return ""


def table(*, everywhere: bool) -> Iterator[str]:
    """The score, kind by kind."""
    caught = count = 0
    for kind in HAZARDS.values():
        every = [one for one in tried(kind, everywhere=everywhere) if not one.harmless]
        own = sum(one.is_caught for one in every)
        caught, count = caught + own, count + len(every)
        yield f"{kind.name:45} {own:4} of {len(every):4}   {', '.join(sorted(kind.rules))}"
        yield from (
            f"    missed: {one.example}, {one.mutant.where.strip()}; {one.instead}"
            for one in every
            if not one.is_caught
        )
    yield f"{len(HAZARDS)} kinds: {caught} of {count} found, {caught / count:.1%}"
    yield from (f"no hazard: {kind}, {rig}, {where}: {why}"
                for (kind, rig, where), why in NO_HAZARD.items())  # fmt: skip


if __name__ == "__main__" and "--fixes" in sys.argv:
    from mutations.fixes import main

    main()
elif __name__ == "__main__":
    for row in table(everywhere="--all" in sys.argv):
        sys.stdout.write(f"{row}\n")
