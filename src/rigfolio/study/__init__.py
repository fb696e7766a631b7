"""Whole-rig results, each computed once."""
