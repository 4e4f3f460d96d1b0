"""Runs the server until it is stopped."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from leadsman.errors import InputError
from leadsman.usecases.resolve_setup import load_kit
from leadsman.usecases.warmup import warm_up
from leadsman.web.addresses import free_port, lan_address
from leadsman.web.app import make_app
from leadsman.web.pairing import Pairing, shown
from leadsman.web.settings import LOOPBACK_NAMES, ServerSettings

DEFAULT_PORT = 8331
"""Port unless told; in the range that any program may use [-]."""


@dataclass(frozen=True, slots=True)
class ServeQuestion:
    """How to serve.

    Parameters
    ----------
    kit : pathlib.Path or None
        Kit file [-].
    port : int
        Port to try first; 0 takes any [-].
    lan : bool
        Whether other devices on the network may pair [-].
    """

    kit: Path | None = None
    port: int = DEFAULT_PORT
    lan: bool = False


@dataclass(frozen=True, slots=True)
class Invitation:
    """What another device needs.

    Parameters
    ----------
    url : str
        Address with the code in it, for a QR code [-].
    address : str
        Address to type [-].
    code : str
        Code to type there [-].
    """

    url: str
    address: str
    code: str


def serve(
    question: ServeQuestion,
    on_ready: Callable[[str], None],
    on_invitation: Callable[[Invitation], None],
) -> None:
    """Serve until stopped.

    Parameters
    ----------
    question : ServeQuestion
        How to serve [-].
    on_ready : callable
        Told the address on this machine once it answers [-].
    on_invitation : callable
        Told what another device needs, again for every new code [-].

    Raises
    ------
    InputError
        The kit cannot be read, no port is free, or there is no network.
    """
    load_kit(question.kit)
    kit = question.kit.absolute() if question.kit is not None else None
    address = lan_address() if question.lan else None
    if question.lan and address is None:
        raise InputError("this machine is on no network", "--lan", "Join one, or leave --lan away")
    host = "0.0.0.0" if question.lan else "127.0.0.1"
    port = free_port(question.port, host)
    if port is None:
        raise InputError(
            f"ports {question.port} to {question.port + 10} are taken", "--port", "Give another"
        )
    pairing = Pairing(
        None if address is None else lambda code: on_invitation(_invitation(address, port, code))
    )
    hosts = LOOPBACK_NAMES if address is None else (*LOOPBACK_NAMES, address)
    app = make_app(ServerSettings(kit, hosts, port, paired=question.lan), pairing)
    server = _Server(
        uvicorn.Config(
            app,
            host=host,
            port=port,
            log_level="warning",
            access_log=False,
            server_header=False,
            # Who asks is the socket's own word, never a header's.
            proxy_headers=False,
            timeout_graceful_shutdown=3,
            h11_max_incomplete_event_size=32 * 1024,
        )
    )
    warm_up()  # nothing is compiled while a page waits
    server.on_ready = lambda: on_ready(f"http://localhost:{port}/")
    server.run()


def _invitation(address: str, port: int, code: str) -> Invitation:
    base = f"http://{address}:{port}/"
    # After the # it is never sent, so it stands in no log.
    return Invitation(f"{base}#/pair/{code}", base, shown(code))


class _Server(uvicorn.Server):
    on_ready: Callable[[], None] = staticmethod(lambda: None)

    async def startup(self, sockets: list[object] | None = None) -> None:  # type: ignore[override]
        await super().startup(sockets)  # type: ignore[arg-type]
        if self.started:
            self.on_ready()
