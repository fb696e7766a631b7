"""From a key stroke to the findings of an editor: the boat, typed line by line by the protocol.

Run with `python tests/benchmarks/editor.py`; prints the median time between what is typed and what
is told, what nineteen of twenty stay within, and the slowest: for a wire, a load and a part that is
included. The server waits for a pause of 30 ms first. The aim is 200 ms. Behind that stands the
processor time of one key stroke, which other programs on the machine change less.
"""

import asyncio
import statistics
import sys
import time
from pathlib import Path

from lsprotocol import types
from pygls.lsp.client import LanguageClient

from helpers.home import EXAMPLES, environment
from rigfolio.editor.session import Session

BOAT = EXAMPLES / "kittiwake-30.rig"
PART = EXAMPLES / "lapwing-cabin" / "bunkhouse.rig"
LINES = (
    (BOAT, "wire  N2", "wire  F2.load to X1.2      2/0 AWG red     3 ft\n"),
    (
        BOAT,
        "slot P1.24",
        '    load   "Deck wash"  6 A, intermittent, motor, starts at 3 times\n',
    ),
    (PART, "slot P2.4", '    load   "Lamp"  5 W, 3 h/day, led\n'),
)


async def typed(client: LanguageClient, file: Path, before: str, line: str) -> list[float]:
    """The time to the findings of each character of a line [s]."""
    told: asyncio.Queue[str] = asyncio.Queue()

    @client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    def _(params: types.PublishDiagnosticsParams) -> None:
        told.put_nowait(params.uri)

    text, uri = file.read_text(encoding="utf-8"), file.as_uri()
    at = text.index(before)
    item = types.TextDocumentItem(uri, "rig", 0, text)
    client.text_document_did_open(types.DidOpenTextDocumentParams(item))
    await heard(told, uri)
    taken = []
    for end in range(1, len(line) + 1):
        now = f"{text[:at]}{line[:end]}\n{text[at:]}"
        start = time.perf_counter()
        client.text_document_did_change(
            types.DidChangeTextDocumentParams(
                types.VersionedTextDocumentIdentifier(version=end, uri=uri),
                [types.TextDocumentContentChangeWholeDocument(now)],
            )
        )
        await heard(told, uri)
        taken.append(time.perf_counter() - start)
    return taken


def worked(file: Path, before: str, line: str) -> float:
    """The processor time from a character of a line to its findings, the median [s]."""
    session, text = Session(), file.read_text(encoding="utf-8")
    at = text.index(before)
    taken = []
    for end in range(1, len(line) + 1):
        start = time.process_time()
        session.desk.put(str(file), f"{text[:at]}{line[:end]}\n{text[at:]}")
        session.findings(str(file))
        taken.append(time.process_time() - start)
    return statistics.median(taken)


async def heard(told: "asyncio.Queue[str]", uri: str) -> None:
    """Wait until something is said of a text."""
    while await told.get() != uri:
        pass


async def main() -> None:
    """Type each line into a server of its own and print how long it took."""
    for file, before, line in LINES:
        client = LanguageClient("benchmark", "1")
        await client.start_io(sys.executable, "-m", "rigfolio", "editor", env=environment())
        await client.initialize_async(
            types.InitializeParams(capabilities=types.ClientCapabilities())
        )
        taken = sorted(await typed(client, file, before, line))
        sys.stdout.write(
            f"{line.strip()[:44]:44}  {len(taken):3} key strokes, median "
            f"{statistics.median(taken) * 1000:4.0f} ms, 19 of 20 within "
            f"{taken[len(taken) * 19 // 20] * 1000:4.0f} ms, slowest {taken[-1] * 1000:4.0f} ms; "
            f"processor {worked(file, before, line) * 1000:4.0f} ms\n"
        )
        await client.shutdown_async(None)
        client.exit(None)
        await client.stop()


if __name__ == "__main__":
    asyncio.run(main())
