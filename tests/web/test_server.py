"""The port that the web server listens on."""

from __future__ import annotations

import asyncio
import socket

from nextpair.web.address import Address
from nextpair.web.server import listen


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        return taken.getsockname()[1]


async def nodelay_of_a_visit(listening: socket.socket, port: int) -> int:
    """What the server's end of a connection has for TCP_NODELAY."""
    met = asyncio.get_running_loop().create_future()

    async def meet(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        taken = writer.get_extra_info("socket")
        met.set_result(taken.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
        writer.close()

    async with await asyncio.start_server(meet, sock=listening):
        _, writer = await asyncio.open_connection("127.0.0.1", port)
        found = await met
        writer.close()
        await writer.wait_closed()
    return found


def test_an_answers_last_piece_waits_for_nobody():
    port = free_port()
    assert asyncio.run(nodelay_of_a_visit(listen(Address(port=port)), port)) != 0
