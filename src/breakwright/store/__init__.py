"""Where events are kept: SQLite, PostgreSQL, and memory for trying things out."""
