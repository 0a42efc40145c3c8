"""``breakwright serve``: the pages and the API, from this machine."""

import gc
from pathlib import Path

import click

__all__ = ["command"]

_PORT = 8321


@click.command("serve")
@click.option(
    "--port",
    metavar="NUMBER",
    default=_PORT,
    show_default=True,
    type=click.IntRange(0, 65535),
    help="Where to listen; 0 takes any free port.",
)
@click.option(
    "--store",
    metavar="URL",
    help="Another store: a file, or "
    "postgresql+psycopg://… for a class or club. Without it: a file of your own.",
)
@click.option(
    "--migrate", is_flag=True, help="Bring a PostgreSQL store of an older version up to date first."
)
@click.option("--demo", is_flag=True, help="Put the demo study there and say its address.")
@click.option("--open", "wants_browser", is_flag=True, help="Open the browser.")
@click.option("--lan", is_flag=True, help="Let phones and tablets on the network in, by a code.")
@click.option("--new-token", is_flag=True, help="Shut out the devices let in so far (with --lan).")
@click.option(
    "--https", "wants_https", is_flag=True, help="Encrypt, with a certificate made on first use."
)
@click.option(
    "--certificate",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Encrypt with a certificate of yours (PEM).",
)
@click.option("--key", metavar="FILE", type=click.Path(path_type=Path), help="Its key (PEM).")
def command(
    *,
    port: int,
    store: str | None,
    migrate: bool,
    demo: bool,
    wants_browser: bool,
    lan: bool,
    new_token: bool,
    wants_https: bool,
    certificate: Path | None,
    key: Path | None,
) -> None:
    """Serve the pages: prepare, break, see the answer.

    Only this machine gets in, unless --lan is given. Ctrl-C stops the server; every reading it
    has acknowledged is on the disk.
    """
    if (certificate is None) != (key is None):
        raise click.UsageError("--certificate and --key belong together: give both or none.")
    if new_token and not lan:
        raise click.UsageError("--new-token changes what --lan prints: give --lan too.")
    if migrate and store is None:
        raise click.UsageError("--migrate is for a shared store: say which with --store.")
    from breakwright.web.network import bound_socket

    with bound_socket("0.0.0.0" if lan else "127.0.0.1", port) as one:
        # Loading makes many objects and no garbage; looking for it takes a sixth of the time
        # until the first page. The server turns it on again once it is up.
        gc.disable()
        try:
            # After the port is known to be free: what follows takes half a second to load.
            from breakwright.web.serving import Wish, serve

            wish = Wish(
                store=store,
                migrate=migrate,
                demo=demo,
                browser=wants_browser,
                lan=lan,
                new_token=new_token,
                https=wants_https or certificate is not None,
                certificate=certificate,
                key=key,
            )
            serve(one, wish, say=click.echo)
        finally:
            gc.enable()
