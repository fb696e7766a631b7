"""One file a printed sheet; found by folder."""
