"""The command line: parse, call what ``bootstrap`` wires together, show, give an exit status."""
