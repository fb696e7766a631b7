"""The page as a file: what it is told keeps to its schema; its HTML is whole without scripts."""

import json
import re
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings, strategies as st

from helpers.forgotten import cache
from helpers.home import EXAMPLES, FAULTY, HOME, RIGS
from helpers.studies import checked, studied
from rigfolio.cli.entry import main
from rigfolio.folio import taken
from rigfolio.isolation import folded, in_turn, isolate, live_table, part_words
from rigfolio.judgement.result import Result, check, job_of
from rigfolio.judgement.trial import tried
from rigfolio.page import content, page_html, page_json, rig_page
from rigfolio.page.content import RigPage
from rigfolio.page.document import anchor, json_in_html
from rigfolio.page.views import dead_view, live_view
from rigfolio.record import Record, replace

SCHEMA = json.loads((HOME / "grammar" / "page.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
LARGEST_BYTES = 500_000
VOID = {"br", "hr", "img", "input", "link", "meta"}
HOSTILE = (
    "</script><script>document.title='bad'</script>",
    "<img src=x onerror=alert(1)>",
    '" onmouseover="alert(1)',
    "{{ 7*7 }}{% raw %}",
    "a & b < c",
)


def page_of(result: Result) -> RigPage:
    job = job_of(result)
    return rig_page(result, replace(job, pictures=taken(result)))


@cache
def page_in(file: Path) -> RigPage:
    """The page of a file that no test changes, made once."""
    return page_of(checked(file))


@cache
def html_in(file: Path) -> str:
    return page_html(page_in(file))


class Elements(HTMLParser):
    """Every element with its attributes, the text of scripts, and whether all are closed."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.words: list[str] = []
        self.raw: dict[str, list[str]] = {"script": [], "style": []}
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, tag
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] in self.raw:
            self.raw[self.open[-1]].append(data)
        else:
            self.words.append(data)

    def of(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.found if name == tag]

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.mark.parametrize("file", [*RIGS, *FAULTY], ids=lambda file: file.stem)
def test_what_the_page_is_told_keeps_to_its_schema(file: Path) -> None:
    result = checked(file)
    if result.study is None:
        assert "error" in {one.severity.value for one in result.findings}
        return
    VALIDATOR.validate(json.loads(page_json(page_in(file))))


def test_the_schema_is_one_and_has_the_fields_of_the_records() -> None:
    VALIDATOR.check_schema(SCHEMA)
    records = {
        name: kind
        for name, kind in vars(content).items()
        if isinstance(kind, type)
        and issubclass(kind, Record)
        and kind.__module__ == content.__name__
    }
    assert len(records) > 20
    for name, kind in records.items():
        word = re.sub(r"(?<!^)([A-Z])", r"_\1", name).lower()
        told = set(
            SCHEMA["properties"] if name == "RigPage" else SCHEMA["$defs"][word]["properties"]
        )
        own = {"format", "command", "book", "about"} if name == "RigPage" else set()
        assert told - own == set(kind.__match_args__) - {"svg", "jpeg"}, name


def test_the_schema_refuses_what_it_does_not_know() -> None:
    told = json.loads(page_json(page_in(RIGS[0])))
    assert VALIDATOR.is_valid(told)
    for wrong in (
        told | {"format": 1},
        told | {"more": 1},
        {key: value for key, value in told.items() if key != "cautions"},
        told | {"test": told["test"] | {"stages": "none"}},
    ):
        assert not VALIDATOR.is_valid(wrong)


def test_what_is_not_known_is_null_and_never_nothing() -> None:
    text = (
        'rig "Quail"\n    rules rv\nbattery B1 100 Ah, delivers 1 kA\nbusbar N1\npanel P1 3 slots\n'
        "wire B1+ to P1 6 AWG red ? length, fuse 50 A at B1+\nwire N1 to B1- 6 AWG black 3 ft\n"
        'circuit P1.1 "Lamp" fuse ? A, found 30 A\n    wire ? ? 9 ft\n    load "Lamp" ? A\n'
    ).replace("? length", "?")
    page = page_of(check("quail.rig", text=text))
    told = json.loads(page_json(page))
    (circuit,) = told["circuits"]
    assert circuit["fuse"]["rating_a"] is None
    assert circuit["fuse"]["largest_a"] is None
    assert circuit["fuse"]["found_a"] == 30.0
    assert circuit["wires"][0]["area_m2"] is None
    assert circuit["wires"][0]["colour"]["base"] == ""
    assert circuit["loads"][0]["draws"] == "? A"
    html = Elements(page_html(page)).text
    assert "30 A" in html
    assert "? not surveyed" in html


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_page_is_one_small_file_that_asks_for_nothing(file: Path) -> None:
    html = page_html(page_of(tried(checked(file))))
    assert len(html.encode()) < LARGEST_BYTES
    seen = Elements(html)
    assert seen.open == []
    for _, attributes in seen.found:
        for name, value in attributes.items():
            assert not name.startswith("on"), name
            assert name != "style"
            if name in ("src", "href", "action", "data", "srcset", "poster"):
                assert value is not None
                assert value.startswith(("#", "data:image/jpeg;base64,")), value
    assert not {"link", "iframe", "object", "embed", "base"} & {tag for tag, _ in seen.found}


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_every_link_has_its_goal_and_every_id_is_alone(file: Path) -> None:
    seen = Elements(html_in(file))
    ids = [str(one["id"]) for _, one in seen.found if "id" in one]
    assert len(ids) == len(set(ids))
    goals = {str(one["href"])[1:] for one in seen.of("a")}
    assert goals
    assert goals <= set(ids)
    described = {
        str(one["aria-describedby"]) for one in seen.of("input") if "aria-describedby" in one
    }
    assert described <= set(ids)
    assert {str(one["for"]) for one in seen.of("label") if "for" in one} <= set(ids)


def test_the_policy_has_the_hashes_of_what_is_there() -> None:
    html = html_in(RIGS[0])
    seen = Elements(html)
    (policy,) = [
        str(one["content"]) for one in seen.of("meta")
        if one.get("http-equiv") == "Content-Security-Policy"
    ]  # fmt: skip
    (style,) = re.findall(r"<style>(.*?)</style>", html, re.S)
    (script,) = re.findall(r"<script>(.*?)</script>", html, re.S)
    for text in (style, script):
        assert f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'" in policy
    assert "default-src 'none'" in policy
    assert "connect-src 'none'" in policy
    assert "unsafe" not in policy


CONVERTER = """\
rig "Two volts"
    system 24 V
    rules vehicle
battery B1 flooded, 100 Ah, internal 10 mohm
panel P1 4 slots of 30 A
panel P2 4 slots of 20 A, negative N1
busbar N1 100 A
dc-dc D1 10 A, from 24 V to 12 V
wire B1+ to P1 6 mm2 red 1 m, fuse 40 A at B1+
wire N1 to B1- 6 mm2 black 1 m
wire D1.out to P2 4 mm2 yellow 1 m
circuit P1.1 "Converter" fuse 20 A
    wire 4 mm2 red 1 m to D1.in
"""


def test_what_a_converter_is_fed_with_comes_back_by_the_wire_that_is_stated() -> None:
    page = page_of(check("two.rig", text=CONVERTER + "wire D1- to N1 6 mm2 black 1 m\n"))
    (card,) = page.circuits
    assert [wire.name for wire in card.returns] == ["D1-/N1"]
    assert "comes back: not stated" not in Elements(page_html(page)).text
    page = page_of(check("two.rig", text=CONVERTER))
    assert page.circuits[0].returns == ()
    assert "comes back: not stated" in Elements(page_html(page)).text


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_all_that_is_told_stands_there_without_scripts(file: Path) -> None:
    page = page_in(file)
    words = Elements(html_in(file)).text
    for caution in page.cautions:
        assert caution in words
    assert page.verdict in words
    for one in page.circuits:
        assert one.key in words
        assert one.label in words
        assert one.fuse.fitted in words
        assert one.fuse.largest in words
        for wire in (*one.wires, *one.returns):
            assert wire.ends[1] in words
    for stage in page.test.stages:
        assert stage.title in words
        for step in stage.steps:
            for point in step.points:
                assert point.number in words
                assert point.expected in words
    for panel in page.panels:
        assert len(panel.slots) == len({(slot.column, slot.row) for slot in panel.slots})
        for slot in panel.slots:
            assert slot.name in words


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_nothing_that_a_source_may_reach_stands_among_what_none_reaches(file: Path) -> None:
    page = page_in(file)
    table = live_table(studied(file))
    shown = live_view(page.live)
    assert [state.name for state in shown.states] == [state.name for state in table.states]
    for at, state in enumerate(shown.states):
        live = {part_words(row.part) for row in folded(table) if row.cells[at].is_live}
        dead = {part_words(row.part) for row in folded(table) if not row.cells[at].is_live}
        assert {part for part, _ in state.live} == live
        assert set(state.dead) == dead


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_the_steps_are_those_of_isolate(file: Path) -> None:
    page, study = page_in(file), studied(file)
    assert len(page.dead) == len(study.rig.panels)
    for report, panel in zip(page.dead, study.rig.panels, strict=True):
        turns = in_turn(study, isolate(study, panel.about.name, kind="panel"))
        shown = dead_view(report)
        for turn, step in zip(turns, shown.steps, strict=False):
            assert step.key == turn.part
            assert turn.do[1:] in step.words
        assert len(shown.steps) > len(turns)


def test_points_keep_their_keys_where_another_circuit_is_added() -> None:
    text = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
    more = text.replace(
        "slot P1.12 spare\n",
        'circuit P1.12 "Step"  fuse 5 A\n    wire 16 AWG tan 4 ft\n    load "Step light"  5 W\n',
    )
    assert more != text
    keys = []
    for said in (text, more):
        test = page_of(check("wren.rig", text=said)).test
        points = [one for stage in test.stages[2:3] for step in stage.steps for one in step.points]
        keys.append([one.key for one in points])
        assert len(set(keys[-1])) == len(keys[-1])
    assert set(keys[0]) < set(keys[1])


def _with_labels(label: str) -> str:
    quoted = label.replace('"', "'")
    return (
        f'rig "{quoted}"\n    rules rv\n    note "{quoted}"\n'
        f'battery B1 "{quoted}" 100 Ah, delivers 1 kA\nbusbar N1 "{quoted}"\n'
        f'panel P1 "{quoted}" 3 slots\n'
        "wire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+\nwire N1 to B1- 6 AWG black 3 ft\n"
        f'circuit P1.1 "{quoted}" fuse 30 A, note "{quoted}"\n    wire 16 AWG red 9 ft\n'
        f'    load "{quoted}" 8 W\nslot P1.2 spare "{quoted}"\nstate "{quoted}" B1 off\n'
    )


@cache
def plain_tags() -> set[str]:
    """The elements of a page whose labels are plain."""
    plain = Elements(page_html(page_of(check("plain.rig", text=_with_labels("x")))))
    return {tag for tag, _ in plain.found}


@pytest.mark.parametrize("label", HOSTILE)
def test_hostile_labels_are_words(label: str) -> None:
    result = check("hostile.rig", text=_with_labels(label))
    if result.study is None:
        result = check("hostile.rig", text=_with_labels(label).replace("state ", "# state "))
    assert result.study is not None, result.findings
    seen = Elements(page_html(page_of(result)))
    assert seen.open == []
    assert [tag for tag, _ in seen.found if tag == "script"] == ["script", "script"]
    assert {tag for tag, _ in seen.found} == plain_tags()
    assert label.replace('"', "'") in seen.text


def test_marks_that_turn_writing_about_are_shown_as_marks() -> None:
    page = page_in(RIGS[0])
    turned = replace(page, verdict="a\u202eb\u2066c\u200fd")
    assert "a\ufffdb\ufffdc\ufffdd" in Elements(page_html(turned)).text


@given(st.text(max_size=30))
def test_json_ends_no_script(text: str) -> None:
    told = json_in_html({"a": text})
    assert "<" not in told
    assert "\u2028" not in told
    assert json.loads(told) == {"a": text}


@given(st.sets(st.text(min_size=1, max_size=12), max_size=6))
@settings(max_examples=50)
def test_anchors_are_plain_and_tell_keys_apart(keys: set[str]) -> None:
    made = {key: anchor(key) for key in keys}
    assert len(set(made.values())) == len(keys)
    assert all(re.fullmatch(r"at-[A-Za-z0-9._-]+", one) for one in made.values())


def test_the_command_writes_one_file_and_never_over_another_hand(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    rig = str(EXAMPLES / "lapwing-cabin.rig")
    assert main(["page", rig]) == 0
    made = Path("out/lapwing-cabin/panel-page.html")
    first = made.read_bytes()
    assert main(["page", rig]) == 0
    assert made.read_bytes() == first
    made.write_bytes(first + b"mine")
    assert main(["page", rig]) == 0
    assert made.read_bytes() == first + b"mine"
    assert Path("out/lapwing-cabin/panel-page-new.html").read_bytes() == first
    capsys.readouterr()
    assert main(["page", rig, "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["format"] == 2


def test_a_text_that_is_not_understood_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken, out = tmp_path / "broken.rig", tmp_path / "page.html"
    broken.write_text("battery B1 5 wobbles\n", encoding="utf-8")
    assert main(["page", str(broken), "-o", str(out)]) == 2
    assert not out.exists()
    assert "wobbles" in capsys.readouterr().err


@pytest.mark.parametrize("more", [["-o", "x.html"], ["--format", "json"]])
def test_the_desk_writes_nothing(more: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["page", str(RIGS[0]), "--watch", *more]) == 2
    assert "`--watch`" in capsys.readouterr().err


def test_what_nothing_ends_stands_before_other_dangers() -> None:
    """The head of the page has room for a few: a wire that no fuse guards is among them."""
    runs = "".join(
        f'circuit P1.{n} "Pump {n}" fuse 30 A\n    wire {gauge} AWG red 9 ft\n'
        f'    load "Pump {n}" {12 + n} A\n'
        for n, gauge in enumerate((18, 16, 18, 16, 18, 16), start=1)
    )
    text = (
        'rig "Teal"\n    system 12 V\n    rules boat\n'
        "battery B1 agm, 100 Ah, internal 4 mohm\n"
        "busbar N1 100 A\npanel P1 8 slots of 20 A, negative N1\n"
        "wire W1 B1+ to P1 6 AWG red 2 ft, fuse 60 A at B1+\n"
        "wire W2 N1 to B1- 6 AWG black 2 ft\nwire W4 N1 to B2- 6 AWG black 2 ft\n"
        f'{runs}inverter I1 "Inverter" 300 W\n'
        "wire W5 B2+ to I1+ 6 AWG red 6 ft\nwire W6 I1- to N1 6 AWG black 6 ft\n"
        "battery B2 agm, 100 Ah, internal 4 mohm\n"
    )
    result = check("teal.rig", text=text)
    dangers = [one.rule for one in result.findings if one.severity.value == "danger"]
    assert "no-battery-fuse" in dangers[6:]
    page = page_of(result)
    shown = [one.rule for one in page.findings]
    assert sorted(shown) == sorted(one.rule for one in result.findings)
    assert shown[0] == "no-battery-fuse"
    head = page_html(page).partition('class="graves"')[2].partition("</ul>")[0]
    assert "W5" in head
    assert "more among the findings" in head
