"""A bilge pump that must stay on, at a place and with a draw that are left open."""

PUMP = """rig "Pump"
    system 24 V
    rules boat
battery B1 agm, 180 Ah
disconnect S1 100 A
panel P1 4 slots of 30 A
busbar N1 200 A
wire B1+ to S1 16 mm2 red 1 m, fuse 80 A at B1+
wire S1 to P1 16 mm2 red 2 m
wire N1 to B1- 16 mm2 black 1 m
circuit {} "Bilge pump" fuse 5 A, always on
    wire 1.5 mm2 brown 5 m
    load "Bilge pump" {}, always on
circuit P1.2 "Lamp" fuse 5 A
    wire 1.5 mm2 brown 5 m
    load "Lamp" 3 A
"""
