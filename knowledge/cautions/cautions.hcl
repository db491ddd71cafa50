# Usual cautions of the trade. None replaces the maker's service procedure, local
# rules and licensed practice, which come first everywhere.
language = 1
basis "common practice" {
  note = "no numbers of our own; published limits name their source in the text"
}

caution "supports" {
  text = "Vehicle on a lift or on stands rated for it, on level ground; never under a jack alone. The maker's service procedure, local rules and licensed practice come first."
}

caution "chocks" {
  text = "Wheels chocked, parking brake on, before a range is selected or a linkage unhooked. The maker's service procedure, local rules and licensed practice come first."
}

caution "hot_fluid" {
  text = "Fluid and pan burn skin at working temperature: let it cool, wear gloves and sleeves, keep a drip tray and rags at hand. The maker's service procedure, local rules and licensed practice come first."
}

caution "running_vehicle" {
  text = "Engine running: all wheels chocked, both brakes on, nobody in front or behind, hair and sleeves away from fan, belts and shafts. The maker's service procedure, local rules and licensed practice come first."
}

caution "stall_test" {
  text = "Full throttle no longer than 5 seconds, more than one minute of idling in N between runs, fluid at working temperature, all four wheels chocked, parking and service brake on, nobody in front of the vehicle (published: stall test page in the service information of a 5-speed transaxle). Stop at once if the rpm runs past its limit. No stall test with low line pressure, low fluid or a doubtful brake, or where the maker forbids it. The maker's service procedure, local rules and licensed practice come first."
}

caution "road_test" {
  text = "Road test with two people, one drives and one writes; only with brakes, steering and tyres in order, on a road that allows it. The maker's service procedure, local rules and licensed practice come first."
}

caution "pressure_gauge" {
  text = "Gauge and hose rated well above the highest pressure in R; hose led away from exhaust and shafts; engine off when it is screwed in. The maker's service procedure, local rules and licensed practice come first."
}

caution "air_check" {
  text = "Regulated dry air: at most 50 psi (345 kPa) on a three-speed, at most 80 psi (552 kPa) on a four-speed (published: TM 9-2320-280-34 and TM 9-2320-387-24-2), or the maker's lower figure. Eye protection, fingers away from pistons, rag over the hole: oil sprays. The maker's service procedure, local rules and licensed practice come first."
}

caution "eyes" {
  text = "Eye protection: springs, snap rings, air and solvent fly. The maker's service procedure, local rules and licensed practice come first."
}

caution "stored_energy" {
  text = "Springs under servo covers, accumulators and clutch retainers are loaded: hold with the right compressor, release slowly, face away. The maker's service procedure, local rules and licensed practice come first."
}

caution "solvents" {
  text = "Solvent and lining dust: ventilation, gloves, no flame; wipe or wet dust, never blow it off. The maker's service procedure, local rules and licensed practice come first."
}

caution "heavy_unit" {
  text = "The unit is heavy and slides off its dowels: transmission jack with a chain, converter held in its housing, two people. The maker's service procedure, local rules and licensed practice come first."
}

caution "battery" {
  text = "Battery off before starter, harness or cover come off, negative post first; note codes and learnt values before that. No sparks near a charging battery. The maker's service procedure, local rules and licensed practice come first."
}

caution "scan_parked" {
  text = "Tool connected and read while parked, P and parking brake on; on the road only with a second person reading. The maker's service procedure, local rules and licensed practice come first."
}

caution "exhaust_gas" {
  text = "Exhaust led out of doors before the engine runs inside. The maker's service procedure, local rules and licensed practice come first."
}

caution "electric_test" {
  text = "High-impedance meter, no test lamp on a controller's wires; coils only with their connector off. The maker's service procedure, local rules and licensed practice come first."
}
