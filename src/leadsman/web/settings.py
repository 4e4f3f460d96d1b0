"""What the server was started with."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

LOOPBACK_NAMES = ("localhost", "127.0.0.1", "[::1]")
"""Names by which a browser on this machine may call the server."""

MAX_BODY_BYTES = 256 * 1024
"""Largest body of a request unless an address allows more [byte]."""


@dataclass(frozen=True, slots=True)
class ServerSettings:
    """What the server was started with.

    Parameters
    ----------
    kit : pathlib.Path or None
        Kit file; None takes ``kit.toml`` in the folder, else the demo kit [-].
    hosts : tuple of str
        Names and addresses, without a port, by which the server may be called [-].
    port : int or None
        Port that must stand in the Host header; None does not check it [-].
    paired : bool
        Whether devices other than this machine must pair first [-].
    """

    kit: Path | None = None
    hosts: tuple[str, ...] = field(default=LOOPBACK_NAMES)
    port: int | None = None
    paired: bool = False

    def allows_host(self, host: str) -> bool:
        """Whether a Host header, or the host of an Origin, is one of ours.

        Parameters
        ----------
        host : str
            Name or address with its port, as in the header [-].
        """
        names = {name.casefold() for name in self.hosts}
        host = host.strip().casefold()
        if self.port is None:
            return _without_port(host) in names
        allowed = {f"{name}:{self.port}" for name in names}
        return host in (allowed | names if self.port == 80 else allowed)


def _without_port(host: str) -> str:
    name, colon, port = host.rpartition(":")
    return name if colon and port.isdigit() else host
