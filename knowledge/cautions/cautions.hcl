# Usual cautions of the trade. None replaces the maker's service procedure, local
# rules and licensed practice, which come first everywhere: every screen with a
# caution ends with that sentence, so it is not repeated in each text.
language = 1
basis "common practice" {
  note = "no numbers of our own; published limits name their source in the text"
}

caution "supports" {
  text = "Vehicle on a lift or on stands rated for it, on level ground; never under a jack alone."
}

caution "chocks" {
  text = "Wheels chocked, parking brake on, before a range is selected or a linkage unhooked."
}

caution "park_test" {
  text = "Engine off, level ground, a block a hand's width in front of and behind a wheel, somebody at the service brake, nobody between the vehicle and a wall. Do not count on P: parking brake on and all wheels blocked before anyone goes underneath."
}

caution "hot_fluid" {
  text = "Fluid and pan burn skin at working temperature: let them cool, wear gloves and sleeves, keep a drip tray and rags at hand."
}

caution "running_vehicle" {
  text = "Engine running: all wheels chocked, both brakes on, nobody in front or behind, hair and sleeves away from fan, belts and shafts."
}

caution "stall_test" {
  text = "Full throttle no longer than 5 seconds, more than one minute of idling in N between runs, fluid at working temperature, all four wheels chocked, parking and service brake on, nobody in front of the vehicle (published: stall test page in the service information of a 5-speed transaxle). Stop at once if the rpm runs past its limit. No stall test on a transmission known to slip, with burnt or low fluid, low line pressure or a doubtful brake, or where the maker forbids it."
}

caution "road_test" {
  text = "Road test with two people, one drives and one writes; only with brakes, steering and tires in good order, on a road that allows it."
}

caution "pressure_gauge" {
  text = "Gauge and hose rated well above the highest pressure in R; hose routed away from exhaust and shafts; engine off when it is screwed in."
}

caution "air_check" {
  text = "Regulated dry air at the pressure that the manual of this unit states. Two published manuals differ: TM 9-2320-280-34 allows at most 50 psi (345 kPa) on its three-speed, TM 9-2320-387-24-2 at most 80 psi (552 kPa) on its four-speed; neither speaks for another unit. Without a figure begin low. Eye protection, fingers away from pistons, rag over the hole: oil sprays."
}

caution "eyes" {
  text = "Eye protection: springs, snap rings, air and solvent fly."
}

caution "stored_energy" {
  text = "Springs under servo covers, accumulators and clutch retainers are loaded: hold with the right compressor, release slowly, face away."
}

caution "solvents" {
  text = "Solvent and lining dust: ventilation, gloves, no flame; wipe or wet dust, never blow it off."
}

caution "heavy_unit" {
  text = "The unit is heavy and slides off its dowels: transmission jack with a chain, converter held in its housing, two people."
}

caution "battery" {
  text = "Disconnect the battery, negative post first, before starter, harness or cover come off; note codes and learned values before that. No sparks near a charging battery."
}

caution "scan_parked" {
  text = "Tool connected and read while parked, P and parking brake on; on the road only with a second person reading."
}

caution "exhaust_gas" {
  text = "Vent the exhaust outdoors before the engine runs inside."
}

caution "electric_test" {
  text = "High-impedance meter, no test lamp on a controller's wires; coils only with their connector off."
}

caution "turning_shaft" {
  text = "Nobody under the vehicle, and no hand near it, while a wheel, axle or drive shaft can turn: look from beside it. Wheels chocked, service brake held by a second person, engine off before anyone goes under."
}

caution "unplugged_drive" {
  text = "Read and save codes, freeze frame and adaptations first: the unplugged drive sets codes of its own. Line pressure is at its maximum, so engagement and shifts are harsh: light throttle, short distance, no load."
}

caution "coil_current" {
  text = "Current-limited supply, half a second at a time, and only on shift and converter clutch solenoids that the maker tests with battery voltage. Never battery voltage on a pressure control solenoid: at 3.5 ohm it draws over 3 A and burns out; measure its resistance or command it with the scan tool."
}
