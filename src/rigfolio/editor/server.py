"""The questions of an editor by the language server protocol; the only file that knows it."""

import asyncio
from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol

from lsprotocol import types
from pygls import uris
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer

from rigfolio.editor.outline import OutlineItem, outline
from rigfolio.editor.positions import UTF_16, LinePlace, TextSpots
from rigfolio.editor.session import Session
from rigfolio.faces import own_version
from rigfolio.findings import Edit, Finding, Severity, Span
from rigfolio.refusal import RefusalError

_QUIET_S = 0.03
"""How long nothing is typed before the text is judged [s]."""
_FAILED = -32803
"""The code of the protocol for a request that is understood and cannot be done."""
_GRAVITY = {
    Severity.ERROR: types.DiagnosticSeverity.Error,
    Severity.DANGER: types.DiagnosticSeverity.Error,
    Severity.FAULT: types.DiagnosticSeverity.Warning,
    Severity.UNKNOWN: types.DiagnosticSeverity.Information,
    Severity.ADVICE: types.DiagnosticSeverity.Information,
}
_OFFERS = {
    "statement": types.CompletionItemKind.Keyword,
    "word": types.CompletionItemKind.Property,
    "place": types.CompletionItemKind.Reference,
    "name": types.CompletionItemKind.Variable,
    "unit": types.CompletionItemKind.Unit,
    "colour": types.CompletionItemKind.Color,
    "value": types.CompletionItemKind.Value,
    "label": types.CompletionItemKind.Text,
}
_SYMBOLS = {
    "rig": types.SymbolKind.Module, "include": types.SymbolKind.File,
    "state": types.SymbolKind.Event, "circuit": types.SymbolKind.Method,
    "panel": types.SymbolKind.Class, "wire": types.SymbolKind.Field,
    "wires": types.SymbolKind.Struct, "note": types.SymbolKind.String,
}  # fmt: skip


def serve() -> None:
    """Answer an editor on the standard input and output until it lets go."""
    made().start_io()


def made() -> LanguageServer:
    """A server that answers all that it can; it holds no texts yet."""
    server = LanguageServer("rigfolio", own_version() or "from a source tree")
    desk = _ServedDesk(server)
    _hear(server, desk)
    _tell(server, desk)
    _change(server, desk)
    return server


class _AskedAt(Protocol):
    """A question about a place of a text."""

    text_document: types.TextDocumentIdentifier
    position: types.Position


