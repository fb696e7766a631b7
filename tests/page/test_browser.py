"""The page in a real browser: on a telephone and at a desk, from a file, without a network."""

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from helpers.browser import DESK, PHONE
from helpers.forgotten import cache
from helpers.home import EXAMPLES, HOME, RIGS
from helpers.studies import checked
from helpers.typed import typed_rows
from rigfolio.answers.logbook import hear
from rigfolio.judgement.result import check
from rigfolio.page.document import _style

if TYPE_CHECKING:
    from playwright.sync_api import Page

WREN, BOAT, VAN = (EXAMPLES / f"{n}.rig" for n in ("marsh-wren-17", "kittiwake-30", "heron-van"))
FIELD = HOME / "tests" / "corpus" / "field-workshop.rig"
"""Of it the solar modules have the longest rating that there is."""
SIZES = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
EVERY = pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
WCAG = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")

_BEYOND = """() => {
  const wide = document.documentElement.clientWidth, found = [];
  const scrolls = (one) => { for (let p = one.parentElement; p; p = p.parentElement) {
    if (["auto", "scroll"].includes(getComputedStyle(p).overflowX)) return true; }
    return false; };
  for (const one of document.querySelectorAll("body *")) {
    const box = one.getBoundingClientRect();
    if (!box.width || !box.height || scrolls(one) || one.closest(".unseen, .skip")) continue;
    if (box.right > wide + 1 || box.left < -1) found.push(one.outerHTML.slice(0, 120));
  }
  return found; }"""
"""What reaches beyond the screen and lies in nothing that scrolls."""

_HIDDEN = """() => {
  const found = [];
  for (const slot of document.querySelectorAll(".slot")) {
    const room = slot.closest(".face-room").getBoundingClientRect();
    for (const one of slot.querySelectorAll("span, bdi, strong, i")) {
      const box = one.getBoundingClientRect();
      if (!box.width) continue;
      const middle = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
      if (box.right > room.right + 1 || box.left < room.left - 1) found.push(one.textContent);
      slot.scrollIntoView({ block: "center" });
      const now = one.getBoundingClientRect();
      const hit = document.elementFromPoint(
        (now.left + now.right) / 2, (now.top + now.bottom) / 2);
      if (!hit || !slot.contains(hit)) found.push(`${one.textContent} ${middle}`);
    }
  }
  return found; }"""
"""Words of slots that lie outside of the frame of the face, or that nobody can touch."""


_KEPT_ON_THINGS = """
  class WeakMap {
    #name = Symbol();
    get(thing) { return thing[this.#name]; }
    set(thing, value) { thing[this.#name] = value; return this; }
    has(thing) { return Object.hasOwn(thing, this.#name); }
    delete(thing) { return delete thing[this.#name]; }
  }
  class WeakSet {
    #kept = new WeakMap();
    add(thing) { this.#kept.set(thing, true); return this; }
    has(thing) { return this.#kept.has(thing); }
    delete(thing) { return this.#kept.delete(thing); }
  }
"""
"""Where axe-core, written for old browsers, keeps five values of each colour: a third of all."""


@cache
def _axe() -> str:
    """The rules of accessibility, as a script that gives the page `axe`."""
    from axe_playwright_python.base import AXE_FILE_PATH

    return f"(() => {{{_KEPT_ON_THINGS}{Path(AXE_FILE_PATH).read_text('utf-8')}\n}})()"


def violations(page: "Page", *, contrast: bool = True) -> list[dict[str, Any]]:
    """What breaks WCAG 2.2 AA in the page as it stands, rule by rule; contrast if that is asked.

    Source: axe-core, the rules that it files under WCAG 2.0 to 2.2, levels A and AA.
    """
    # As a debugger would, past the content policy, which allows the page's own script alone.
    session = page.context.new_cdp_session(page)
    if not page.evaluate("() => 'axe' in window"):
        session.send("Runtime.evaluate", {"expression": _axe()})
    asked = {"runOnly": {"type": "tag", "values": list(WCAG)}, "resultTypes": ["violations"],
             "rules": {"color-contrast": {"enabled": contrast}}}  # fmt: skip
    found = session.send(
        "Runtime.evaluate",
        {
            "expression": f"axe.run(document, {json.dumps(asked)}).then(r => JSON.stringify(r))",
            "awaitPromise": True,
            "returnByValue": True,
        },
    )
    told = json.loads(found["result"]["value"])
    assert told["passes"] or told["inapplicable"] is not None
    return [
        {"rule": one["id"], "at": [node["html"][:160] for node in one["nodes"][:4]]}
        for one in told["violations"]
    ]


