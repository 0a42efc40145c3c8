"""Films of a study: brought here, marked, read, looked through, taken as readings."""