class _ServedDesk:
    """The session of a server, with places as the protocol has them."""

    def __init__(self, server: LanguageServer) -> None:
        self.server = server
        self.session = Session()
        self._spots: dict[str, TextSpots] = {}
        self._named: dict[str, str] = {}
        self._shown: dict[str, set[str]] = {}
        self._waiting: asyncio.TimerHandle | None = None

    def put(self, uri: str, text: str) -> str:
        """Keep a text as it stands in the editor; gives its path."""
        path = _path(uri)
        self._named[path] = uri
        self.session.desk.put(path, text)
        return path

    def _uri(self, path: str) -> str:
        """What the editor calls a file; one that it has not opened is called by its path."""
        return self._named.get(path) or uris.from_fs_path(path) or path

    def spots(self, path: str) -> TextSpots:
        """Where the lines of a text begin, as it stands now."""
        text = self.session.desk.text(path)
        known = self._spots.get(path)
        if known is None or known.text != text:
            known = self._spots[path] = TextSpots(text, self._encoding())
        return known

    def _encoding(self) -> str:
        """In what the client counts columns: as it asked for, else UTF-16."""
        asked = self.server.workspace.position_encoding or UTF_16
        return asked.value if isinstance(asked, types.PositionEncodingKind) else asked

    def at(self, params: _AskedAt) -> tuple[str, int]:
        """The file and the character that a question is about."""
        path = _path(params.text_document.uri)
        return path, self.offset(path, params.position)

    def offset(self, path: str, place: types.Position) -> int:
        """The character of a position."""
        return self.spots(path).offset(LinePlace(place.line, place.character))

    def range(self, span: Span) -> types.Range:
        """A place as the protocol tells it."""
        spots = self.spots(span.file)
        ends = (spots.spot(span.start), spots.spot(max(span.start, span.end)))
        start, end = (types.Position(one.line, one.column) for one in ends)
        return types.Range(start, end)

    def location(self, span: Span) -> types.Location:
        """A place with its file."""
        return types.Location(self._uri(span.file), self.range(span))

    def edits(self, made: Iterable[Edit]) -> list[types.TextEdit]:
        """Edits of one text."""
        return [types.TextEdit(self.range(one.span), one.text) for one in made]

    def changed(self, held: Mapping[str, Iterable[Edit]]) -> types.WorkspaceEdit:
        """Edits of several texts."""
        return types.WorkspaceEdit(
            changes={self._uri(file): self.edits(each) for file, each in held.items()}
        )

    def judge_soon(self, path: str) -> None:
        """Say what is found once nothing more is typed for a moment."""
        if self._waiting is not None:
            self._waiting.cancel()
        loop = asyncio.get_running_loop()
        self._waiting = loop.call_later(_QUIET_S, self.judge, path)

    def judge(self, path: str) -> None:
        """Say what is found in the rig of a text, and take back what was said of other files."""
        found = self.session.findings(path)
        root = self.session.desk.root(path)
        for file in self._shown.get(root, set()) - found.keys():
            self._say(file, ())
        self._shown[root] = set(found)
        for file, each in found.items():
            self._say(file, each)

    def _say(self, file: str, found: Sequence[Finding]) -> None:
        self.server.text_document_publish_diagnostics(
            types.PublishDiagnosticsParams(
                self._uri(file), [self._diagnostic(one) for one in found]
            )
        )

    def _diagnostic(self, one: Finding) -> types.Diagnostic:
        others = [
            types.DiagnosticRelatedInformation(self.location(label.span), label.text or one.rule)
            for label in one.others
            if label.span.file
        ]
        return types.Diagnostic(
            self.range(one.at.span), message_of(one), _GRAVITY[one.severity], one.rule,
            source="rigfolio", related_information=others,
        )  # fmt: skip


def message_of(one: Finding) -> str:
    """What is found, in the words that `check` prints; ways out that need a try stay apart."""
    lines = [f"{one.severity.value}: {one.headline}"]
    lines += [one.at.text] if one.at.text else []
    lines += [f"source: {one.source}"] if one.source is not None else []
    lines += [f"book: {one.book}"] if one.book else []
    if one.way_out:
        lines.append(f"{'fix' if one.severity is Severity.ERROR else 'to do'}: {one.way_out}")
    return "\n".join(lines)


def _path(uri: str) -> str:
    return uris.to_fs_path(uri) or uri


