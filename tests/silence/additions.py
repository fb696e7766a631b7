"""Sound parts that a person adds to a rig: what each is, as text behind that of a sound example.

Every item knows the bank that it hangs on and its volts. Source of the items: common practice.
"""

import re
from collections.abc import Callable

from helpers.fed import STRONG, fed, fuse_at

BANK = {"kittiwake-30": "B2"}
"""Where the bank of an example is not `B1`."""
FULL_V = {"lapwing-cabin": 51.2}
"""The volts of the bank where they are not 12."""

Item = Callable[[str, str], str]


def bank_of(name: str) -> str:
    """The battery that parts are added to."""
    return BANK.get(name, "B1")


def volts_of(name: str) -> str:
    """Its volts as they are written of a source."""
    return f"{FULL_V[name]} V" if name in FULL_V else "12 V"


def modules_for(name: str, least: int = 1) -> str:
    """So many modules of 12 V behind each other that they charge it."""
    many = 4 if name in FULL_V else least
    return f"{many} modules in series, " if many > 1 else ""


def two_bonds_and_a_charger(text: str, name: str) -> str:
    """Two bonds side by side to one frame, and a charger that returns through the frame."""
    bank = bank_of(name)
    return text + (
        f'\nchassis G9 "Rear frame"\ncharger C9 "Small charger" 10 A, {volts_of(name)}\n'
        f"wire {bank}- to G9 4/0 AWG green 2 ft\nwire {bank}- to G9 4/0 AWG green 6 ft\n"
        f"wire C9+ to {bank}+ 12 AWG red 3 ft, {fuse_at(bank, 15)}\n"
        f"wire C9- to G9 12 AWG black 3 ft\n"
    )


def converter_to_other_volts(text: str, name: str) -> str:
    """A DC-DC converter that makes 24 V for one radio; its output is all that drives that side."""
    bank = bank_of(name)
    return text + (
        f'\ndc-dc E9 "24 V for the radio" 5 A, from {volts_of(name)} to 24 V, efficiency 85 %\n'
        f'load M9 "Coast radio" 2 A, electronics\n'
        f"{fed(bank, 'E9.in', '10 AWG red 4 ft', 20)}\n"
        f"wire E9- to {bank}- 10 AWG black 4 ft\n"
        f"wire E9.out to M9+ 14 AWG red 6 ft\nwire M9- to E9- 14 AWG black 6 ft\n"
    )


def converter_to_a_second_battery(text: str, name: str) -> str:
    """A DC-DC charger that keeps a small battery full, a fuse at either battery."""
    bank = bank_of(name)
    return text + (
        f'\nbattery B9 "Hatch battery" agm, 20 Ah, 12 V, delivers 400 A\n'
        f'dc-dc E9 "Hatch charger" 10 A, from {volts_of(name)} to 12 V, efficiency 90 %\n'
        f"{fed(bank, 'E9.in', '10 AWG red 4 ft', 20)}\n"
        f"wire E9- to {bank}- 8 AWG black 4 ft\n"
        f"wire E9.out to B9+ 10 AWG red 6 ft, {fuse_at('B9', 20)}\n"
        f"wire B9- to E9- 8 AWG black 6 ft\n"
    )


def a_system_of_its_own(text: str, _: str) -> str:
    """A 48 V battery with a fuse and one load, which shares nothing with the rest."""
    return text + (
        f'\nbattery B9 "Cart battery" lithium, 50 Ah, 51.2 V, delivers 800 A\n'
        f'load M9 "Cart motor" 10 A, motor, 1 h/day\n'
        f"{fed('B9', 'M9+', '10 AWG red 5 ft', 20)}\n"
        f"wire M9- to B9- 10 AWG black 5 ft\n"
    )


def twin_conductors(text: str, name: str) -> str:
    """Two conductors side by side behind a fuse that either of them stands alone."""
    bank = bank_of(name)
    return text + (
        f'\nload M9 "Bow heater" 10 A, heater, 2 h/day\n'
        f"{fed(bank, 'M9+', '12 AWG red 8 ft, 2 conductors in parallel', 20)}\n"
        f"wire M9- to {bank}- 12 AWG black 8 ft, 2 conductors in parallel\n"
    )


