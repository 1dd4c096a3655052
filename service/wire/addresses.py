"""Where a request comes from; a proxy is believed only where the settings name its network."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from ipaddress import ip_address, ip_network
from typing import Any

_MOST_HOPS = 16


def address_finder(networks: tuple[str, ...]) -> Callable[[Mapping[str, Any]], str]:
    """What tells the address of a request's caller.

    networks: of the proxies that write X-Forwarded-For, as in 10.0.0.0/8; none: the header is not read.
    """
    trusted = [ip_network(network) for network in networks]

    @lru_cache(maxsize=1024)
    def is_proxy(address: str) -> bool:
        found = ip_address(address)
        return any(found in network for network in trusted)

    def address_of(environ: Mapping[str, Any]) -> str:
        peer = str(environ.get("REMOTE_ADDR") or "unknown")
        forwarded = environ.get("HTTP_X_FORWARDED_FOR") if trusted else None
        if not forwarded:
            return peer
        nearest = peer
        try:
            for entry in (peer, *reversed(forwarded.split(",")[-_MOST_HOPS:])):
                nearest = entry.strip()
                if not is_proxy(nearest):
                    return str(ip_address(nearest))
        except ValueError:
            return peer
        return nearest

    return address_of
