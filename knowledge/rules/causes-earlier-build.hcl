# Comebacks: causes that an earlier build missed, with what settles each.
language = 1
basis "recalled" {
  note = "shares of units that come in with a complaint, orders of magnitude from memory; the list and what settles each are common practice"
}

cause "cooler_not_flushed" {
  title      = "cooler left dirty or blocked at the last build"
  frequency  = 0.015
  settled_by = ["cooler_flow", "filter_cut"]
  advice     = "replace or flush by flow, then measure the flow in liters per minute"
  stresses "dirt" {
    strength = fifty_fifty
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = 0.3
  }
  shows "cooler_debris" {
    strength = expected
  }
}

cause "converter_reused" {
  title      = "old converter reused"
  frequency  = 0.012
  settled_by = ["filter_cut", "converter_look"]
  advice     = "a converter that has seen burnt clutches goes with them"
  stresses "dirt" {
    strength = fifty_fifty
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = 0.3
  }
  shows "converter_debris" {
    strength = expected
  }
}

cause "earlier_failure_debris" {
  title      = "debris from an earlier failure left in the case"
  frequency  = 0.012
  settled_by = ["filter_cut", "leak_trail"]
  advice     = "wash passages both ways, new solenoids where debris was metal"
  stresses "dirt" {
    strength = expected
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
}

cause "missed_valve_bore" {
  title      = "worn regulator, boost or converter clutch bore not tested"
  frequency  = 0.018
  settled_by = ["vacuum_test"]
  advice     = "vacuum-test every bore; ream and sleeve, or replace the body"
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = fifty_fifty
  }
}

cause "missed_bushing" {
  title      = "drum or stator bushing, ring groove, case bore or feed sleeve not measured"
  frequency  = 0.012
  settled_by = ["bushing_fit", "wet_air_check"]
  advice     = "measure the fit of each bushing, wet air check on the support"
  stresses "wrong_assembly" {
    strength = improbable
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = fifty_fifty
  }
  shows "bushing_loose" {
    strength = 0.6
  }
  shows "support_leak" {
    strength = 0.4
  }
}

cause "missed_servo" {
  title      = "servo bore or release seal not tested"
  frequency  = 0.005
  settled_by = ["air_check"]
  advice     = "air check of each circuit before and after the build"
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = fifty_fifty
  }
}

cause "missed_crack" {
  title      = "cracked piston or drum, or missing check ball, not seen"
  frequency  = 0.005
  settled_by = ["solvent_leakdown"]
  advice     = "solvent leak-down of each drum with its piston in"
  stresses "wrong_assembly" {
    strength = fifty_fifty
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = fifty_fifty
  }
  shows "leakdown_fails@*" {
    strength = 0.2
  }
}

cause "wrong_stack" {
  title      = "wrong plate count, clearance or snap ring"
  frequency  = 0.01
  settled_by = ["pack_feeler"]
  advice     = "write down the clearance of each pack before and after"
  stresses "wrong_assembly" {
    strength = expected
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "bench_clearance_off@*" {
    strength = improbable
  }
}

cause "misaligned" {
  title      = "missing dowel, cracked flexplate or wrong crank pilot"
  frequency  = 0.006
  settled_by = ["runout"]
  advice     = "measure runout of flexplate and pilot, count the dowels"
  stresses "wrong_assembly" {
    strength = uncertain
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_front_seal_again" {
    strength = fifty_fifty
  }
  shows "runout_high" {
    strength = probable
  }
}

cause "warped_or_wrong_parts" {
  title      = "warped body, wrong plate, gasket or filter"
  frequency  = 0.01
  settled_by = ["straightedge", "plate_compare"]
  advice     = "straightedge on castings; compare old with new, hole by hole"
  stresses "wrong_assembly" {
    strength = uncertain
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = 0.2
  }
}

cause "careless_build" {
  title      = "assembled carelessly: lips torn, rings caught, washers or clutches in backward"
  frequency  = 0.012
  settled_by = ["lip_direction", "one_way_direction", "thrust_places"]
  advice     = "one bench, one unit, one list checked off by hand"
  stresses "wrong_assembly" {
    strength = probable
  }
  shows "history_rebuilt" {
    strength = 0.97
  }
}

cause "converter_not_seated" {
  title      = "converter not fully seated when the unit went in"
  frequency  = 0.003
  settled_by = ["converter_look", "pump_look"]
  advice     = "measure converter depth before the bell housing meets the engine; it must turn freely with the bolts tight"
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_event" {
    strength = 0.3
  }
}

cause "missed_load_signal" {
  title      = "throttle cable, modulator or load signal not set after the build"
  frequency  = 0.006
  settled_by = ["cable_check", "modulator_look", "scan_signals"]
  advice     = "set cable or rod by the book, test the modulator with a hand pump, watch the load signal, all before the road test"
  shows "history_rebuilt" {
    strength = 0.97
  }
  shows "history_same_again" {
    strength = fifty_fifty
  }
}