@contextmanager
def all_open(page: "Page", these: str) -> Iterator[None]:
    """With all open that is folded of what a selector finds, of which there must be some."""
    opened = page.locator(these).evaluate_all(
        """all => all.filter(one => !one.open)
          .map(one => { one.open = true; one.dataset.opened = ""; return one.open; })"""
    )
    assert opened
    assert all(opened)
    try:
        yield
    finally:
        page.evaluate(
            """() => { for (const one of document.querySelectorAll("[data-opened]")) {
              one.open = false; delete one.dataset.opened; } scrollTo(0, 0); }"""
        )


@pytest.mark.parametrize("file", [*RIGS, FIELD], ids=lambda file: file.stem)
@SIZES
def test_nothing_reaches_beyond_the_screen(at_hand: Any, file: Path, size: tuple[int, int]) -> None:
    page = at_hand(file, size)
    with all_open(page, "details"):
        assert page.evaluate(_BEYOND) == []
        assert page.evaluate("() => document.documentElement.scrollWidth") <= size[0]


@EVERY
def test_every_slot_is_whole_on_a_telephone(at_hand: Any, file: Path) -> None:
    page = at_hand(file)
    assert page.locator(".slot").count() > 5
    assert page.evaluate(_HIDDEN) == []


@EVERY
@SIZES
def test_no_rule_of_accessibility_is_broken(
    at_hand: Any, file: Path, size: tuple[int, int]
) -> None:
    """Contrast is half of it, and the same at any width: folded at a desk, opened on a phone."""
    page = at_hand(file, size)
    assert violations(page, contrast=size == DESK) == []
    page.locator(".slot:not(.empty)").first.click()
    with all_open(page, "main details"):
        assert violations(page, contrast=size == PHONE) == []
    page.locator("#in-hand").get_by_role("button", name="close").click()


def test_the_width_of_a_screen_moves_things_and_colours_none() -> None:
    queries = [one.partition("{") for one in _style().split("@media")[1:]]
    assert [query.strip() for query, _, _ in queries] == ["(min-width: 62rem)", "print"]
    said = set(re.findall(r"[{;]\s*([\w-]+):", queries[0][2]))
    assert said == {
        "align-items", "border-left", "display", "gap", "grid-column", "grid-row",
        "grid-template-columns", "inset", "max-height", "min-width", "overflow", "position", "top",
        "width",
    }  # fmt: skip


def test_the_accessibility_rules_find_what_is_wrong(opened: Any) -> None:
    page = opened(WREN)
    page.evaluate("() => { document.querySelector('.point label').remove(); }")
    assert {"label"} <= {one["rule"] for one in violations(page)}


def test_a_tap_on_a_slot_shows_its_card_and_lights_its_wire(opened: Any) -> None:
    page = opened(WREN)
    page.locator(".slot[data-key='P1.3']").tap()
    hand = page.locator("#in-hand")
    words = hand.inner_text()
    for said in ("Furnace fan", "10 A red", "12 AWG", "blue/white", "line 64"):
        assert said in words, said
    lit = page.locator(".live-part.lit")
    names = {one.get_attribute("data-name") for one in lit.all()}
    assert {"P1.3", "P1.3/1", "P1.3/1R", "load Furnace"} <= names
    assert page.locator(".lit .halo").count() >= len(names)
    hand.get_by_role("button", name="on the diagram").click()
    assert page.locator(".lit").first.is_visible()
    hand.get_by_role("button", name="close").click()
    assert hand.is_hidden()
    assert lit.count() == 0


