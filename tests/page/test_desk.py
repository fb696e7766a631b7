"""The page at the desk: renewed on every save, the last good drawing kept, for this host alone."""

import http.client
import json
import shutil
import socket
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Event, Thread
from typing import Any
from urllib.parse import urlsplit

import pytest

from helpers.browser import DESK
from helpers.home import EXAMPLES
from rigfolio.page import WatchedRig, served
from rigfolio.page.desk import Renewal

WREN = (EXAMPLES / "marsh-wren-17.rig").read_text(encoding="utf-8")
PATIENCE_S = 300.0
QUIET_S = 1.5


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    file = tmp_path / "wren.rig"
    file.write_text(WREN, encoding="utf-8")
    return file


class Looked:
    """A desk that is looked at from here: what it tells, until a condition holds."""

    def __init__(self, desk: WatchedRig) -> None:
        self.desk, self.number = desk, 0
        self.sections: dict[str, str] = {}
        self.told: dict[str, object] = {}
        self.state = ""
        self.turns: list[frozenset[str]] = []

    def until(self, holds: Callable[["Looked"], object]) -> None:
        while not holds(self):
            renewal = self.desk.since(self.number, PATIENCE_S)
            assert renewal is not None, (self.state, sorted(self.sections))
            self._take(renewal)

    def _take(self, renewal: Renewal) -> None:
        self.number, self.state = renewal.number, renewal.state
        self.sections |= renewal.sections
        self.told |= renewal.told
        self.turns.append(frozenset(renewal.sections))

    def quiet(self) -> None:
        while (renewal := self.desk.since(self.number, QUIET_S)) is not None:
            self._take(renewal)


@pytest.fixture
def looked(rig: Path) -> Iterator[Looked]:
    desk, stop = WatchedRig(str(rig)), Event()
    looking = Thread(target=desk.run, args=(stop,), daemon=True)
    looking.start()
    one = Looked(desk)
    one.until(lambda seen: "<svg" in seen.sections.get("diagram", "") and seen.told.get("points"))
    one.quiet()
    yield one
    stop.set()
    looking.join()


def test_a_save_tells_findings_and_face_before_the_diagram(rig: Path, looked: Looked) -> None:
    before = len(looked.turns)
    rig.write_text(WREN.replace('"Radio"', '"Wireless"'), encoding="utf-8")
    looked.until(lambda seen: "Wireless" in seen.sections["diagram"])
    looked.until(lambda seen: "Wireless" in seen.sections["cards"])
    told = [name for turn in looked.turns[before:] for name in sorted(turn)]
    assert told.index("face") < told.index("diagram")
    assert "Wireless" in looked.sections["face"]


def test_what_has_not_changed_is_not_told_again(rig: Path, looked: Looked) -> None:
    before = len(looked.turns)
    rig.write_text(WREN + "# a remark\n", encoding="utf-8")
    looked.until(lambda seen: len(seen.turns) > before)
    looked.quiet()
    # The title block of the diagram bears the digest of the text.
    assert not {"face", "findings", "verdict", "test", "live", "find"} & {
        name for turn in looked.turns[before:] for name in turn
    }


def test_while_the_text_is_broken_the_last_good_drawing_stays(rig: Path, looked: Looked) -> None:
    face, drawn = looked.sections["face"], looked.sections["diagram"]
    rig.write_text(WREN.replace('"Radio"', '"Radio" 5 wobbles'), encoding="utf-8")
    looked.until(lambda seen: seen.state)
    assert "not understood" in looked.state
    assert "as it last was" in looked.state
    assert "wobbles" in looked.sections["findings"]
    assert (looked.sections["face"], looked.sections["diagram"]) == (face, drawn)
    assert "wobbles" in looked.desk.html()
    rig.write_text(WREN, encoding="utf-8")
    looked.until(lambda seen: not seen.state)
    assert "wobbles" not in looked.sections["findings"]


def test_a_file_that_goes_away_and_comes_back(rig: Path, looked: Looked) -> None:
    rig.unlink()
    looked.until(lambda seen: seen.state)
    rig.write_text(WREN.replace('"Radio"', '"Wireless"'), encoding="utf-8")
    looked.until(lambda seen: not seen.state and "Wireless" in seen.sections["face"])


