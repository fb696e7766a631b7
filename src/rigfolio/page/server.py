"""The page served to a browser on this computer, and to nobody else.

It listens on the loopback alone. An address holds a token that nobody can guess; a request has to
name this very host, and where it says which page it comes from, that has to be ours. Nothing is
read from a disk by what a request says: there is the page and its stream of renewals, which is
plain server-sent events.
"""

import json
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hmac import compare_digest
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from secrets import token_urlsafe
from threading import Event, Thread
from urllib.parse import parse_qs, urlsplit

from rigfolio.page.desk import Renewal, WatchedRig
from rigfolio.page.document import policy_of
from rigfolio.record import record

LOOPBACK = "127.0.0.1"
_NAMES = (LOOPBACK, "localhost")
_PATIENCE_S = 15.0
"""How long a stream says nothing before it shows that it is there [s]."""
_SLOWEST_S = 30.0
"""How long a request may take to arrive [s]."""


@record
class Address:
    """Where the page is served, and a wait for its end."""

    url: str
    stop: Event

    def wait(self) -> None:
        """Wait until somebody stops the program."""
        with suppress(KeyboardInterrupt):
            # In pieces, so that Ctrl-C is heard on every system.
            while not self.stop.wait(0.5):
                pass


@contextmanager
def served(desk: WatchedRig) -> Iterator[Address]:
    """Serve a page as long as the block lasts; gives its address."""
    stop = Event()
    server = _Server(desk, token_urlsafe(24))
    looking = Thread(target=desk.run, args=(stop,), daemon=True)
    serving = Thread(target=server.serve_forever, daemon=True)
    looking.start()
    serving.start()
    try:
        yield Address(f"http://{LOOPBACK}:{server.server_port}/{server.token}/", stop)
    finally:
        stop.set()
        looking.join()
        server.shutdown()
        server.server_close()


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False

    def __init__(self, desk: WatchedRig, token: str) -> None:
        super().__init__((LOOPBACK, 0), _Handler)
        self.desk, self.token = desk, token

    @property
    def hosts(self) -> tuple[str, ...]:
        """By what names a request may call this host."""
        return tuple(f"{name}:{self.server_port}" for name in _NAMES)

    def handle_error(self, request: object, client_address: object) -> None:
        """Say nothing of browsers that went away."""


class _Handler(BaseHTTPRequestHandler):
    server: _Server
    server_version = "rigfolio"
    sys_version = ""
    timeout = _SLOWEST_S

    def do_GET(self) -> None:
        """Give the page, or the stream of its renewals."""
        parts = urlsplit(self.path)
        if not self._is_from_here():
            self._refuse(HTTPStatus.FORBIDDEN)
        elif self._is(parts.path, ""):
            self._page()
        elif self._is(parts.path, "events"):
            self._stream(parts.query)
        else:
            self._refuse(HTTPStatus.NOT_FOUND)

    def _is(self, path: str, name: str) -> bool:
        wanted = f"/{self.server.token}/{name}"
        return compare_digest(path.encode(errors="replace"), wanted.encode())

    def _is_from_here(self) -> bool:
        """Whether a request names this host, and comes from no other page than ours."""
        hosts = self.server.hosts
        origin = self.headers.get("Origin")
        is_ours = origin is None or origin in {f"http://{host}" for host in hosts}
        is_near = self.headers.get("Sec-Fetch-Site", "none") in ("none", "same-origin")
        return (
            self.headers.get_all("Host", []) in [[host] for host in hosts] and is_ours and is_near
        )

    def _page(self) -> None:
        self._head(HTTPStatus.OK, "text/html; charset=utf-8")
        self.wfile.write(self.server.desk.html().encode())

    def _stream(self, query: str) -> None:
        """Renewals behind the number that the page has, one event each, until it goes away."""
        self._head(HTTPStatus.OK, "text/event-stream; charset=utf-8")
        number = self._number(query)
        with suppress(OSError):
            self.wfile.write(b"retry: 1000\n\n")
            while not self.server.desk.is_stopped:
                renewal = self.server.desk.since(number, _PATIENCE_S)
                self.wfile.write(b": here\n\n" if renewal is None else _event(renewal))
                self.wfile.flush()
                number = number if renewal is None else renewal.number

    def _number(self, query: str) -> int:
        said = self.headers.get("Last-Event-ID") or "".join(parse_qs(query).get("since", [])[:1])
        return int(said) if said.isascii() and said.isdigit() and len(said) < 16 else 0

    def _refuse(self, status: HTTPStatus) -> None:
        self._head(status, "text/plain; charset=utf-8")
        self.wfile.write(f"{status.phrase}\n".encode())

    def _head(self, status: HTTPStatus, kind: str) -> None:
        self.send_response(status)
        for name, value in (
            ("Content-Type", kind),
            ("Content-Security-Policy", f"{policy_of(at_desk=True)}; frame-ancestors 'none'"),
            ("X-Content-Type-Options", "nosniff"),
            ("Referrer-Policy", "no-referrer"),
            ("Cross-Origin-Resource-Policy", "same-origin"),
            ("Cross-Origin-Opener-Policy", "same-origin"),
            ("Cache-Control", "no-store"),
        ):
            self.send_header(name, value)
        self.end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Print nothing: a terminal is for the person at it."""


def _event(renewal: Renewal) -> bytes:
    told = {
        "number": renewal.number,
        "sections": dict(renewal.sections),
        "told": dict(renewal.told),
        "state": renewal.state,
    }
    text = json.dumps(told, ensure_ascii=True, allow_nan=False)
    return f"id: {renewal.number}\nevent: renewed\ndata: {text}\n\n".encode()
