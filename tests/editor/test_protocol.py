"""The server through the protocol, by a client that an editor could be."""

import sys
from pathlib import Path
from typing import ClassVar

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

from helpers.home import EXAMPLES, environment
from helpers.plover import PLOVER
from rigfolio.judgement.result import check

BOAT = (EXAMPLES / "kittiwake-30.rig").read_text(encoding="utf-8")
CABIN = EXAMPLES / "lapwing-cabin.rig"
LIGHTS = PLOVER[PLOVER.index("circuit P1.1") : PLOVER.index("circuit P1.2")]
HOUSE = (
    PLOVER.replace(LIGHTS, "")
    .replace("rules rv\n", "rules rv\n# 🜨 two units of UTF-16, here and in labels\n")
    .replace('"House"', '"🜨🜨 House"')
    .replace('circuit P1.2 "Fan"', 'circuit P1.1 "🜨 Fan"')
)
"""With letters before what is asked about that take two units of UTF-16 each."""


SERVER = ClientServerConfig(
    server_command=[sys.executable, "-m", "rigfolio", "editor"], server_env=environment()
)


pytestmark = pytest.mark.asyncio(loop_scope="module")


@pytest_lsp.fixture(config=SERVER, scope="module")
async def editor(lsp_client: LanguageClient):
    """One editor for a whole day: each test opens a text of its own in it, and closes it."""
    await lsp_client.initialize_session(
        types.InitializeParams(capabilities=types.ClientCapabilities(), root_uri=EXAMPLES.as_uri())
    )
    yield
    await lsp_client.shutdown_session()


@pytest.fixture
def client(editor: LanguageClient):
    yield editor
    for uri in Page.opened:
        document = types.TextDocumentIdentifier(uri)
        editor.text_document_did_close(types.DidCloseTextDocumentParams(document))
        editor.diagnostics.pop(uri, None)
    Page.opened.clear()


@pytest_lsp.fixture(config=SERVER, loop_scope="module")
async def byte_client(lsp_client: LanguageClient):
    """A client that would rather count bytes."""
    asked = types.GeneralClientCapabilities(
        position_encodings=[types.PositionEncodingKind.Utf8, types.PositionEncodingKind.Utf16]
    )
    await lsp_client.initialize_session(
        types.InitializeParams(capabilities=types.ClientCapabilities(general=asked))
    )
    yield
    await lsp_client.shutdown_session()


class Page:
    """One open text: what is typed into it, and places in it by the words that stand there."""

    opened: ClassVar[list[str]] = []

    def __init__(self, client: LanguageClient, path: Path, text: str) -> None:
        self.client, self.uri, self.text, self.version = client, path.as_uri(), text, 1

    async def open(self) -> "Page":
        item = types.TextDocumentItem(self.uri, "rig", self.version, self.text)
        self.client.text_document_did_open(types.DidOpenTextDocumentParams(item))
        self.opened.append(self.uri)
        await self.judged()
        return self

    async def judged(self) -> list[types.Diagnostic]:
        while True:
            await self.client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
            if self.uri in self.client.diagnostics:
                return list(self.client.diagnostics[self.uri])

    async def type(self, was: str, now: str) -> list[types.Diagnostic]:
        """Put something in the place of the words that stand there, as an editor sends it."""
        change = types.TextDocumentContentChangePartial(self.range(was), now)
        self.text = self.text.replace(was, now, 1)
        self.version += 1
        self.client.diagnostics.pop(self.uri, None)
        self.client.text_document_did_change(
            types.DidChangeTextDocumentParams(
                types.VersionedTextDocumentIdentifier(version=self.version, uri=self.uri), [change]
            )
        )
        return await self.judged()

    def place(self, words: str, within: int = 0) -> types.Position:
        at = self.text.index(words) + within
        start = self.text.rfind("\n", 0, at) + 1
        column = len(self.text[start:at].encode("utf-16-le")) // 2
        return types.Position(self.text.count("\n", 0, at), column)

    def range(self, words: str) -> types.Range:
        return types.Range(self.place(words), self.place(words, len(words)))

    def cut(self, place: types.Range) -> str:
        """The words that stand in a range."""
        line = self.text.split("\n")[place.start.line].encode("utf-16-le")
        assert place.start.line == place.end.line
        return line[place.start.character * 2 : place.end.character * 2].decode("utf-16-le")

    @property
    def document(self) -> types.TextDocumentIdentifier:
        return types.TextDocumentIdentifier(self.uri)

    def edited(self, edits: list[types.TextEdit]) -> str:
        lines = [line.encode("utf-16-le") for line in self.text.split("\n")]
        for one in sorted(edits, key=lambda e: (e.range.start.line, e.range.start.character),
                          reverse=True):  # fmt: skip
            line = lines[one.range.start.line]
            start, end = one.range.start.character * 2, one.range.end.character * 2
            lines[one.range.start.line] = (
                line[:start] + one.new_text.encode("utf-16-le") + line[end:]
            )
        return "\n".join(line.decode("utf-16-le") for line in lines)