def test_a_tap_on_a_wire_of_the_diagram_shows_that_wire(opened: Any) -> None:
    page = opened(WREN, DESK)
    wire = page.locator(".live-part[data-name='W3'] text").first
    wire.scroll_into_view_if_needed()
    wire.click()
    hand = page.locator("#in-hand")
    assert "6 AWG" in hand.inner_text()
    assert {one.get_attribute("data-name") for one in page.locator(".lit").all()} == {"W3"}
    back = page.locator(".live-part[data-name='P1.3/1R'] text").first
    back.evaluate("one => one.closest('.drawing').scrollIntoView({block: 'start'})")
    back.click(force=True)
    assert page.locator("#in-hand .wire.here").get_attribute("data-wire") == "P1.3/1R"


def test_two_fingers_enlarge_the_diagram_about_their_middle(opened: Any) -> None:
    page = opened(WREN)
    room = page.locator(".drawing").first
    room.scroll_into_view_if_needed()
    box = room.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = page.context.new_cdp_session(page)

    def touch(kind: str, apart: float) -> None:
        points = [{"x": x - apart, "y": y, "id": 0}, {"x": x + apart, "y": y, "id": 1}]
        given = {"type": kind, "touchPoints": points if kind != "touchEnd" else []}
        session.send("Input.dispatchTouchEvent", given)

    touch("touchStart", 20)
    touch("touchMove", 60)
    touch("touchEnd", 0)
    scale = float(room.get_attribute("data-scale") or 1)
    assert 2.5 < scale < 3.5
    wide = room.locator("svg").bounding_box()["width"]
    assert abs(wide / box["width"] - scale) < 0.1
    assert room.evaluate("one => one.scrollLeft") > 0
    room.locator("xpath=..").get_by_role("button", name="whole page").click()
    assert float(room.get_attribute("data-scale")) == 1.0


def test_all_of_a_slot_that_two_circuits_share_is_shown(opened: Any) -> None:
    text = WREN.read_text(encoding="utf-8").replace('circuit P1.7 "Radio"', 'circuit P1.5 "Radio"')
    page = opened(check("shared.rig", text=text))
    page.locator(".slot[data-key='P1.5']").tap()
    words = page.locator("#in-hand").inner_text()
    assert "Roof vent fan" in words
    assert "Radio" in words


def test_a_tap_where_wires_meet_shows_whose_place_it_is(at_hand: Any) -> None:
    page = at_hand(WREN, DESK)
    post = page.locator(".live-part[data-name='at B1+']").first
    assert post.get_attribute("data-key") == "B1"
    joint = page.locator(".live-part[data-name='at P1.1~1']").first
    assert joint.get_attribute("data-key") == "P1.1"


@pytest.mark.parametrize(
    ("words", "colour", "stripe", "keys"),
    [
        ("pump", "", "", {"P1.2"}),
        ("P1.3", "", "", {"P1.3"}),
        ("slot 3", "", "", {"P1.3"}),
        ("W4", "", "", {"W4", "W4 fuse"}),
        ("furnace", "", "", {"P1.3"}),
        ("", "red", "black", {"P1.1"}),
        ("", "violet", "white", {"P1.6"}),
        ("", "violet", "-", {"P1.5"}),
        ("VIOLET/WHITE", "", "", {"P1.6"}),
        ("vt/wh", "", "", {"P1.6"}),
        ("no such thing", "", "", set()),
    ],
)
def test_what_is_sought_is_found(
    at_hand: Any, words: str, colour: str, stripe: str, keys: set[str]
) -> None:
    page = at_hand(WREN)
    page.get_by_label("name, slot, wire, load, colour").fill(words)
    if colour:
        page.get_by_label("colour", exact=True).select_option(colour)
    if stripe:
        page.get_by_label("stripe").select_option(stripe)
    shown = page.locator("main .card:not([hidden])")
    assert {one.get_attribute("data-key") for one in shown.all()} == keys
    assert page.locator("#find-sum").inner_text() == f"{len(keys)} found"
    listed = {one.get_attribute("data-key") for one in page.locator("#find-list a").all()}
    assert listed == keys
    slots = {one.get_attribute("data-key") for one in page.locator(".slot.match").all()}
    assert slots == {key for key in keys if key.startswith("P1.")}
    page.get_by_role("button", name="all", exact=True).click()
    page.wait_for_selector("main .card[hidden]", state="detached")


