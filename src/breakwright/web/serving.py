"""From what was asked on the command line to a running server, and its plain words."""

import contextlib
import datetime as dt
import gc
import signal
import socket
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Any

import uvicorn

from breakwright.bootstrap.bench import (
    Opened,
    migrate,
    open_bench,
    shown_address,
)
from breakwright.web.app import served
from breakwright.web.devices import enter_address
from breakwright.web.doors.certificate import Certificate, given_certificate, kept_certificate
from breakwright.web.doors.guard import Doors
from breakwright.web.doors.token import kept_token
from breakwright.web.network import machine_names, main_address
from breakwright.web.news import News
from breakwright.web.services import Services
from breakwright.web.work.hands import Workers

__all__ = ["Wish", "serve"]

# Event streams end at once when the server stops; a film's part is given so long.
_GRACE_S = 2


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for on the command line."""

    store: str | None
    migrate: bool
    demo: bool
    browser: bool
    lan: bool
    new_token: bool
    https: bool
    certificate: Path | None
    key: Path | None


def serve(one: socket.socket, wish: Wish, *, say: Callable[[str], None]) -> None:
    """Serve at the socket ``one``, bound already, until Ctrl-C or SIGTERM. Raises what the store
    raises where it cannot be opened, and ImpossibleValue for a certificate that does not fit."""
    if wish.migrate and wish.store is not None:
        migrate(wish.store)
    opened = open_bench(wish.store)
    try:
        news = News(opened.store.last)
        hands = Workers(opened.url, opened.folder, jobs=opened.jobs)
        services = Services(opened.bench, opened.jobs, opened.folder, listeners=news, hands=hands)
        scheme, port = ("https" if wish.https else "http"), int(one.getsockname()[1])
        doors = _doors(wish, opened, scheme=scheme, port=port)
        certificate = _certificate(wish, opened, doors)
        local = f"{scheme}://127.0.0.1:{port}"
        first = f"{local}{_demo_path(services)}" if wish.demo else f"{local}/"

        def started() -> None:
            store = shown_address(opened.url)
            _say_where(say, first=first, store=store, doors=doors, tls=certificate)
            if wish.browser:
                import webbrowser

                webbrowser.open(first)

        config = uvicorn.Config(
            served(services, doors),
            loop="asyncio",
            http="h11",
            ws="none",
            lifespan="on",
            log_level="warning",
            access_log=False,
            server_header=False,
            # A header must not be able to say that somebody else is this machine.
            proxy_headers=False,
            timeout_graceful_shutdown=_GRACE_S,
            ssl_certfile=None if certificate is None else str(certificate.certificate),
            ssl_keyfile=None if certificate is None else str(certificate.key),
        )
        hands.start()
        try:
            _Server(config, started=started, stopping=news.close).run(sockets=[one])
        finally:
            hands.stop()
    finally:
        opened.store.close()
    say("Stopped. Every reading that was acknowledged is kept.")


class _Server(uvicorn.Server):
    """Says when it is ready, and ends the event streams as soon as it is told to stop."""

    def __init__(
        self, config: uvicorn.Config, *, started: Callable[[], None], stopping: Callable[[], None]
    ) -> None:
        super().__init__(config)
        self._say_started = started
        self._stopping = stopping

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        # What is loaded by now stays: there is nothing in it for the collector to find.
        gc.freeze()
        gc.enable()
        if not self.should_exit:
            self._say_started()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self._stopping()
        super().handle_exit(sig, frame)

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        # Being told to stop is how a server ends, not a failure: the signal is not raised again.
        before = {s: signal.signal(s, self.handle_exit) for s in (signal.SIGINT, signal.SIGTERM)}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)


def _doors(wish: Wish, opened: Opened, *, scheme: str, port: int) -> Doors:
    if not wish.lan:
        return Doors()
    address = main_address()
    return Doors(
        names=machine_names(),
        token=kept_token(opened.folder, anew=wish.new_token),
        address=None if address is None else f"{scheme}://{address}:{port}",
    )


def _certificate(wish: Wish, opened: Opened, doors: Doors) -> Certificate | None:
    if not wish.https:
        return None
    if wish.certificate is not None and wish.key is not None:
        return given_certificate(wish.certificate, wish.key)
    return kept_certificate(opened.folder, doors.names, dt.datetime.now(dt.UTC))


def _demo_path(services: Services) -> str:
    """Return the demo study's page, after putting the study there if it is not."""
    from breakwright.web.demo_study import see_to_demo

    return f"/s/{see_to_demo(services)}/answer"


def _say_where(
    say: Callable[[str], Any],
    *,
    first: str,
    store: str,
    doors: Doors,
    tls: Certificate | None,
) -> None:
    say(f"Breakwright is at   {first}")
    say(f"The store lies in   {store}")
    if tls is not None:
        say(f"Certificate         {tls.certificate}")
        say(f"Its SHA-256         {tls.fingerprint}")
    enter = enter_address(doors)
    if enter is not None:
        say(f"Other devices       {enter}")
        say("                    (whoever has this address can see and write everything)")
        say(_code(enter))
    elif doors.token is not None:
        say("No network was found, so there is no address for other devices yet.")
    say("To stop             Ctrl-C")


def _code(text: str) -> str:
    """Return ``text`` as a QR code made of characters."""
    import io

    import segno

    out = io.StringIO()
    segno.make(text, error="l", micro=False).terminal(out, compact=True)
    return out.getvalue().rstrip("\n")
