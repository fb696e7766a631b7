"""A hut with one lamp on a panel, to which a test adds what it is about."""

HUT = """\
rig "Hut"
    system 12 V
    rules rv
battery B1 flooded, 100 Ah, internal 10 mohm
fuse F1 50 A, interrupts 10 kA on B1+
panel P1 4 slots of 20 A, negative N1
busbar N1 100 A
wire F1.load to P1 6 AWG red 2 ft
wire N1 to B1- 6 AWG black 4 ft
circuit P1.1 "Lamp" fuse 7.5 A
    wire 14 AWG red 9 ft
    load "Lamp" 1 A
"""