@pytest.fixture
def house(tmp_path: Path) -> Path:
    file = tmp_path / "plover.rig"
    file.write_text(HOUSE, encoding="utf-8")
    return file


async def test_findings_stand_at_their_place(client, house):
    page = await Page(client, house, HOUSE).open()
    (found,) = client.diagnostics[page.uri]
    assert found.code == "fuse-over-wire"
    assert found.message.startswith("danger: 20 A fuse, 16 AWG may carry 8 A")
    assert "NFPA 70" in found.message
    # Behind two letters of two units each: a count of characters would be off by one.
    assert page.cut(found.range) == "fuse 20 A"
    (other,) = found.related_information
    assert page.cut(other.location.range) == "16 AWG"


async def test_columns_are_counted_as_the_client_asks(byte_client, house):
    """Some editors ask for bytes; a server that counts otherwise marks the wrong words."""
    page = await Page(byte_client, house, HOUSE).open()
    (found,) = byte_client.diagnostics[page.uri]
    line = HOUSE.split("\n")[found.range.start.line].encode()
    assert line[found.range.start.character : found.range.end.character] == b"fuse 20 A"


async def test_findings_are_told_of_a_file_as_the_editor_calls_it(client, tmp_path):
    """One name is written in several ways, with or without a sign for a letter."""
    folder = tmp_path / "a b"
    folder.mkdir()
    page = Page(client, folder / "plover.rig", HOUSE)
    page.uri = page.uri.replace("%20", " ").replace("plover", "%70lover")
    await page.open()
    assert [one.code for one in client.diagnostics[page.uri]] == ["fuse-over-wire"]


async def test_findings_follow_what_is_typed(client, house):
    page = await Page(client, house, HOUSE).open()
    assert await page.type("fuse 20 A", "fuse 7.5 A") == []
    assert [one.code for one in await page.type('load "Fan" 2 A', 'load "Fa')] == [
        "label-not-closed"
    ]
    assert await page.type('load "Fa', 'load "Fan" 2 A') == []


async def test_a_broken_line_leaves_the_findings_of_the_others(client, house):
    page = await Page(client, house, HOUSE).open()
    found = await page.type("busbar N1 100 A", 'busbar N1 "Min')
    assert [one.code for one in found] == ["label-not-closed", "fuse-over-wire"]


async def test_an_unsaved_part_is_judged_within_its_rig(client):
    """The bunkhouse has no head of its own; what is wrong in it is found in the cabin."""
    part = EXAMPLES / "lapwing-cabin" / "bunkhouse.rig"
    page = await Page(client, part, part.read_text(encoding="utf-8")).open()
    assert not client.diagnostics[page.uri]
    found = await page.type("fuse 5 A", "fuse 25 A")
    assert [one.code for one in found] == ["fuse-over-slot"]
    assert not client.diagnostics[CABIN.as_uri()]


async def test_hover_tells_the_numbers_of_a_wire_a_slot_and_a_load(client, house):
    page = await Page(client, house, HOUSE).open()

    async def told(words: str, within: int = 1) -> str:
        asked = types.HoverParams(page.document, page.place(words, within))
        answer = await client.text_document_hover_async(asked)
        return answer.contents.value

    wire = await told("wire 16 AWG red 14 ft")
    assert "may carry: 8 A" in wire
    assert "NFPA 70" in wire
    assert "guarded by: 20 A TOO LARGE" in wire
    slot = await told("P1.1")
    assert "fitted: 20 A TOO LARGE" in slot
    assert "max fuse 7.5 A" in slot
    load = await told('load "Fan"')
    assert "draws, alone on: 2 A" in load
    # 2 A through 28 ft of 16 AWG at some 4.2 ohm per 1000 ft lose a quarter of a volt, and the
    # rest of the way adds a little; 12 V and 10 % are of the rig and its book.
    assert "% of 12 V; 3 % allowed" in load or "% of 12 V; 10 % allowed" in load


async def test_definition_uses_and_rename_of_a_name(client, house):
    page = await Page(client, house, HOUSE).open()
    at = page.place("F1 to P1")
    (there,) = await client.text_document_definition_async(
        types.DefinitionParams(page.document, at)
    )
    assert (there.range.start.line, page.cut(there.range)) == (5, "F1")
    uses = await client.text_document_references_async(
        types.ReferenceParams(types.ReferenceContext(include_declaration=True), page.document, at)
    )
    assert [one.range.start.line for one in uses] == [5, 8, 9]
    answer = await client.text_document_rename_async(types.RenameParams(page.document, at, "MAIN"))
    after = page.edited(list(answer.changes[page.uri]))
    assert after == HOUSE.replace("F1", "MAIN")


