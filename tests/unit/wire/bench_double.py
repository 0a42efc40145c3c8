"""A tiny server in place of the real one: keeps events by id, and can be made to fail."""

import json
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

STUDY = "5" * 32
PIECES = ("A1", "A2", "A3")


def piece_id(label: str) -> str:
    return f"{PIECES.index(label) + 1:032x}"


class BenchDouble:
    """``fail`` is a status for all that changes something; ``lose`` keeps an event and drops the
    answer, once. ``port`` None takes a free one."""

    def __init__(self, port: int = 0, *, instruments: list[dict[str, Any]] | None = None) -> None:
        self.events: dict[str, dict[str, Any]] = {}
        self.traces: dict[str, str] = {}
        self.tokens: list[str | None] = []
        self.fail: int | None = None
        self.lose = False
        self.instruments = instruments or []
        self.sharing: str | None = None
        double = self

        class Handler(BaseHTTPRequestHandler):
            def log_message(self, *arguments: object) -> None:
                return

            def do_GET(self) -> None:
                double.answer(self, b"")

            def do_POST(self) -> None:
                double.answer(self, self.rfile.read(int(self.headers["content-length"])))

        self._server = ThreadingHTTPServer(("127.0.0.1", port), Handler)
        self.port = self._server.server_address[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self._thread = threading.Thread(
            target=self._server.serve_forever, args=(0.02,), daemon=True
        )
        self._thread.start()

    def close(self) -> None:
        self._server.shutdown()
        self._thread.join()
        self._server.server_close()

    def answer(self, handler: BaseHTTPRequestHandler, body: bytes) -> None:
        self.tokens.append(handler.headers.get("authorization"))
        path, _, query = handler.path.partition("?")
        if handler.command == "POST" and self.fail is not None:
            status = self.fail
            form: dict[str, Any] = {
                "problems": [{"code": "made-up", "message": "it is made to fail", "do": "Wait."}]
            }
        else:
            status, form = self._form(handler.command, path, query, body)
        if self.lose and path.endswith("/events"):
            self.lose = False
            handler.connection.close()
            return
        text = json.dumps(form).encode()
        handler.send_response(status)
        handler.send_header("content-type", "application/json")
        handler.send_header("content-length", str(len(text)))
        handler.end_headers()
        handler.wfile.write(text)

    def _form(self, method: str, path: str, query: str, body: bytes) -> tuple[int, dict[str, Any]]:
        if path == "/api/v1/studies":
            return 200, {"studies": [{"handle": "pegs", "shelved": False}]}
        if path == "/api/v1/events":
            (event,) = json.loads(body)["events"]
            known = self.events.get(event["id"])
            if known is not None and known != event:
                return 409, {"problems": [{"message": "another event has this id"}]}
            self.events[event["id"]] = event
            return 200, {"new": [] if known else [len(self.events)], "known": int(bool(known))}
        if path.endswith("/understand"):
            return 200, {"steps": [f"shown {json.loads(body)['entry']['loads'][0]}"], "remarks": []}
        if path.endswith("/traces"):
            self.traces[query] = body.decode()
            return 200, {"new": [1], "known": 0, "media": "x.csv"}
        if path.removeprefix("/api/v1/studies/") in ("pegs", STUDY):
            return 200, self._study()
        return 404, {"problems": [{"message": "there is no such study"}]}

    def _study(self) -> dict[str, Any]:
        read = {
            event["body"]["piece"] if "body" in event else event["piece"] for event in self._all()
        }
        return {
            "id": STUDY,
            "handle": "pegs",
            "title": "Pegs",
            "unit": "N",
            "sharing": self.sharing,
            "instruments": self.instruments,
            "pieces": [
                {
                    "id": piece_id(label),
                    "label": label,
                    "group": "plain",
                    "standing": "read" if piece_id(label) in read else "waiting",
                }
                for label in PIECES
            ],
        }

    def _all(self) -> list[dict[str, Any]]:
        return list(self.events.values())

    def loads(self) -> dict[str, str]:
        """Return what was read of each piece, by label."""
        found = {}
        for event in self._all():
            body = event.get("body", event)
            found[PIECES[int(body["piece"], 16) - 1]] = body["entry"]["loads"][0]
        return found
