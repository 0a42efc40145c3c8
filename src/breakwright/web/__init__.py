"""Pages and a JSON API over one bench: parse, call a use case, render."""
