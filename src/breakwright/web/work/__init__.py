"""Long work in processes of its own: the server stays small, and a page never waits for it."""
