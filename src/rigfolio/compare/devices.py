"""What has to be done with a fuse, breaker or switch so that it becomes what its text says now."""

from collections.abc import Iterator

from rigfolio.compare.deeds import Why, Work, hardest
from rigfolio.compare.facts import facts_of
from rigfolio.compare.stated import unlike
from rigfolio.kinds import CONDITIONS
from rigfolio.model import Circuit, Device, Rig
from rigfolio.protection import interrupts
from rigfolio.wording import device_named, rating_words


def device_work(old: Device | None, new: Device | None, moved: str = "") -> Iterator[Work]:
    """What is done with a device as it was and as it is; `moved` says where a moved one went."""
    if old is None and new is None:
        return
    if new is None or old is None:
        one = new or old
        assert one is not None  # noqa: S101
        names = ("", one.about.name) if old is None else (one.about.name, "")
        words = (_device_words(one),) if new is None else ()
        yield Work("pull new" if old is None else "remove", "device", *names, words)
        return
    why = list(_device_why(old, new))
    if moved:
        why.append(("move", moved))
    if old.about.label != new.about.label:
        why.append(("label", f"was {old.about.label or 'without a label'}"))
    yield from hardest("device", old.about.name, new.about.name, why)


def guard_work(
    before: Rig, after: Rig, pair: tuple[Circuit | None, Circuit | None], *, in_new_panel: bool
) -> Iterator[Work]:
    """What is done with the device that a circuit begins with.

    Parameters
    ----------
    before, after : Rig
        The two versions, the former one as it stood.
    pair : tuple[Circuit | None, Circuit | None]
        The circuit in each of them.
    in_new_panel : bool
        Whether the slot that it begins in now is one of another panel than before.
    """
    old, new = pair
    was_held, now_held = _held(before, old), _held(after, new)
    moved = ""
    if old is not None and new is not None and was_held and now_held:
        moved = f"from {old.place} to {new.place}" if old.place != new.place else ""
        # What the new panel asks of its fuses is not known of one that comes from another.
        is_weak = in_new_panel and _breaks_too_little(before.system_v, was_held, now_held)
        heat = heat_words(before, after, old, new)
        if is_weak or heat:
            yield _exchanged(was_held, now_held, (*heat, *filter(None, [moved])))
            return
    if was_held and now_held and was_held.in_slot != now_held.in_slot:
        # What fits a slot fits no holder on a wire.
        yield from device_work(was_held, None)
        was_held = None
    yield from device_work(was_held, now_held, moved)


def _held(rig: Rig, circuit: Circuit | None) -> Device | None:
    """The device that a circuit begins with."""
    return device_named(rig, circuit.device) if circuit is not None else None


def heat_words(before: Rig, after: Rig, old: Circuit, new: Circuit) -> tuple[str, ...]:
    """By what a slot was hot that is mended now: the heat has reached its fuse or breaker, too."""
    held, was, now = _held(before, old), _marks(before, old), _marks(after, new)
    if held is None or not held.protects:
        return ()
    return tuple(
        f"its slot was {mark}" for mark in was if mark not in now and CONDITIONS[mark].of_heat
    )


def _marks(rig: Rig, circuit: Circuit) -> tuple[str, ...]:
    """What the beginning of a circuit is marked as."""
    told = (one.condition for one in rig.remarks if one.place == circuit.place)
    return tuple(dict.fromkeys(mark for mark in (circuit.condition, *told) if mark in CONDITIONS))


def _breaks_too_little(system_v: float, old: Device, new: Device) -> bool:
    """Whether a device is not known to interrupt what is said of the one in its new place."""
    asked_a = new.interrupts_a
    if not isinstance(asked_a, float) or not (old.protects and new.protects):
        return False
    breaks = interrupts(old, system_v)
    return breaks is None or breaks.value < asked_a


def _exchanged(old: Device, new: Device, told: tuple[str, ...]) -> Work:
    """A new device in the place of one that is not taken along."""
    why = [words for _, words in _device_why(old, new)]
    now = _device_words(new)
    named = () if any(words.startswith(now) for words in why) else (f"another {now}",)
    return Work("replace", "device", old.about.name, new.about.name, (*named, *why, *told))


def _device_words(device: Device) -> str:
    words = rating_words(device)
    return words if device.kind in words else f"{words} {device.kind}".strip()


def _device_why(old: Device, new: Device) -> Iterator[Why]:
    now = _device_words(new)
    if old.kind != new.kind:
        yield "replace", f"{now}, was {_device_words(old)}"
    elif old.rating_a != new.rating_a and isinstance(new.rating_a, float):
        known = isinstance(old.rating_a, float)
        yield ("replace" if known else "told"), f"{now}, was {_device_words(old)}"
    if new.family and old.family != new.family:
        words = f"{new.family}, was {old.family or 'not known'}"
        yield ("replace" if old.family else "told"), words
    for fact, words, before in unlike(facts_of(old), facts_of(new)):
        if fact in ("rated", "interrupts") and words.strip("? A"):
            known = bool(before) and "?" not in before
            yield ("replace" if known else "told"), f"{fact} {words}, was {before or 'not said'}"
    if old.about.condition and not new.about.condition:
        yield "replace", f"was {old.about.condition}"
