"""The scenes of a rig in which readings may have been taken."""

import math
from collections.abc import Collection, Sequence
from functools import cached_property
from typing import TypeAlias

from rigfolio.isolation import Condition, Open, Unnamed, opened, states_of, turned, unnamed
from rigfolio.model import Source
from rigfolio.operating import NOTHING_WRONG, Rest, Scene, Shown, Wrong
from rigfolio.study import Study

Standing: TypeAlias = tuple[str, tuple[tuple[str, str], ...]]
"""How the rig stood: the name of a state, and what was set otherwise in it."""


# Less than that is what a bank takes to stand still [A].
_FLOWS_A = 0.1
# From half full to full is four in a hundred short of all banks that are sound: two deviations.
_DEVIATION = 0.5
# How low and how high banks are tried [-].
_BANK = 1.5


Level: TypeAlias = tuple[Rest, ...]
"""By how much sources that stand alike move for one standard deviation, scene by scene."""


def levels_of(
    scenes: Sequence[Scene | None], wrong: Wrong = NOTHING_WRONG
) -> tuple[Level, ...]:  # fmt: skip
    """What may stand higher or lower by itself; a scene that is left out moves with nothing.

    Banks that are joined in one scene may be apart in another, or with something wrong: each has a
    share in how high they stand while they are joined.
    """
    names = dict.fromkeys(name for one in scenes if one for name in one.sources)

    def moved(scene: Scene | None, name: str) -> Rest:
        joined = scene.alike(name, wrong) if scene else frozenset()
        share = _DEVIATION / math.sqrt(len(joined)) if joined else 0.0
        return tuple((one, share) for one in sorted(joined))

    return tuple(tuple(moved(scene, name) for scene in scenes) for name in names)


def rest_of(levels: Sequence[Level], at: Sequence[float]) -> tuple[Rest, ...]:
    """Where sources stand if each level is off by so many standard deviations, scene by scene."""
    made = []
    for scene in zip(*levels, strict=True):
        off: dict[str, float] = {}
        for part, much in zip(scene, at, strict=True):
            if much:
                for name, share in part:
                    off[name] = off.get(name, 0.0) + share * much
        made.append(tuple(sorted(off.items())))
    return tuple(made)


class Levels:
    """What may stand higher or lower by itself in some scenes; None for one that nobody read in."""

    def __init__(self, scenes: Sequence[Scene | None]) -> None:
        self.scenes, self._with = scenes, dict[Wrong, tuple[Level, ...]]()

    def under(self, wrong: Wrong) -> tuple[Level, ...]:
        """The levels with something wrong: as many as without, each of the same source."""
        if wrong not in self._with:
            self._with[wrong] = levels_of(self.scenes, wrong)
        return self._with[wrong]

    def rest(self, wrong: Wrong, at: Sequence[float]) -> tuple[Rest, ...]:
        """Where sources stand in all scenes if levels are off by so many deviations."""
        return rest_of(self.under(wrong), at) or ((),) * len(self.scenes)


def banks_off(study: Study, levels: Sequence[Level]) -> tuple[tuple[float, ...], ...]:
    """All banks low, and all high [-]; neither where nothing else feeds beside them."""
    sources = study.rig.by_name.sources
    stores = [any(sources[name].stores for part in one for name, _ in part) for one in levels]
    if all(stores):
        return ()
    return tuple(tuple(off if one else 0.0 for one in stores) for off in (-_BANK, _BANK))


class Scenes:
    """The scenes of a rig, each made once; what they have solved serves every search."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self._made: dict[tuple[Standing, *tuple[frozenset[str], ...]], Scene] = {}

    def of(
        self, standing: Standing, on: frozenset[str], starting: frozenset[str] = frozenset(),
        uncharged: frozenset[str] = frozenset(),
    ) -> Scene:  # fmt: skip
        """The rig as it stands, in no state where none is named, with some loads on or starting.

        Banks that are said to be `uncharged` stand as they do at rest.
        """
        key = (standing, on, starting, uncharged)
        if key not in self._made:
            state, set_to = standing
            opened_ = turned(self.study.rig, self._opened(state), set_to)
            loads = self.study.rig.by_name.loads
            times = tuple((name, loads[name].times_at_start) for name in sorted(starting))
            self._made[key] = Scene(
                self.study, opened_, on, times, is_stated=bool(state), uncharged=uncharged,
                said=self._said(state) | {part for part, _ in set_to},
                unsure=self._unsure(state),
            )  # fmt: skip
        return self._made[key]

    def running(self, source: str, read: Collection[str] = ()) -> str:
        """The state in which a source gives most, or a bank is charged most; empty: in none.

        One in which more of the sources are on that were `read` goes before all others; of states
        in which it gives as much, one in which it is sure to be on.
        """
        one = self.study.rig.by_name.sources[source]
        best, most = "", (-1, 0.0, False)
        for condition in states_of(self.study):
            off = opened(self.study.rig, condition).sources
            shown = self.of((condition.name, ()), frozenset()).solve()
            given_a = self._charge_a(one, condition, shown) if one.stores else shown.given_a(source)
            setting = condition.of(source)
            is_sure = setting is None or setting.is_sure
            # Nobody sees a milliampere: what the solver rounds decides nothing.
            rank = sum(name not in off for name in read), round(given_a, 3), is_sure
            if given_a > _FLOWS_A and rank > most:
                best, most = condition.name, rank
        return best

    def _charge_a(self, bank: Source, condition: Condition, shown: Shown) -> float:
        """What flows into a bank from what charges it [A]: another bank beside it charges none."""
        state = opened(self.study.rig, condition)
        reached = self.study.net.walk([bank.plus], state.bars)
        given_a = sum(
            max(shown.given_a(one.about.name), 0.0)
            for one in self.study.rig.sources
            if one.traits.charges and one.plus in reached
        )
        return min(given_a, -shown.given_a(bank.about.name))

    @cached_property
    def unnamed(self) -> Unnamed:
        """How the rig stands where a reading names no state."""
        return unnamed(self.study)

    def _unsure(self, state: str) -> frozenset[str]:
        """What may give something in a state or not: nobody knows whether the sun shines."""
        named = (one for one in states_of(self.study) if one.name == state)
        settings = (setting for one in named for setting in one.settings)
        return frozenset(one.part for one in settings if not one.is_sure)

    def _said(self, state: str) -> frozenset[str]:
        """The parts of which the text says how they stand in a state."""
        named = (one for one in states_of(self.study) if one.name == state)
        settings = (setting for one in named for setting in one.settings)
        return frozenset(one.part for one in settings if one.is_stated)

    def _opened(self, state: str) -> Open:
        if not state:
            return self.unnamed.opened
        condition = next(one for one in states_of(self.study) if one.name == state)
        return opened(self.study.rig, condition)