def test_a_text_that_is_broken_from_the_start_is_shown_when_it_is_mended(tmp_path: Path) -> None:
    file = tmp_path / "late.rig"
    file.write_text('include "more.rig"\n' + WREN, encoding="utf-8")
    desk, stop = WatchedRig(str(file)), Event()
    looking = Thread(target=desk.run, args=(stop,), daemon=True)
    looking.start()
    one = Looked(desk)
    one.until(lambda seen: seen.state)
    assert "as it last was" not in one.state
    assert "until the text is understood" in desk.html()
    (tmp_path / "more.rig").write_text('note N1 "seen"\n', encoding="utf-8")
    one.until(lambda seen: not seen.state and "<svg" in seen.sections["diagram"])
    stop.set()
    looking.join()
    assert desk.since(one.number, PATIENCE_S) is None


def test_the_log_beside_the_text_is_looked_at_too(rig: Path, looked: Looked) -> None:
    log = rig.with_name("wren-log.txt")
    log.write_text("2026-03-14  P1.1 to N1 = 31.5 ohm, with all off\n", encoding="utf-8")
    looked.until(lambda seen: "31.5 ohm" in seen.sections["test"])
    log.write_text("nothing of the kind\n", encoding="utf-8")
    looked.until(lambda seen: "log is not understood" in seen.state)


def test_a_photograph_that_is_missing_is_said(rig: Path, looked: Looked) -> None:
    rig.write_text(f'{WREN}photo "gone.jpg"\n    mark P1.1 at 10 % 10 %\n', encoding="utf-8")
    looked.until(lambda seen: "gone.jpg" in seen.state)