def load_behind_a_relay(text: str, name: str) -> str:
    """A heavy load on a relay, its coil on a thin wire with a small fuse."""
    bank = bank_of(name)
    return text + (
        f'\nrelay K9 "Spotlight relay" 40 A rated 60 V\nload M9 "Spotlight" 15 A, heater, 1 h/day\n'
        f'load M8 "Coil of K9" 0.15 A, 1 h/day\n'
        f"{fed(bank, 'K9', '8 AWG red 3 ft', 30)}\n"
        f"wire K9 to M9+ 8 AWG red 5 ft\nwire M9- to {bank}- 8 AWG black 6 ft\n"
        f"{fed(bank, 'M8+', '16 AWG blue 3 ft', 2)}\n"
        f"wire M8- to {bank}- 16 AWG black 3 ft\n"
    )


def a_small_panel(text: str, name: str) -> str:
    """One more panel straight from the bank, its feed fused; both circuits return to the post."""
    bank = bank_of(name)
    return text + (
        f'\npanel P9 "Hatch panel" 4 slots of 15 A, 30 A in all, rated 60 V\n'
        f"{fed(bank, 'P9', '8 AWG red 4 ft', 30)}\n"
        f'circuit P9.1 "Hatch lamp" fuse 3 A {STRONG}\n    wire 16 AWG red 6 ft\n'
        f'    load "Lamp" 0.5 A, 2 h/day, led\n    return 16 AWG black 6 ft to {bank}-\n'
        f'circuit P9.2 "Hatch socket" fuse 10 A {STRONG}\n    wire 12 AWG red 6 ft\n'
        f'    load "Socket" 4 A, 1 h/day\n    return 12 AWG black 6 ft to {bank}-\n'
        f"slot P9.3 spare\nslot P9.4 spare\n"
    )


def a_fan_out(text: str, name: str) -> str:
    """One run that parts at a splice into three branches of its own gauge."""
    bank = bank_of(name)
    branches = "".join(
        f'load M{n} "Step lamp {n}" 0.3 A, led, 2 h/day\nwire Z9 to M{n}+ 14 AWG red 4 ft\n'
        f"wire M{n}- to {bank}- 14 AWG black 8 ft\n"
        for n in (7, 8, 9)
    )
    return text + (f"\nsplice Z9\n{fed(bank, 'Z9', '14 AWG red 5 ft', 5)}\n{branches}")


def an_empty_bar(text: str, name: str) -> str:
    """A plus bar that waits for what is to come: one fused wire to it and nothing on it."""
    bank = bank_of(name)
    return text + (
        f'\nbusbar D9 "Spare bar" 150 A rated 60 V\n{fed(bank, "D9", "6 AWG red 3 ft", 40)}\n'
    )


def two_fuses_in_a_row(text: str, name: str) -> str:
    """A fuse at the post and one like it at the far end, behind one another."""
    bank = bank_of(name)
    return text + (
        f'\nfuse F9 "Far fuse" 10 A {STRONG}\nload M9 "Winch remote" 2 A, 1 h/day\n'
        f"{fed(bank, 'F9', '12 AWG red 9 ft', 10)}\n"
        f"wire F9 to M9+ 12 AWG red 2 ft\nwire M9- to {bank}- 12 AWG black 11 ft\n"
    )


def a_switch_beside_a_float(text: str, name: str) -> str:
    """A pump that its float or a switch by hand may start: two ways side by side to one motor."""
    bank = bank_of(name)
    return text + (
        f'\nfuse F9 "Sump fuse" 10 A {STRONG}\nswitch K8 "Float" 15 A rated 60 V\n'
        f'switch K9 "By hand" 15 A rated 60 V\nload M9 "Sump motor" 4 A, motor, intermittent\n'
        f"wire {bank}+ to F9 12 AWG red 6 in\n"
        f"wire F9 to K8 12 AWG red 6 ft\nwire F9.load to K9 12 AWG red 3 ft\n"
        f"wire K8 to M9+ 12 AWG red 2 ft\nwire K9 to M9+ 12 AWG red 6 ft\n"
        f"wire M9- to {bank}- 12 AWG black 8 ft\n"
    )


