"""Formulas: floats in, floats out; they know no rig and no text."""