def test_readings_are_judged_as_the_tool_judges_them(at_hand: Any) -> None:
    page = at_hand(WREN)
    rows = [
        {"text": t.text, "unit": t.unit, "low": t.low, "high": t.bound, "kept": t.kept,
         "verdict": t.verdict}
        for t in typed_rows()
    ]  # fmt: skip
    assert len(rows) > 50
    wrong = page.evaluate(
        """rows => rows.map(row => {
          const point = { low: row.low }; if (row.high !== null) point.high = row.high;
          const found = Readings.figure(row.text, Told.blank(row.unit));
          const verdict = found.value === null ? "unread"
            : Readings.fits(point, found.value) ? "fits" : "off";
          return [row.text, row.unit, verdict === row.verdict, found.written === row.kept,
                  Boolean(found.why) === (found.value === null)]; })
          .filter(one => !one[2] || !one[3] || !one[4])""",
        rows,
    )
    assert wrong == []


def test_readings_are_kept_over_a_reload_and_saved_for_the_log(opened: Any, tmp_path: Path) -> None:
    page = opened(WREN)
    ohms = page.locator(".point", has_text="ohm or more").first
    ohms.get_by_role("button", name="open").click()
    assert "as expected" in ohms.locator("output").inner_text()
    feed = page.locator(
        ".point", has=page.locator(".expect", has_text=re.compile("to .* V$"))
    ).first
    least = feed.locator(".expect").inner_text().split(" to ")[0]
    feed.locator("input").fill(least.replace(".", ","))
    assert f"{least} V: as expected" in feed.locator("output").inner_text()
    drop = page.locator(".point", has_text="up to 50 mV").first
    drop.locator("select").select_option("mV")
    drop.locator("input").fill("71")
    assert "71 mV: NOT as expected" in drop.locator("output").inner_text()
    assert page.locator("#test-sum").inner_text().endswith("read, 1 NOT as expected")
    page.reload()
    page.wait_for_selector("html[data-ready]")
    assert feed.locator("input").input_value() == least.replace(".", ",")
    assert "71 mV: NOT as expected" in drop.locator("output").inner_text()
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save readings as a file").click()
    saved = tmp_path / "saved.txt"
    coming.value.save_as(saved)
    assert re.fullmatch(
        r"Marsh-Wren-17-readings-\d{4}-\d\d-\d\d\.txt", coming.value.suggested_filename
    )
    heard = hear(checked(WREN), (), (str(saved),))
    assert heard.found == ()
    values = sorted(one.value for one in heard.log.readings)
    assert values == pytest.approx([0.071, float(least), float("inf")])


def test_a_reading_of_another_rig_is_not_shown(opened: Any) -> None:
    page = opened(WREN)
    page.locator(".point input").first.fill("open")
    other = WREN.read_text(encoding="utf-8").replace('rig "Marsh Wren 17"', 'rig "Other"')
    again = opened(check("other.rig", text=other))
    assert again.locator(".point input").first.input_value() == ""


def test_what_cannot_be_kept_is_said(at_hand: Any) -> None:
    page = at_hand(WREN)
    assert "kept in this browser" in page.locator("#kept-words").inner_text()


@SIZES
def test_all_of_it_by_keyboard(opened: Any, size: tuple[int, int]) -> None:
    page = opened(WREN, size)
    page.locator(".slot[data-key='P1.2']").focus()
    page.keyboard.press("Enter")
    assert page.locator("#in-hand").is_visible()
    assert page.evaluate("() => document.activeElement.id") == "hand-body"
    page.keyboard.press("Escape")
    assert page.locator("#in-hand").is_hidden()
    assert page.evaluate("() => document.activeElement.dataset.key") == "P1.2"
    drawing = page.locator(".drawing").first
    drawing.focus()
    page.keyboard.press("+")
    assert float(drawing.get_attribute("data-scale")) > 1.0
    page.keyboard.press("ArrowRight")
    first = page.evaluate("() => document.activeElement.dataset.name")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("() => document.activeElement.dataset.name") != first
    page.keyboard.press("Enter")
    assert page.locator("#in-hand").is_visible()
    page.keyboard.press("Escape")
    blank = page.locator(".point input").first
    blank.focus()
    page.keyboard.type("open")
    page.keyboard.press("Enter")
    inputs = page.locator(".point input")
    assert page.evaluate("() => document.activeElement.id") == inputs.nth(1).get_attribute("id")
    tick = page.locator(".steps input").first
    tick.focus()
    page.keyboard.press("Space")
    assert tick.is_checked()