@pytest.mark.parametrize("name", ["N1", "red", "wire", "2F", "F 2", "F1.a"])
async def test_what_is_no_name_or_taken_is_refused(client, house, name):
    page = await Page(client, house, HOUSE).open()
    asked = types.RenameParams(page.document, page.place("F1 to P1"), name)
    with pytest.raises(Exception, match=name):
        await client.text_document_rename_async(asked)


async def test_a_name_is_renamed_in_every_file(client):
    page = await Page(client, CABIN, CABIN.read_text(encoding="utf-8")).open()
    asked = types.RenameParams(page.document, page.place("negative N2", 9), "MINUS12")
    answer = await client.text_document_rename_async(asked)
    part = (EXAMPLES / "lapwing-cabin" / "bunkhouse.rig").as_uri()
    assert set(answer.changes) == {page.uri, part}


async def offered(client, page: Page, words: str) -> list[str]:
    asked = types.CompletionParams(page.document, page.place(words, len(words)))
    answer = await client.text_document_completion_async(asked)
    return [one.label for one in answer.items]


@pytest.mark.parametrize(
    ("typed", "wanted", "unwanted"),
    [
        ("bat", ["battery"], ["wire"]),
        ("fuse F2 7", ["7.5 A", "70 A"], ["10 A"]),
        ("fuse F2 10 A ", ["interrupts", "on", "class-t"], ["10 A", "open"]),
        ("wire B1+ ", ["to"], ["red"]),
        ("wire B1+ to ", ["F1.line", "P1", "N1"], ["to", "red"]),
        ("wire B1+ to F1 6 ", ["AWG", "ft"], ["A", "V"]),
        ("wire B1+ to F1 6 AWG red/", ["black"], ["?", "tag"]),
        ("wire B1+ to F1 6 AWG re", ["red"], ["blue"]),
        ("circuit P1.", ["P1.2", "P1.6"], ["F1.line"]),
        ("state away S1 ", ["open", "closed"], ["red"]),
        ("switch ", ["S1"], ["N1"]),
        ('note F1 "lo', [], ["loose"]),
        ("# wire ", [], ["B1+"]),
    ],
)
async def test_what_may_stand_there_is_offered(client, house, typed, wanted, unwanted):
    page = await Page(client, house, f"{HOUSE}{typed}").open()
    found = await offered(client, page, typed)
    assert [one for one in wanted if one not in found] == []
    assert [one for one in unwanted if one in found] == []


async def test_offers_do_not_mind_a_text_that_is_broken_elsewhere(client, house):
    text = HOUSE.replace('"Galley" 6 slots', '"Galley 6 slots')
    page = await Page(client, house, f"{text}    wire to N").open()
    assert "N1" in await offered(client, page, "    wire to N")
    text = HOUSE.replace("busbar N1 100 A", "busbar N1 100 Ampere @")
    page = await Page(client, house, f"{text}wire F").open()
    assert "F1.line" in await offered(client, page, "A\nwire F")


async def test_a_way_out_that_was_tried_is_an_action(client, house):
    page = await Page(client, house, HOUSE).open()
    asked = types.CodeActionParams(
        page.document, page.range("fuse 20 A"), types.CodeActionContext(diagnostics=[])
    )
    (action,) = await client.text_document_code_action_async(asked)
    assert action.is_preferred
    after = page.edited(list(action.edit.changes[page.uri]))
    assert after == HOUSE.replace("fuse 20 A", "fuse 7.5 A")
    assert check("x.rig", text=after).findings == ()


async def test_statements_are_listed(client, house):
    page = await Page(client, house, HOUSE).open()
    found = await client.text_document_document_symbol_async(
        types.DocumentSymbolParams(page.document)
    )
    names = [one.name for one in found]
    assert names[:3] == ["Plover", "B1 🜨🜨 House", "F1 Main"]
    assert names[-1] == "P1.1 🜨 Fan"
    assert "B1+ to F1" in names
    assert [one.name for one in found[-1].children] == ["wire", "Fan"]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
async def test_a_text_is_laid_out(client, house, end):
    text = HOUSE.replace("\n", end)
    page = await Page(client, house, text).open()
    options = types.FormattingOptions(tab_size=4, insert_spaces=True)
    edits = await client.text_document_formatting_async(
        types.DocumentFormattingParams(page.document, options)
    )
    after = page.edited(list(edits))
    assert 'battery  B1  "🜨🜨 House"  flooded' in after
    assert after.count(end) == text.count(end)
    assert [one.rule for one in check("x.rig", text=after).findings] == ["fuse-over-wire"]


async def test_the_boat_is_judged_while_a_circuit_is_typed(client, tmp_path):
    """No state on the way loses the findings of the rest, and none ends the server."""
    page = await Page(client, tmp_path / "boat.rig", BOAT).open()
    whole = '    load   "Radar"  30 W, 2 h/day, electronics\n'
    was = whole
    for end in range(9, len(whole), 6):
        now = f"{whole[:end]}\n"
        found = await page.type(was, now)
        was = now
        assert "stud-crowded" in [one.code for one in found], now
