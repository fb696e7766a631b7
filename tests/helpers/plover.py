"""A small rig with one hazard, for tests that type into a text: a 20 A fuse on 16 AWG."""

PLOVER = """\
rig "Plover"
    system 12 V
    rules rv
battery B1 "House" flooded, 105 Ah, internal 10 mohm
fuse F1 "Main" 50 A, interrupts 10 kA
panel P1 "Galley" 6 slots of 20 A
busbar N1 100 A
wire B1+ to F1 6 AWG red 10 in
wire F1 to P1 6 AWG red 3 ft
wire N1 to B1- 6 AWG white 9 ft
circuit P1.1 "Lights" fuse 7.5 A
    wire 14 AWG red 18 ft
    load "Lamp" 8 W
circuit P1.2 "Fan" fuse 20 A
    wire 16 AWG red 14 ft
    load "Fan" 2 A
"""
