# Root causes of use and upkeep: what was done to the vehicle.
language = 1
basis "recalled" {
  note = "shares of units that come in with a complaint, orders of magnitude from memory; strengths follow common practice"
}

cause "high_mileage" {
  title      = "high mileage"
  context    = true
  frequency  = 0.25
  settled_by = ["ask_mileage"]
  advice     = "measure bushings, bores and ring grooves before any part is reused"
  stresses "age" {
    strength = probable
  }
  shows "history_high_mileage" {
    strength = 0.97
  }
}

cause "neglected_fluid" {
  title      = "fluid never changed"
  frequency  = 0.08
  settled_by = ["ask_fluid_history", "filter_cut"]
  advice     = "flush cooler and lines, agree on a service interval"
  stresses "dirt" {
    strength = fifty_fifty
  }
  stresses "heat" {
    strength = improbable
  }
  shows "history_fluid_neglected" {
    strength = probable
  }
  shows "fluid_dark" {
    strength = expected
  }
  shows "varnish_seen" {
    strength = fifty_fifty
  }
}

cause "overheated" {
  title      = "overheated in traffic, on hills or by the engine"
  frequency  = 0.04
  settled_by = ["ask_overheated", "cooler_flow"]
  advice     = "fix engine cooling; fit a larger cooler if the work needs it"
  stresses "heat" {
    strength = probable
  }
  shows "history_overheated" {
    strength = expected
  }
  shows "fluid_burnt_smell" {
    strength = fifty_fifty
  }
}

cause "overloaded" {
  title      = "overloaded or towing beyond its rating"
  frequency  = 0.06
  settled_by = ["ask_load"]
  advice     = "tell the customer what the unit is rated for; add an external cooler"
  stresses "overload" {
    strength = expected
  }
  stresses "heat" {
    strength = fifty_fifty
  }
  shows "history_heavy_load" {
    strength = probable
  }
}

cause "abused" {
  title      = "rocked out of mud, hard launches, ranges changed while rolling"
  frequency  = 0.02
  settled_by = ["ask_load", "ask_event"]
  advice     = "check shells, splines and one-way clutches whatever else is found"
  stresses "overload" {
    strength = probable
  }
  shows "history_rocked" {
    strength = expected
  }
}

cause "towed_in_gear" {
  title      = "towed with the driven wheels on the ground"
  frequency  = 0.008
  settled_by = ["ask_towed"]
  advice     = "replace bushings and thrust washers as a set"
  stresses "no_lubrication" {
    strength = probable
  }
  shows "history_towed" {
    strength = certain
  }
}

cause "leak_neglected" {
  title      = "driven on with an oil leak"
  frequency  = 0.02
  settled_by = ["ask_oil_spots", "leak_trail"]
  advice     = "find the leak before the build: a new unit runs dry through the same leak"
  shows "history_oil_spots" {
    strength = probable
  }
  shows "leak_outside" {
    strength = probable
  }
  shows "history_leak_first" {
    strength = fifty_fifty
  }
}

cause "wrong_fluid" {
  title      = "filled with the wrong fluid"
  frequency  = 0.01
  settled_by = ["ask_fluid_added", "ask_fluid_history"]
  advice     = "flush converter and cooler too, they hold half of the fill"
  shows "history_other_fluid" {
    strength = 0.6
  }
  shows "history_fluid_added" {
    strength = expected
  }
  shows "history_fluid_changed" {
    strength = fifty_fifty
  }
  shows "history_same_again" {
    strength = 0.06
  }
}

cause "overfilled" {
  title      = "overfilled"
  frequency  = 0.008
  settled_by = ["fluid_level"]
  advice     = "set the level hot, in the maker's range"
  shows "history_fluid_added" {
    strength = probable
  }
  shows "fluid_overfull" {
    strength = probable
  }
}

cause "cooler_leaks_inside" {
  title      = "the cooler in the radiator leaks coolant into the fluid"
  frequency  = 0.0015
  settled_by = ["fluid_look", "leak_trail"]
  advice     = "new radiator or cooler before the unit goes in, lines flushed; linings and converter are lost with the fluid"
}

cause "water_in_fluid" {
  title      = "water got in: deep water, rain in the filler, vent under water"
  frequency  = 0.0007
  settled_by = ["fluid_look", "ask_water"]
  advice     = "linings and converter are ruined; route the vent hose above the water line"
  shows "history_flood" {
    strength = expected
  }
}

cause "low_voltage" {
  title      = "charging voltage, grounds or connectors bad"
  frequency  = 0.02
  settled_by = ["charging_voltage", "ground_drop"]
  advice     = "fix power and grounds before any solenoid is replaced"
  shows "history_electric_trouble" {
    strength = fifty_fifty
  }
  shows "history_same_again" {
    strength = 0.06
  }
}

cause "adaptations_lost" {
  title      = "battery disconnected or parts replaced without a relearn"
  frequency  = 0.012
  settled_by = ["ask_battery", "scan_adaptations"]
  advice     = "reset and relearn with the maker's drive; ask what was done before"
  shows "history_battery_off" {
    strength = probable
  }
  shows "history_same_again" {
    strength = 0.06
  }
}

cause "wrong_tires" {
  title      = "tires or axle ratio changed"
  formerly   = ["wrong_tyres"]
  frequency  = 0.006
  settled_by = ["ask_tires", "scan_ratio"]
  advice     = "set the controller for the tires and axle, or put the right ones back on"
  stresses "overload" {
    strength = improbable
  }
  shows "history_tires" {
    strength = probable
  }
  shows "history_same_again" {
    strength = 0.06
  }
}

cause "accident" {
  title      = "accident, hit from below, or work on the vehicle before the complaint"
  frequency  = 0.008
  settled_by = ["ask_event", "look_underneath"]
  advice     = "check cooler lines, linkage, connectors and mounts first"
  shows "history_event" {
    strength = probable
  }
}