def test_every_control_is_reached_by_tab(opened: Any) -> None:
    page = opened(WREN, DESK)
    wanted = page.evaluate(
        """() => {
          window.reached = [];
          document.addEventListener("focusin", (now) => reached.push(now.target.dataset.wanted));
          return [...document.querySelectorAll(
              "a[href], button, input, select, summary, [tabindex='0']")]
            .filter(one => one.checkVisibility())
            .map((one, at) => { one.dataset.wanted = at; return at; }); }"""
    )
    for _ in range(len(wanted) + 5):
        page.keyboard.press("Tab")
    reached = {int(one) for one in page.evaluate("() => reached") if one is not None}
    assert set(wanted) == reached


def test_ticks_are_not_kept(opened: Any) -> None:
    page = opened(WREN)
    page.locator(".steps input").first.check()
    page.reload()
    page.wait_for_selector("html[data-ready]")
    assert page.locator(".steps input:checked").count() == 0


def test_a_mark_on_a_photograph_is_a_line_of_the_text(opened: Any) -> None:
    page = opened(VAN)
    page.get_by_label("mark for").select_option("P1.4")
    picture = page.locator(".picture").first
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    picture.click(position={"x": box["width"] * 0.25, "y": box["height"] * 0.5})
    line = page.locator("#mark-line").input_value()
    found = re.fullmatch(r"mark   P1\.4 at (\d+\.\d) % (\d+\.\d) %", line)
    assert found is not None, line
    assert abs(float(found[1]) - 25.0) < 1.0
    assert abs(float(found[2]) - 50.0) < 1.0
    text = VAN.read_text(encoding="utf-8")
    marked = re.sub(r"    mark   P1\.4 .*\n", f"    {line}\n", text, count=1)
    assert marked != text
    study = check(str(VAN), text=marked).study
    assert study is not None
    (mark,) = [one for one in study.rig.photos[0].marks if one.place == "P1.4"]
    assert (round(mark.x, 3), round(mark.y, 3)) == (
        round(float(found[1]) / 100.0, 3), round(float(found[2]) / 100.0, 3),
    )  # fmt: skip
    picture.focus()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    assert page.locator("#mark-line").input_value() != line


@EVERY
def test_the_page_is_read_without_scripts(opened: Any, file: Path) -> None:
    page = opened(file, scripts=False)
    words = page.locator("body").inner_text()
    assert "Without scripts nothing typed here is judged or kept" in words
    assert page.locator("#find-form").is_hidden()
    assert page.locator("#save-readings").is_hidden()
    slot = page.locator(".slot:not(.empty)").first
    goal = str(slot.get_attribute("href"))
    slot.click()
    assert page.url.endswith(goal)
    assert page.locator(f"[id='{goal[1:]}']").is_visible()
    assert page.locator(".drawing svg").first.is_visible()


def test_hostile_labels_run_nothing(opened: Any) -> None:
    bad = "</script><script>document.title='bad'</script>\u202e<img src=x onerror=alert(1)>"
    text = (
        f'rig "{bad}"\n    rules rv\nbattery B1 "{bad}" 100 Ah, delivers 1 kA\nbusbar N1\n'
        f'panel P1 "{bad}" 3 slots\nwire B1+ to P1 6 AWG red 3 ft, fuse 50 A at B1+\n'
        f'wire N1 to B1- 6 AWG black 3 ft\ncircuit P1.1 "{bad}" fuse 5 A, note "{bad}"\n'
        f'    wire 16 AWG red 9 ft\n    load "{bad}" 8 W\n'
    )
    result = check("bad.rig", text=text)
    if result.study is None:
        result = check("bad.rig", text=text.replace("\u202e", ""))
    assert result.study is not None, result.findings
    page = opened(result)
    page.locator(".slot").first.click()
    page.get_by_label("name, slot, wire, load, colour").fill("p1.1")
    assert page.title() != "bad"
    assert page.locator("img").count() == 0
    assert page.locator("script").count() == 2
    assert "<img src=x" in page.locator("#in-hand").inner_text()
    assert page.evaluate(_BEYOND) == []
