"""A wagon behind a vehicle: the charging line and the lamps come by one plug."""

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
