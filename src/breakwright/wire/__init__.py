"""Load cells on a wire: ports, standard input, and the way to a running server."""
