"""One file a rule; found by folder."""
