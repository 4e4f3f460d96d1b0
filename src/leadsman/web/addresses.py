"""Addresses of this machine on its local network."""

from __future__ import annotations

import ipaddress
import socket


def lan_address() -> str | None:
    """Address by which other devices on the network reach this machine; None if there is none.

    Nothing is sent: connecting a datagram socket only asks the system which of its addresses it
    would use. The destination is of a range set aside for documentation (RFC 5737).
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))
            found = probe.getsockname()[0]
        except OSError:
            return None
    address = ipaddress.ip_address(found)
    return None if address.is_loopback or address.is_unspecified else str(address)


def free_port(wanted: int, host: str) -> int | None:
    """The wanted port, or one of the next ten if it is taken; None if all are.

    Parameters
    ----------
    wanted : int
        Port to try first; 0 takes any [-].
    host : str
        Address to listen on [-].
    """
    for port in range(wanted, wanted + 11) if wanted else (0,):
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
            except OSError:
                continue
            return int(probe.getsockname()[1])
    return None
