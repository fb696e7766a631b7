"""Rigs with solar modules on the roof, for what they do to switches, fuses, labels and orders."""

_ARRAY = (
    "2 modules in series, open circuit 24 V, short circuit 6 A, 110 W, works at 20 V, "
    "gains 0.3 % a degree colder, series fuse 10 A"
)
_FUSE = "fuse 10 A at Z1, rated 1000 V, interrupts 20 kA"
ROOF = f"""rig "Roof"
    system 12 V
    rules rv
    coldest -15 degC
battery B1 "Bank" agm, 100 Ah, internal 4 mohm
fuse F1 100 A, class-t, interrupts 20 kA, on B1+
busbar N1 100 A
busbar N2 100 A
array Y1 "Front" {_ARRAY}
array Y2 "Middle" {_ARRAY}
array Y3 "Rear" {_ARRAY}
splice Z1
disconnect S1 "Roof isolator" 32 A, rated 100 V
solar U1 "Controller" 50 A, input 100 V
wire F1 to N2 2 AWG red 1 ft
wire B1- to N1 6 AWG black 1 ft
wire Y1+ to Z1 12 AWG red 6 ft, {_FUSE}
wire Y2+ to Z1 12 AWG red 6 ft, {_FUSE}
wire Y3+ to Z1 12 AWG red 6 ft, {_FUSE}
wire Z1 to S1 8 AWG red 2 ft
wire S1 to U1.in 8 AWG red 9 ft
wire Y1- to U1.in- 12 AWG black 9 ft
wire Y2- to U1.in- 12 AWG black 9 ft
wire Y3- to U1.in- 12 AWG black 9 ft
wire U1+ to N2 4 AWG red 3 ft, fuse 70 A at N2, terminal-cube, interrupts 10 kA
wire U1- to N1 4 AWG black 3 ft
circuit N2 "Lamp" fuse 5 A
    wire 16 AWG blue 9 ft
    load "Lamp" 1 A
"""
"""Three strings behind fuses of their own, one isolator, one controller.

By hand: 48 V at 25 °C; at -15 °C 48 x (1 + 0.003 x 40) = 53.76 V.
"""
BARE_ROOF = ROOF.replace('disconnect S1 "Roof isolator" 32 A, rated 100 V\n', "").replace(
    "wire Z1 to S1 8 AWG red 2 ft\nwire S1 to U1.in", "wire Z1 to U1.in"
)
"""The same without an isolator."""
