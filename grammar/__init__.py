"""The grammar of rig files, carried into the wheel."""