@pytest.fixture
def address(rig: Path) -> Iterator[str]:
    with served(WatchedRig(str(rig))) as found:
        yield found.url


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a page whose text no test changes, for all that only ask."""
    file = tmp_path_factory.mktemp("standing") / "wren.rig"
    file.write_text(WREN, encoding="utf-8")
    with served(WatchedRig(str(file))) as found:
        yield found.url


def ask(
    url: str, path: str | None = None, method: str = "GET", **headers: str
) -> tuple[int, dict[str, str], bytes]:
    parts = urlsplit(url)
    connection = http.client.HTTPConnection(str(parts.hostname), parts.port)
    named = {key.replace("_", "-"): value for key, value in headers.items()}
    connection.request(method, parts.path if path is None else path, headers=named)
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, {key.lower(): value for key, value in answer.getheaders()}, body


def test_the_page_is_given_to_who_has_its_address(standing: str) -> None:
    parts = urlsplit(standing)
    assert parts.hostname == "127.0.0.1"
    assert len(parts.path) > 30
    status, headers, body = ask(standing)
    assert status == 200
    assert b"<!DOCTYPE html>" in body
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["cache-control"] == "no-store"
    assert headers["x-content-type-options"] == "nosniff"
    assert "access-control-allow-origin" not in headers
    assert ask(standing, Host=f"localhost:{parts.port}")[0] == 200
    assert ask(standing, Origin=f"http://127.0.0.1:{parts.port}")[0] == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "evil.example"},
        {"Host": "127.0.0.1"},
        {"Host": "127.0.0.1:1"},
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": "https://127.0.0.1"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
    ],
    ids=str,
)
@pytest.mark.parametrize("tail", ["", "events"])
def test_nobody_else_is_answered(standing: str, headers: dict[str, str], tail: str) -> None:
    status, _, body = ask(standing, urlsplit(standing).path + tail, **headers)
    assert status == 403
    assert b"Wren" not in body


@pytest.mark.parametrize(
    "path",
    ["/", "/events", "/{token}", "/{token}/wren.rig", "/{token}/../wren.rig", "/{token}/%2e%2e/",
     "/{token}/events/", "/etc/passwd", "/{short}/", "/{token}x/", "/{upper}/"],
)  # fmt: skip
def test_nothing_is_read_by_the_path_of_a_request(standing: str, path: str) -> None:
    token = urlsplit(standing).path.strip("/")
    asked = path.format(token=token, short=token[:-1], upper=token.swapcase())
    status, _, body = ask(standing, asked)
    assert status == 404
    assert body == b"Not Found\n"


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "TRACE"])
def test_nothing_but_reading_is_understood(standing: str, method: str) -> None:
    assert ask(standing, method=method)[0] == 501


def test_another_host_cannot_reach_it(standing: str) -> None:
    port = urlsplit(standing).port
    assert port is not None
    own = socket.gethostbyname(socket.gethostname())
    if own.startswith("127."):
        pytest.skip("this machine has no address but the loopback")
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection((own, port))


def test_two_pages_have_two_tokens(rig: Path) -> None:
    with served(WatchedRig(str(rig))) as one, served(WatchedRig(str(rig))) as two:
        assert urlsplit(one.url).path != urlsplit(two.url).path
        assert ask(one.url, urlsplit(two.url).path)[0] == 404


def test_the_stream_tells_a_save(address: str, rig: Path) -> None:
    parts = urlsplit(address)
    connection = http.client.HTTPConnection(str(parts.hostname), parts.port)
    connection.request("GET", f"{parts.path}events?since=0")
    answer = connection.getresponse()
    assert answer.getheader("Content-Type", "").startswith("text/event-stream")
    seen: dict[str, Any] = {"sections": {}}
    is_saved = False
    while "Wireless" not in seen["sections"].get("face", ""):
        line = answer.readline().decode()
        assert line
        if line.startswith("data: "):
            seen = json.loads(line.removeprefix("data: "))
            if not is_saved and "<svg" in seen["sections"].get("diagram", ""):
                rig.write_text(WREN.replace('"Radio"', '"Wireless"'), encoding="utf-8")
                is_saved = True
    connection.close()


@pytest.fixture
def desk_page(browser: Any, address: str) -> Iterator[Any]:
    troubles: list[str] = []
    context = browser.new_context(viewport={"width": DESK[0], "height": DESK[1]})
    page = context.new_page()
    page.on("pageerror", lambda problem: troubles.append(str(problem)))
    page.goto(address)
    page.wait_for_selector("#diagram .live-part", state="attached")
    yield page
    context.close()
    assert troubles == []


def test_a_browser_shows_a_save_and_keeps_what_was_done_there(desk_page: Any, rig: Path) -> None:
    page = desk_page
    page.wait_for_selector(".point input")
    page.locator(".point input").first.fill("open")
    page.get_by_label("name, slot, wire, load, colour").fill("P1.7")
    page.locator(".slot[data-key='P1.7']").click()
    rig.write_text(WREN.replace('"Radio"', '"Wireless"'), encoding="utf-8")
    page.wait_for_selector("#face >> text=Wireless")
    page.wait_for_selector("#cards >> text=Wireless", state="attached")
    page.wait_for_selector("#in-hand >> text=Wireless")
    page.wait_for_selector(".live-part.lit[data-name='P1.7']", state="attached")
    assert page.get_by_label("name, slot, wire, load, colour").input_value() == "P1.7"
    assert page.locator(".point input").first.input_value() == "open"
    assert "line 82" in page.locator("#in-hand").inner_text()


def test_a_browser_says_that_the_text_is_broken(desk_page: Any, rig: Path) -> None:
    page = desk_page
    parts = page.locator(".live-part").count()
    rig.write_text(WREN.replace('"Radio"', '"Radio" 5 wobbles'), encoding="utf-8")
    page.wait_for_selector("#state >> text=as it last was")
    page.wait_for_selector("#findings >> text=wobbles")
    assert page.locator(".live-part").count() == parts
    rig.write_text(WREN, encoding="utf-8")
    page.wait_for_selector("#state", state="hidden")


def test_a_browser_connects_again(browser: Any, rig: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    with served(WatchedRig(str(rig))) as found:
        page.goto(found.url)
        page.wait_for_selector("#diagram .live-part", state="attached")
        context.set_offline(True)
        page.evaluate("() => window.dispatchEvent(new Event('offline'))")
    page.wait_for_selector("#state >> text=No connection")
    context.close()


def test_a_rig_in_two_files_is_renewed_by_either(tmp_path: Path) -> None:
    for name in ("lapwing-cabin.rig", "lapwing-cabin"):
        source = EXAMPLES / name
        if source.is_dir():
            shutil.copytree(source, tmp_path / name)
        else:
            shutil.copy(source, tmp_path / name)
    desk, stop = WatchedRig(str(tmp_path / "lapwing-cabin.rig")), Event()
    looking = Thread(target=desk.run, args=(stop,), daemon=True)
    looking.start()
    one = Looked(desk)
    one.until(lambda seen: "<svg" in seen.sections.get("diagram", ""))
    one.quiet()
    part = tmp_path / "lapwing-cabin" / "bunkhouse.rig"
    text = part.read_text(encoding="utf-8")
    label = text.split("circuit ")[1].split('"')[1]
    part.write_text(text.replace(f'"{label}"', '"Bunk room"'), encoding="utf-8")
    one.until(lambda seen: "Bunk room" in seen.sections["cards"])
    stop.set()
    looking.join()
