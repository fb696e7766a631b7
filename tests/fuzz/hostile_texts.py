"""Texts that no careful owner writes: examples and grown rigs, hurt in one way or in several.

The same seed gives the same bytes.
"""

from random import Random

from fuzz.grown_rigs import grown
from helpers.home import FAULTY, RIGS

BASES = tuple(file.read_bytes() for file in (*RIGS, *FAULTY))
MOST = 6_000
"""Bytes of a base; of a longer one a piece is taken, so that a million texts end some day."""
PIECES = (
    b"\x00", b"\x1b[2J", b"\r", b"\t", b"\xff\xfe", b"\xef\xbb\xbf", b"\xc3", b'"', b"\\", b"#",
    b"?", b"..", b"+", b"-", b"+-", b".", b"P1.0", b"P1.999999999", b"B1+.line", b"->",
    b"<b>&amp;",
    "\u202eP1".encode(), "\u00a0".encode(), "\u2028".encode(), "٣ A".encode(), "½ ft".encode(),
    "Ω".encode(), b"(" * 2_000, b"a" * 5_000, b'"' * 99, b'include "."', b'include "x.rig"',
    b'include "../x.rig"', b"system ? V", b"rules no-such", b"fuse", b"wire B1+ to B1+ ? ?",
    b"accept fuse-over-wire", b"<<<<<<< ours", b"=======", b"%s%n{0}",
)  # fmt: skip
NUMBERS = (
    b"0", b"-1", b"1e308", b"1e-320", b"9" * 400, b"0." + b"0" * 300 + b"1", b"nan", b"inf", b"1,5",
    b"1/0", b"9**9**9", b"0x10", b"1_000", b"?", b"99999999", b"0.0000001", b"--5", b"5.5.5",
)  # fmt: skip


def hostile(seed: int) -> bytes:
    """One text, which is a rig at its heart."""
    chance = Random(seed)
    text = _base(chance)
    for _ in range(chance.choice((1, 1, 1, 2, 3, 8))):
        text = chance.choice(HURTS)(chance, text)
    return text


def _base(chance: Random) -> bytes:
    if chance.random() < 0.4:
        return grown(chance.randrange(10**9)).encode()
    text = chance.choice(BASES)
    if len(text) > MOST:
        start = chance.choice((0, chance.randrange(len(text) - MOST)))
        text = text[start : start + MOST]
    return text


def _bytes(chance: Random, text: bytes) -> bytes:
    """Some bytes are others."""
    changed = bytearray(text or b" ")
    for _ in range(chance.choice((1, 1, 3, 20))):
        changed[chance.randrange(len(changed))] = chance.randrange(256)
    return bytes(changed)


def _cut(chance: Random, text: bytes) -> bytes:
    """It ends in the middle, or starts there."""
    at = chance.randrange(len(text) + 1)
    return text[:at] if chance.random() < 0.8 else text[at:]


def _piece(chance: Random, text: bytes) -> bytes:
    """Something stands where nobody would look for it."""
    at = chance.randrange(len(text) + 1)
    return text[:at] + chance.choice(PIECES) + text[at:]


def _lines(chance: Random, text: bytes) -> bytes:
    """A line is taken out, doubled, moved, or comes from another rig."""
    lines = text.split(b"\n")
    one = lines.pop(chance.randrange(len(lines)))
    other = chance.choice(chance.choice(BASES).split(b"\n"))
    for line in chance.choice(((), (one, one), (one,), (other,), (one, other))):
        lines.insert(chance.randrange(len(lines) + 1), line)
    return b"\n".join(lines)


def _order(chance: Random, text: bytes) -> bytes:
    """Lines stand in any order."""
    lines = text.split(b"\n")
    chance.shuffle(lines)
    return b"\n".join(lines)


def _words(chance: Random, text: bytes) -> bytes:
    """Words change places, or one is another."""
    words = text.split(b" ")
    one, two = chance.randrange(len(words)), chance.randrange(len(words))
    words[one], words[two] = words[two], chance.choice((words[one], chance.choice(PIECES)))
    return b" ".join(words)


def _numbers(chance: Random, text: bytes) -> bytes:
    """A number that nothing could have."""
    places = [at for at, one in enumerate(text) if 0x30 <= one <= 0x39]
    if not places:
        return text
    at = chance.choice(places)
    end = at
    while end < len(text) and text[end : end + 1] in b"0123456789.":
        end += 1
    return text[:at] + chance.choice(NUMBERS) + text[end:]


def _indent(chance: Random, text: bytes) -> bytes:
    """Lines begin further in, or further out."""
    lines = text.split(b"\n")
    for _ in range(chance.choice((1, 5))):
        at = chance.randrange(len(lines))
        lines[at] = chance.choice((b"", b" ", b"\t", b"    ", b" " * 300)) + lines[at].lstrip()
    return b"\n".join(lines)


def _many(chance: Random, text: bytes) -> bytes:
    """One line a few hundred times."""
    lines = text.split(b"\n")
    at = chance.randrange(len(lines))
    return b"\n".join([*lines[:at], *([lines[at]] * chance.choice((2, 30, 300))), *lines[at:]])


HURTS = (_bytes, _cut, _piece, _piece, _lines, _lines, _order, _words, _words, _numbers, _numbers,
         _indent, _many)  # fmt: skip
"""Those twice that find most."""
