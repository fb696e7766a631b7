"""A type of trailer, whose one circuit has a fuse too large for its wire."""

FINCH = """\
rig "Finch" system 12 V, rules rv
battery B1 105 Ah, internal 10 mohm
fuse F1 40 A, class T
panel P1 6 slots of 20 A
wire B1+ to F1 6 AWG red 6 in
wire F1 to P1 6 AWG red 6 ft
wire P1- to B1- 6 AWG black 4 ft
circuit P1.2 "Pump" fuse 20 A
    wire 16 AWG yellow 3 ft
    load "Pump" 3 A
"""
