"""This machine's own names and addresses on the network, and a free door to listen at."""

import contextlib
import errno
import socket

from breakwright.model.errors import ImpossibleValue

__all__ = ["bound_socket", "machine_names", "main_address"]


def main_address() -> str | None:
    """Return the address that other machines on the network reach; None where there is none.

    Nothing is sent: the address is what the system would send from.
    """
    for family, somewhere in (
        (socket.AF_INET, "192.0.2.1"),
        (socket.AF_INET, "10.255.255.255"),
    ):
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as probe:
                probe.connect((somewhere, 9))
                address = str(probe.getsockname()[0])
        except OSError:
            continue
        if not address.startswith("127.") and address != "0.0.0.0":
            return address
    return None


def machine_names() -> frozenset[str]:
    """Return the names and addresses by which others may call this machine, in lower case."""
    name = socket.gethostname().lower()
    names = {name, f"{name.partition('.')[0]}.local"}
    # A machine whose name nobody resolves is called by its address.
    with contextlib.suppress(OSError):
        names |= {str(found[4][0]).partition("%")[0] for found in socket.getaddrinfo(name, None)}
    main = main_address()
    return frozenset(names | ({main} if main else set()))


def bound_socket(host: str, port: int) -> socket.socket:
    """Return a socket that is this process's own. Raises ImpossibleValue where it is taken."""
    # With the protocol named: asyncio turns off Nagle's waiting on no other socket, and each
    # answer of two packets would wait 40 ms for the other side's acknowledgement.
    one = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        one.bind((host, port))
    except OSError as error:
        one.close()
        if error.errno == errno.EADDRINUSE:
            raise ImpossibleValue(
                f"port {port} is taken, perhaps by a Breakwright that runs already: open "
                f"http://127.0.0.1:{port}/ to see, or choose another with --port {port + 1}"
            ) from error
        if error.errno == errno.EACCES:
            raise ImpossibleValue(
                f"you may not listen at port {port}: choose one above 1023, such as --port 8321"
            ) from error
        raise ImpossibleValue(f"cannot listen at {host}, port {port}: {error.strerror}") from error
    one.set_inheritable(False)
    return one