def _hear(server: LanguageServer, desk: _ServedDesk) -> None:
    """Keep up with the texts of the editor."""

    def put(uri: str) -> None:
        desk.judge_soon(desk.put(uri, server.workspace.get_text_document(uri).source))

    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    async def opened(params: types.DidOpenTextDocumentParams) -> None:
        put(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    async def changed(params: types.DidChangeTextDocumentParams) -> None:
        put(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    async def closed(params: types.DidCloseTextDocumentParams) -> None:
        path = _path(params.text_document.uri)
        desk.session.desk.take(path)
        desk.judge_soon(path)

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    async def saved(params: types.DidSaveTextDocumentParams) -> None:
        desk.session.desk.forget()
        desk.judge_soon(_path(params.text_document.uri))

    @server.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    async def moved(_: types.DidChangeWatchedFilesParams) -> None:
        desk.session.desk.forget()
        for path in desk.session.desk.open:
            desk.judge(path)


def _tell(server: LanguageServer, desk: _ServedDesk) -> None:
    """Answer what changes no text."""

    @server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        found = desk.session.numbers(*desk.at(params))
        if found is None:
            return None
        span, lines = found
        text = "  \n".join(lines)
        return types.Hover(types.MarkupContent(types.MarkupKind.Markdown, text), desk.range(span))

    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        return [desk.location(span) for span in desk.session.definitions(*desk.at(params))]

    @server.feature(types.TEXT_DOCUMENT_REFERENCES)
    def references(params: types.ReferenceParams) -> list[types.Location]:
        every = desk.session.uses(*desk.at(params))
        is_whole = params.context.include_declaration
        return [desk.location(one.span) for one in every if is_whole or not one.is_definition]

    @server.feature(
        types.TEXT_DOCUMENT_COMPLETION,
        types.CompletionOptions(trigger_characters=[" ", ".", "/"]),
    )
    def completion(params: types.CompletionParams) -> types.CompletionList:
        found = desk.session.offers(*desk.at(params))
        if found is None:
            return types.CompletionList(is_incomplete=False, items=[])
        place = desk.range(found.span)
        items = [
            types.CompletionItem(
                one.text, kind=_OFFERS[one.kind], detail=one.about or None,
                sort_text=f"{number:04}", filter_text=one.text,
                text_edit=types.TextEdit(place, one.text),
            )
            for number, one in enumerate(found.offers)
        ]  # fmt: skip
        return types.CompletionList(is_incomplete=False, items=items)

    @server.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def symbols(params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        path = _path(params.text_document.uri)
        return [_symbol(one, desk) for one in outline(desk.session.desk.text(path), path)]


def _symbol(one: OutlineItem, desk: _ServedDesk) -> types.DocumentSymbol:
    return types.DocumentSymbol(
        one.name, _SYMBOLS.get(one.word, types.SymbolKind.Object), desk.range(one.span),
        desk.range(one.chosen), detail=one.word,
        children=[_symbol(each, desk) for each in one.inside],
    )  # fmt: skip


def _change(server: LanguageServer, desk: _ServedDesk) -> None:
    """Answer with edits."""

    @server.feature(types.TEXT_DOCUMENT_FORMATTING)
    def formatting(params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        path = _path(params.text_document.uri)
        return desk.edits(desk.session.layout(path))

    @server.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    def prepare(params: types.PrepareRenameParams) -> types.Range | None:
        path, at = desk.at(params)
        named = desk.session.index(path).at(path, at)
        is_known = named is not None and desk.session.index(path).definitions(named.name)
        return desk.range(named.span) if named is not None and is_known else None

    @server.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    def rename(params: types.RenameParams) -> types.WorkspaceEdit:
        try:
            return desk.changed(desk.session.renamed(*desk.at(params), params.new_name))
        except RefusalError as refusal:
            said = f"{refusal.headline}; {refusal.fix}" if refusal.fix else refusal.headline
            raise JsonRpcException(said, code=_FAILED) from None

    @server.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]),
    )
    def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        path = _path(params.text_document.uri)
        place = Span(
            path, desk.offset(path, params.range.start), desk.offset(path, params.range.end)
        )
        return [_action(one, desk) for one in desk.session.ways_out(path, place)]


def _action(one: Finding, desk: _ServedDesk) -> types.CodeAction:
    """A way out that was tried; it mends its finding, and nothing else is worse with it."""
    fix = one.fix
    edits: dict[str, list[Edit]] = {}
    for edit in fix.edits if fix is not None else ():
        edits.setdefault(edit.span.file, []).append(edit)
    return types.CodeAction(
        f"{one.rule}: {one.way_out}", kind=types.CodeActionKind.QuickFix,
        diagnostics=[desk._diagnostic(one)], edit=desk.changed(edits),
        is_preferred=fix is not None and fix.kind == "safe",
    )  # fmt: skip