def ends_turned_round(text: str, _: str) -> str:
    """Every wire written from its other end: it has no direction."""

    def turned(found: re.Match[str]) -> str:
        return f"{found[1]}{found[3]} to {found[2]}{found[4]}"

    return "\n".join(
        re.sub(r"^(\s*wire\s+(?:W\d+\s+)?)(\S+)\s+to\s+(\S+)(.*)$", turned, row)
        if "fuse" not in row or " at " in row
        else row
        for row in text.split("\n")
    )


def remarks_on_everything(text: str, name: str) -> str:
    """Plain remarks: what is told of a part is not held against it."""
    return text + (
        f'\nnote {bank_of(name)}+ "boot renewed in spring"\nnote P1.1 "label was lost"\n'
        f'note P1 "lid held by two clips"\n'
    )


def modules_on_the_roof(text: str, name: str) -> str:
    """Two strings side by side without fuses, an isolator in both leads."""
    bank = bank_of(name)
    module = "open circuit 22.4 V, short circuit 5 A, gains 0.3 % a degree colder, series fuse 15 A"
    return text + (
        f'\narray Y8 "Front modules" {modules_for(name, 2)}{module}\n'
        f'array Y9 "Rear modules" {modules_for(name, 2)}{module}\n'
        f'busbar N8 "Roof plus" 60 A\nbusbar N9 "Roof minus" 60 A\n'
        f'disconnect S9 "Roof isolator" 20 A, rated 150 V, two poles\n'
        f'solar U9 "Roof controller" 5 A, {volts_of(name)}, input 150 V\n'
        f"wire Y8+ to N8 10 AWG red 6 ft\nwire Y8- to N9 10 AWG black 6 ft\n"
        f"wire Y9+ to N8 10 AWG red 9 ft\nwire Y9- to N9 10 AWG black 9 ft\n"
        f"wire N8 to S9.1 8 AWG red 6 ft\nwire S9.1 to U9.in 8 AWG red 2 ft\n"
        f"wire N9 to S9.2 8 AWG black 6 ft\nwire S9.2 to U9.in- 8 AWG black 2 ft\n"
        f"wire U9+ to {bank}+ 10 AWG red 3 ft, {fuse_at(bank, 10)}\n"
        f"wire U9- to {bank}- 10 AWG black 3 ft\n"
    )


def three_fused_strings(text: str, name: str) -> str:
    """Three strings of one module, each with the fuse that its label allows."""
    bank = bank_of(name)
    module = f"{modules_for(name)}open circuit 22.4 V, short circuit 8 A, series fuse 15 A"
    fused = ", fuse 15 A rated 150 V at N8"
    return text + (
        "\n" + "".join(f"array Y{number} {module}\n"
                       f"wire Y{number}+ to N8 10 AWG red 6 ft{fused}\n"
                       f"wire Y{number}- to N9 10 AWG black 6 ft\n" for number in (7, 8, 9))
        + f"busbar N8 60 A\nbusbar N9 60 A\n"
        f"solar U9 5 A, {volts_of(name)}, input 150 V\n"
        f"wire N8 to U9.in 6 AWG red 6 ft\nwire N9 to U9.in- 6 AWG black 6 ft\n"
        f"wire U9+ to {bank}+ 10 AWG red 3 ft, {fuse_at(bank, 10)}\n"
        f"wire U9- to {bank}- 10 AWG black 3 ft\n"
    )  # fmt: skip


def heater_that_glows(text: str, name: str) -> str:
    """A heater that glows for three minutes, on wire and behind a fuse that bear that."""
    bank = bank_of(name)
    return text + (
        f'\nload M9 "Air heater" 1.5 A, cyclic, starts at 7 times for 3 min\n'
        f"{fed(bank, 'M9+', '10 AWG red 6 ft', 20)}\nwire M9- to {bank}- 10 AWG black 6 ft\n"
    )


ADDITIONS: tuple[Item, ...] = (
    modules_on_the_roof,
    three_fused_strings,
    heater_that_glows,
    two_bonds_and_a_charger,
    converter_to_other_volts,
    converter_to_a_second_battery,
    a_system_of_its_own,
    twin_conductors,
    load_behind_a_relay,
    a_small_panel,
    a_fan_out,
    an_empty_bar,
    two_fuses_in_a_row,
    a_switch_beside_a_float,
    ends_turned_round,
    remarks_on_everything,
)
