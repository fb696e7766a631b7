"""One file a word of the language; found by folder."""
