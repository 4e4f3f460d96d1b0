"""Addresses of this machine."""

from __future__ import annotations

import ipaddress
import socket

from leadsman.web.addresses import free_port, lan_address


def test_the_lan_address_is_one_that_others_can_reach() -> None:
    found = lan_address()
    if found is not None:
        address = ipaddress.ip_address(found)
        assert not address.is_loopback and not address.is_unspecified


def test_a_taken_port_gives_the_next() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        found = free_port(port, "127.0.0.1")
        assert found is None or port < found <= port + 10
    assert (free_port(0, "127.0.0.1") or 0) > 0
