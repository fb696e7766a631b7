"""Rigs fed by a plug from a vehicle, and one whose panel hangs behind a relay."""

TOW = """rig "Wagon"
    system 12 V
    rules rv
battery B1 100 Ah
busbar N2
busbar N1
vehicle V1 "Truck"
connector J1 4 pins
wire B1+ to N2 6 AWG 2 ft, fuse 60 A at B1+
wire B1- to N1 6 AWG 2 ft
wire W16 V1+ to J1.1 10 AWG 20 ft, fuse 20 A at V1+
wire W17 J1.1 to N2 10 AWG 12 ft, fuse 20 A at N2
wire W18 V1- to J1.2 10 AWG 20 ft
wire W19 J1.2 to N1 10 AWG 12 ft
wire W20 V1+ to J1.3 16 AWG 20 ft, fuse 7.5 A at V1+
wire W21 J1.3 to L1+ 16 AWG 20 ft
load L1 "Marker lamps" 10 W
wire L1- to N1 16 AWG 2 ft
"""
BY_PLUG = """rig "T"
    system 12 V
battery B3 "Vehicle battery" 80 Ah, agm, internal 6 mohm
battery B1 "House" 105 Ah, flooded, internal 8 mohm
connector J1 2 pins of 50 A
wire B3+ to J1.1 4 AWG red 18 ft, fuse 50 A class T at B3+
wire B3- to J1.2 4 AWG black 18 ft
dc-dc D1 "Drive charger" 30 A, draws 40 A
wire J1.1 to D1.in 4 AWG red 3 ft
wire J1.2 to D1- 4 AWG black 3 ft
disconnect S1 100 A
panel P1 6 slots of 30 A
busbar N1 100 A
wire B1+ to S1 4 AWG red 1 ft, fuse 60 A class T at B1+
wire S1 to P1 4 AWG red 3 ft
wire D1.out to P1 4 AWG red 3 ft, fuse 40 A class T at P1
wire D1- to N1 4 AWG black 3 ft
wire N1 to B1- 4 AWG black 3 ft
circuit P1.1 "Pump" fuse 10 A, interrupts 2 kA
    wire 14 AWG red 9 ft
    load "Pump" 7 A
"""
RELAY = """
rig "Relay"
    system 12 V
battery B1 flooded, 105 Ah, internal 8 mohm
panel P1 6 slots of 30 A
panel P2 6 slots of 30 A
busbar N1 100 A
wire B1+ to P2 6 AWG red 3 ft, fuse 50 A class T at B1+
wire N1 to B1- 6 AWG black 3 ft
relay K1 "Main relay" 100 A, rests open
wire P2 to K1 6 AWG red 1 ft
wire K1 to P1 6 AWG red 1 ft
circuit P2.1 "Main relay coil" fuse 2 A
    wire 18 AWG blue 5 ft
    load "Main relay coil" 0.2 A
circuit P1.1 "Compressor" fuse 30 A
    wire 10 AWG red 9 ft
    load "Compressor" 25 A, motor, intermittent
circuit P1.2 "Lights" fuse 5 A
    wire 16 AWG red 9 ft
    load "Strip" 24 W, led
"""
