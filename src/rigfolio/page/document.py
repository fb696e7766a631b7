"""The page as one HTML file that asks for nothing: style, scripts, drawings, pictures are in it.

A content policy allows these scripts and this style by their hashes, and nothing else. What users
typed reaches the page through templates that escape it; marks that turn the direction of writing
are shown as what they are.
"""

import json
import marshal
import re
import sys
from base64 import b64encode
from collections.abc import Iterable, Mapping
from functools import cache
from hashlib import sha256
from pathlib import Path

import jinja2
from markupsafe import Markup

from rigfolio.books import colour_book
from rigfolio.job import strip_words
from rigfolio.own_folder import keep, kept, own_folder
from rigfolio.page.content import (
    CircuitCard,
    DiagramPage,
    PageFinding,
    PanelFace,
    PanelPhotograph,
    PartCard,
    ReadingsShown,
    RigFacts,
    RigPage,
    WireCard,
)
from rigfolio.page.objects import as_value
from rigfolio.page.views import dead_view, live_view
from rigfolio.reports import DEFERS, Report
from rigfolio.units import show
from rigfolio.values import MINUS

_FOLDER = Path(__file__).resolve().parent
_SCRIPTS = (
    "told", "readings", "keeping", "hand", "find", "diagram", "test_sheet", "photograph", "begin",
)  # fmt: skip
"""In the order in which they build on each other."""
_DESK_SCRIPTS = ("renewal",)
_TITLES = (
    ("find", "Find"), ("face", "Face"), ("cards", "Cards"), ("dead", "Dead"),
    ("live", "Live"), ("test", "Test"), ("diagram", "Diagram"), ("findings", "Findings"),
    ("photographs", "Photo"),
)  # fmt: skip
"""The sections in their order, and what the strip at the foot of the page calls them."""
_DIRECTIONS = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Marks that turn the direction of what stands beside them."""
_UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff]")
_BETWEEN = re.compile(r"[\s;,:()]+")
_SHOWN = "\N{REPLACEMENT CHARACTER}"
Sections = Mapping[str, str]


def page_html(page: RigPage) -> str:
    """The whole page, to be kept on a telephone; ends in a line break."""
    told = {"rig": as_value(page.rig), **told_of_test(page.test), **told_of_diagram(page.diagram)}
    return whole_html(page.rig, page.cautions, page_sections(page), told)


def told_of_test(test: ReadingsShown) -> Mapping[str, object]:
    """What the scripts are told of the test sheet: its points and blanks, as the JSON has them."""
    points = (one for stage in test.stages for step in stage.steps for one in step.points)
    return {"points": as_value(tuple(points)), "blanks": as_value(test.blanks)}


def told_of_diagram(pages: tuple[DiagramPage, ...]) -> Mapping[str, object]:
    """What the scripts are told of the diagram: which part of it leads to which card."""
    return {"drawn": as_value(tuple(page.parts for page in pages))}


def whole_html(
    rig: RigFacts,
    cautions: Iterable[str],
    sections: Sections,
    told: Mapping[str, object],
    *,
    state: str = "",
    at_desk: bool = False,
) -> str:
    """A page of sections.

    Parameters
    ----------
    rig : RigFacts
        Whose page it is.
    cautions : iterable of str
        What is said before all else.
    sections : mapping of str to str
        The HTML of each section by its name.
    told : mapping of str to object
        What the scripts are told, as JSON can say it.
    state : str
        What is said of the state of the page itself.
    at_desk : bool
        Whether the page is renewed by the program that served it.
    """
    script = script_of(at_desk=at_desk)
    return _filled(
        "page.html",
        rig=rig,
        cautions=tuple(cautions),
        sections={name: Markup(html) for name, html in sections.items()},
        shown=_TITLES,
        state=state,
        policy=policy_of(at_desk=at_desk),
        style=_style(),
        script=script,
        told=json_in_html(told),
        strip=strip_of(rig),
        deferral=DEFERS,
    )


def page_sections(page: RigPage) -> Sections:
    """The HTML of every section of a page."""
    return {
        **first_sections(page.rig, page.verdict, page.findings, page.panels),
        **card_sections(page.circuits, page.wires, page.parts, page.panels),
        **other_sections(page.dead, page.live, page.test, page.rig),
        "diagram": diagram_section(page.diagram),
        **photograph_section(page.photographs, page.markable),
    }


def other_sections(
    dead: tuple[Report, ...], live: Report, test: ReadingsShown, rig: RigFacts
) -> Sections:
    """The steps that make panels dead, what is live in which state, and the test sheet."""
    return {
        "dead": _filled("dead.html", dead=tuple(map(dead_view, dead))),
        "live": _filled("live.html", live=live_view(live)),
        "test": _filled("test.html", test=test, rig=rig),
    }


def photograph_section(
    photographs: tuple[PanelPhotograph, ...], markable: tuple[str, ...]
) -> Sections:
    """The photographs, and what may be marked on them."""
    given = {"photographs": photographs, "markable": markable}
    return {"photographs": _filled("photographs.html", **given)}


def waiting_sections() -> Sections:
    """The sections of a page of which nothing is known yet."""
    heads = {name: _filled("waiting.html", name=name, title=title) for name, title in _TITLES}
    return {"facts": "", "verdict": "", **heads}


def first_sections(
    rig: RigFacts, verdict: str, findings: tuple[PageFinding, ...], panels: tuple[PanelFace, ...]
) -> Sections:
    """What is renewed first: what was found, and the faces."""
    return {
        "facts": _filled("facts.html", rig=rig, volts=show(rig.system_v, "V")),
        "verdict": _filled("verdict.html", verdict=verdict, findings=findings),
        "findings": _filled("findings.html", verdict=verdict, findings=findings),
        "face": _filled("face.html", panels=panels),
    }


def card_sections(
    circuits: tuple[CircuitCard, ...],
    wires: tuple[WireCard, ...],
    parts: tuple[PartCard, ...],
    panels: tuple[PanelFace, ...],
) -> Sections:
    """The cards, and what they are found by."""
    found = [card.found_by for group in (circuits, wires, parts) for card in group]
    colours = sorted({word for one in found for word in one.colours})
    stripes = sorted({word for one in found for word in one.stripes})
    return {
        "cards": _filled("cards.html", circuits=circuits, wires=wires, parts=parts, panels=panels),
        "find": _filled("find.html", colours=colours, stripes=stripes),
    }


def diagram_section(pages: tuple[DiagramPage, ...]) -> str:
    """The drawings, each in its frame."""
    return _filled("diagram.html", diagram=pages)


def strip_of(rig: RigFacts) -> tuple[str, ...]:
    """What the foot of the page says, as that of every sheet does."""
    return strip_words(rig.name, rig.revision, rig.revised, rig.book, rig.digest)


@cache
def script_of(*, at_desk: bool) -> str:
    """The scripts of the page as one."""
    names = (*_SCRIPTS, *(_DESK_SCRIPTS if at_desk else ()))
    texts = [(_FOLDER / "scripts" / f"{name}.js").read_text(encoding="utf-8") for name in names]
    return '"use strict";\n' + "".join(texts)


@cache
def policy_of(*, at_desk: bool) -> str:
    """What the page may do: these scripts, this style, pictures that are in it, nothing else."""
    asked = "'self'" if at_desk else "'none'"
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src '{_hash(script_of(at_desk=at_desk))}'",
            f"style-src '{_hash(_style())}'",
            "img-src data: blob:",
            f"connect-src {asked}",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _hash(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode()}"


@cache
def _style() -> str:
    shades = sorted({colour.rgb for colour in colour_book().by_word.values()})
    colours = "".join(
        f".c{rgb[1:]} {{ background: {rgb}; }} .s{rgb[1:]}::after {{ background: {rgb}; }}\n"
        for rgb in shades
    )
    return (_FOLDER / "style" / "page.css").read_text(encoding="utf-8") + colours


def json_in_html(told: Mapping[str, object]) -> str:
    """JSON that no parser of HTML takes for the end of its element."""
    text = json.dumps(told, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    for letter in "<>&\u2028\u2029":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return text


def anchor(key: str) -> str:
    """The id of the card of a key: plain letters, and a tail where others had to go.

    Examples
    --------
    >>> anchor("P1.3"), anchor("P1.3/1R") == anchor("P1.3 1R")
    ('at-P1.3', False)
    """
    plain = re.sub(r"[^A-Za-z0-9.-]+", "_", key)
    tail = "" if plain == key else f"-{sha256(key.encode(errors='replace')).hexdigest()[:6]}"
    return f"at-{plain[:40]}{tail}"


def pieces(words: Iterable[str]) -> str:
    """Each word of some names once, in small letters, to be found by how it begins.

    Examples
    --------
    >>> pieces(["P1.2", "Water pump", "fuse P1.2"])
    'fuse p1.2 pump water'
    """
    folded = (word.replace(MINUS, "-").lower() for word in words)
    return " ".join(sorted({piece for word in folded for piece in _BETWEEN.split(word) if piece}))


def ticked(words: str) -> Markup:
    """Words in which what stands between backticks is what is typed.

    Examples
    --------
    >>> str(ticked("write `a < b`"))
    'write <code class="said">a &lt; b</code>'
    """
    parts = str(_shown(words)).split("`")
    said = Markup('<code class="said">{}</code>')
    if len(parts) % 2 == 0:
        return Markup.escape(_shown(words))
    marked = (said.format(one) if at % 2 else Markup.escape(one) for at, one in enumerate(parts))
    return Markup("").join(marked)


def _shown(value: object) -> object:
    """What a template puts out: no mark that turns a line about, nothing that cannot be seen."""
    if isinstance(value, Markup) or not isinstance(value, str):
        return value
    # All that is sought is beyond ASCII, or no letter of it.
    if value.isascii() and value.isprintable():
        return value
    return _UNSEEN.sub(_SHOWN, _DIRECTIONS.sub(_SHOWN, value))


class _KeptTemplates(jinja2.BytecodeCache):
    """Templates as they were compiled last, kept in the user's own folder.

    What was compiled with another library, by other rules for how it is written out, or from
    another text is not taken.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        # The rules are in this very file.
        rules = sha256(Path(__file__).read_bytes()).hexdigest()
        self.made_by = f"{sys.version}\n{jinja2.__version__}\n{rules}"

    def get_cache_key(self, name: str, filename: str | None = None) -> str:  # noqa: ARG002
        """The name of a template: wherever it lies, its text tells which it is."""
        return name

    def load_bytecode(self, bucket: jinja2.bccache.Bucket) -> None:
        """Give the template what was kept of it; nothing where that is of something else."""
        body = kept(*self._place(bucket))
        if body is not None:
            bucket.code = marshal.loads(body)

    def dump_bytecode(self, bucket: jinja2.bccache.Bucket) -> None:
        """Keep what was compiled for the next process."""
        keep(*self._place(bucket), marshal.dumps(bucket.code))

    def _place(self, bucket: jinja2.bccache.Bucket) -> tuple[Path, bytes]:
        made_of = f"{self.made_by}\n{bucket.checksum}\n"
        return self.folder / f"{bucket.key}.template", made_of.encode()


@cache
def _environment() -> jinja2.Environment:
    folder = own_folder()
    made = jinja2.Environment(
        bytecode_cache=None if folder is None else _KeptTemplates(folder),
        loader=jinja2.FileSystemLoader(_FOLDER / "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["anchor"] = anchor
    made.filters["ticked"] = ticked
    made.filters["pieces"] = pieces
    made.filters["base"] = lambda file: Path(file).name
    made.filters["drawing"] = Markup
    made.filters["picture"] = lambda jpeg: f"data:image/jpeg;base64,{b64encode(jpeg).decode()}"
    return made


def _filled(template: str, **given: object) -> str:
    return _environment().get_template(template).render(given)
