"""The JSON API for scripts and for the pages' own scripts: same rules, same checks."""
