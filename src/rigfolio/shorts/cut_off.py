"""What batteries do in a short that their own electronics switch off above a current.

How fast they do is the maker's to say, and no text states it: between them and a fuse it cannot be
told which is first. A current below what they cut off above changes nothing.
"""

from rigfolio.isolation import dark_without, kept_names
from rigfolio.model import Load, Source
from rigfolio.record import record
from rigfolio.shorts.cases import Fault
from rigfolio.study import Study
from rigfolio.units import is_over, show_limit, show_load
from rigfolio.wording import all_dark_words, in_a_row, joined_words


@record
class OwnCutOff:
    """The batteries that a short may have cut off, and what is dark then.

    `gives_a` is what each gives at the most [A], None where nothing that is known holds it back;
    `dark` are the loads that no battery serves any more, those of them that must stay on first.
    """

    batteries: tuple[Source, ...]
    gives_a: tuple[float | None, ...]
    dark: tuple[Load, ...]
    kept: tuple[Load, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The batteries by name."""
        return tuple(one.about.name for one in self.batteries)

    @property
    def dark_words(self) -> str:
        """What their cutting off does: `all that they feed goes dark, `Alarm` with it`."""
        return all_dark_words(self.kept, is_one=len(self.batteries) == 1)


def own_cut_off(study: Study, fault: Fault) -> OwnCutOff | None:
    """What of the batteries that feed a short may cut off; None where it has none do so."""
    case = fault.coldest
    gives = dict(case.sources)
    # Where nothing that is known bounds the short, no source has a figure: each may give any.
    is_open = case.current_a is None and case.bound_a is None
    ends = {end.source.about.name: end for end in case.ends.each}
    found: dict[str, tuple[Source, float | None]] = {}
    for source in study.rig.sources:
        name, limit_a = source.about.name, source.cut_off_a
        if limit_a is None or name not in ends:
            continue
        if is_open or is_over(gives.get(name, 0.0), limit_a):
            found[name] = source, None if is_open else gives[name]
    if not found:
        return None
    dark = dark_without(study, frozenset(found))
    must = kept_names(study.rig)
    kept = tuple(one for one in dark if one.about.name in must)
    batteries, gives_a = zip(*found.values(), strict=True)
    return OwnCutOff(batteries, gives_a, dark, kept)


def cut_off_words(own: OwnCutOff, first: str) -> str:
    """That in words, beside the device that opens `first`, by name; empty where none does."""
    alike: dict[tuple[str, str], list[str]] = {}
    for one, gives_a in zip(own.batteries, own.gives_a, strict=True):
        gives = "what is not known" if gives_a is None else f"up to {show_load(gives_a, 'A')}"
        above = show_limit(one.cut_off_a or 0.0, "A")
        alike.setdefault((gives, above), []).append(one.about.name)
    cuts = in_a_row(_cuts(*key, names) for key, names in alike.items())
    is_one = len(own.names) == 1
    they, are = ("it", "is") if is_one else ("they", "are")
    beside = f"{they} or `{first}` {are} first" if first else f"{they} cut{'s' * is_one} off at all"
    dark = f". Where {they} {are}, {own.dark_words}" if first else f". Where so, {own.dark_words}"
    return (
        f"{cuts}; how fast is not stated: whether {beside} cannot be told{dark * bool(own.dark)}."
    )


def _cuts(gives: str, above: str, names: list[str]) -> str:
    s, each = ("", " each") if len(names) > 1 else ("s", "")
    return f"{joined_words(names)} give{s} {gives}{each} and cut{s} off above {above}{each}"
