"""The files room: sheets and study folders in, strictly read; finished files out, in one piece."""
