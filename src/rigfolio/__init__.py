"""Low-voltage DC fuse panels from one text file."""
