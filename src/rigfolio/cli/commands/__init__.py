"""One file a command; found by folder."""
