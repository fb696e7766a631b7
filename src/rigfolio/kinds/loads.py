"""What the nature of a load says of it."""

CAPACITIVE = {"inverter": True, "electronics": False}
"""Natures of loads with capacitors ahead of their switch, and whether these keep volts long."""
