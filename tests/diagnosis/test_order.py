"""What is alike for a meter is told in one order, whatever the last digit of its share."""

from itertools import permutations

from rigfolio.diagnosis.suspects import Suspect
from rigfolio.diagnosis.verdicts import Verdict, told_order


def verdict(name: str, share: float) -> Verdict:
    suspect = Suspect("joint", name, "", 1.0, (0.1,))
    return Verdict((suspect,), share, (0.1,), ((0.1, 0.1),), 0.0, True, ())


def test_equal_shares_are_ordered_by_name_as_people_count():
    alike = [
        verdict("P1.10/1", 0.12),
        verdict("P1.2/1", 0.12 - 3e-8),
        verdict("N1/B1-", 0.12 + 2e-7),
    ]
    for some in permutations([*alike, verdict("Z9", 0.4)]):
        told = [one.faults[0].name for one in sorted(some, key=told_order)]
        assert told == ["Z9", "N1/B1-", "P1.2/1", "P1.10/1"]
