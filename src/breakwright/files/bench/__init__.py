"""Studies of the store as files, and files as studies of the store."""
