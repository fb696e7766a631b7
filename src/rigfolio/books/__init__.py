"""Limit tables, every row with its source and status."""
