"""The rig as a graph of terminals, conductors and devices."""
