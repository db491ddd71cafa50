# Solenoids and the harness inside. A code names a test that failed, not a solenoid.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "shift_coil_open" {
  title     = "coil open or shorted"
  of        = [shift_solenoid]
  frequency = 0.003
  look      = "resistance out of limits at a known temperature"
  effect "stuck_off" {
    strength = 0.95
  }
  effect "limp" {
    strength = 0.7
  }
  shows "resistance_off@served" {
    strength = 0.97
  }
  shows "light_on" {
    strength = expected
  }
  shows "key_off_cures" {
    strength = 0.15
  }
  because "age" {
    strength = 0.012
  }
}

mode "shift_coil_opens_hot" {
  title     = "coil opens when hot"
  of        = [shift_solenoid]
  frequency = 0.002
  look      = "good cold, open after an hour in hot oil; copper alone adds about 0.4 percent per degree C"
  effect "stuck_off" {
    strength = 0.9
    when     = hot
  }
  effect "limp" {
    strength = 0.6
    when     = hot
  }
  shows "resistance_off@served" {
    strength = 0.9
    when     = hot
  }
  shows "light_on" {
    strength = 0.6
  }
  shows "key_off_cures" {
    strength = 0.3
  }
  because "heat" {
    strength = 0.015
  }
}

mode "shift_sticks_off" {
  title     = "stuck in the de-energized position"
  of        = [shift_solenoid]
  frequency = 0.004
  look      = "clicks weakly or not, screen blocked, ball seat held by debris"
  effect "stuck_off" {
    strength = 0.9
  }
  shows "no_click@served" {
    strength = fifty_fifty
  }
  shows "solenoid_flow_off@served" {
    strength = 0.9
  }
  because "dirt" {
    strength = 0.05
  }
}

mode "shift_sticks_on" {
  title     = "stuck in the energized position"
  of        = [shift_solenoid]
  frequency = 0.0035
  look      = "plunger held by debris, passes air without current"
  effect "stuck_on" {
    strength = 0.9
  }
  shows "no_click@served" {
    strength = fifty_fifty
  }
  shows "solenoid_flow_off@served" {
    strength = 0.9
  }
  because "dirt" {
    strength = 0.04
  }
}

mode "pressure_coil_open" {
  title     = "coil open or shorted"
  of        = [pressure_solenoid]
  frequency = 0.003
  look      = "resistance out of limits at a known temperature"
  effect "high" {
    strength = 0.95
  }
  effect "limp" {
    strength = 0.5
  }
  shows "harsh_downshift" {
    strength = 0.4
  }
  shows "resistance_off@served" {
    strength = 0.97
  }
  shows "light_on" {
    strength = expected
  }
  shows "code_P0745" {
    strength = probable
  }
  shows "key_off_cures" {
    strength = 0.15
  }
  because "age" {
    strength = 0.012
  }
}

mode "pressure_coil_opens_hot" {
  title     = "coil opens when hot"
  of        = [pressure_solenoid]
  frequency = 0.002
  look      = "good cold, open after an hour in hot oil; copper alone adds about 0.4 percent per degree C"
  effect "high" {
    strength = 0.9
    when     = hot
  }
  effect "limp" {
    strength = 0.4
    when     = hot
  }
  shows "resistance_off@served" {
    strength = 0.9
    when     = hot
  }
  shows "light_on" {
    strength = 0.6
  }
  shows "key_off_cures" {
    strength = 0.3
  }
  shows "code_P0745" {
    strength = 0.6
  }
  because "heat" {
    strength = 0.015
  }
}

mode "pressure_sticks_off" {
  title     = "sticks, pressure high"
  of        = [pressure_solenoid]
  frequency = 0.004
  look      = "screen blocked, spool or ball seat held by debris"
  effect "high" {
    strength = 0.9
  }
  shows "solenoid_flow_off@served" {
    strength = 0.9
  }
  shows "code_P0746" {
    strength = 0.4
  }
  because "dirt" {
    strength = 0.05
  }
}

mode "pressure_sticks_on" {
  title     = "sticks, pressure low"
  of        = [pressure_solenoid]
  frequency = 0.0035
  look      = "plunger held by debris, passes air without current"
  effect "low" {
    strength = 0.9
  }
  shows "solenoid_flow_off@served" {
    strength = 0.9
  }
  shows "code_P0747" {
    strength = fifty_fifty
  }
  because "dirt" {
    strength = 0.04
  }
  stresses "low_apply_pressure" {
    strength = 0.3
  }
}

mode "lockup_coil_open" {
  title     = "coil open or shorted"
  of        = [lockup_solenoid]
  frequency = 0.003
  look      = "resistance out of limits at a known temperature"
  effect "stuck_off" {
    strength = 0.95
  }
  effect "limp" {
    strength = 0.25
  }
  shows "resistance_off@served" {
    strength = 0.97
  }
  shows "light_on" {
    strength = expected
  }
  shows "key_off_cures" {
    strength = 0.15
  }
  because "age" {
    strength = 0.012
  }
}

mode "lockup_coil_opens_hot" {
  title     = "coil opens when hot"
  of        = [lockup_solenoid]
  frequency = 0.002
  look      = "good cold, open after an hour in hot oil; copper alone adds about 0.4 percent per degree C"
  effect "stuck_off" {
    strength = 0.9
    when     = hot
  }
  effect "limp" {
    strength = 0.2
    when     = hot
  }
  shows "resistance_off@served" {
    strength = 0.9
    when     = hot
  }
  shows "light_on" {
    strength = 0.6
  }
  shows "key_off_cures" {
    strength = 0.3
  }
  because "heat" {
    strength = 0.015
  }
}

mode "lockup_sticks_off" {
  title     = "stuck in the de-energized position"
  of        = [lockup_solenoid]
  frequency = 0.004
  look      = "clicks weakly or not, screen blocked, ball seat held by debris"
  effect "stuck_off" {
    strength = 0.9
  }
  shows "no_click@served" {
    strength = fifty_fifty
  }
  shows "solenoid_flow_off@served" {
    strength = 0.9
  }
  because "dirt" {
    strength = 0.05
  }
}

mode "lockup_sticks_on" {
  title     = "stuck in the energized position"
  of        = [lockup_solenoid]
  frequency = 0.0035
  look      = "plunger held by debris, passes air without current"
  effect "stuck_on" {
    strength = 0.9
  }
  shows "no_click@served" {
    strength = fifty_fifty
  }
  shows "solenoid_flow_off@served" {
    strength = 0.9
  }
  because "dirt" {
    strength = 0.04
  }
}

mode "pressure_solenoid_weak" {
  title     = "pressure solenoid worn, pressure low"
  of        = [pressure_solenoid]
  frequency = 0.006
  look      = "spool bore worn, leaks at rest"
  effect "low" {
    strength = 0.8
    when     = hot
  }
  shows "solenoid_flow_off@served" {
    strength = expected
  }
  shows "code_P0746" {
    strength = fifty_fifty
  }
  because "age" {
    strength = 0.03
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

mode "lockup_solenoid_weak" {
  title     = "converter clutch solenoid leaks"
  of        = [lockup_solenoid]
  frequency = 0.0039
  look      = "seat worn, O-ring cut"
  effect "weak" {
    strength = 0.8
    when     = hot
  }
  shows "hunts" {
    strength = 0.2
  }
  shows "solenoid_flow_off@served" {
    strength = expected
  }
  because "age" {
    strength = 0.02
  }
}

mode "inner_harness_open" {
  title     = "harness or case connector open"
  of        = [inner_harness]
  frequency = 0.005
  look      = "insulation brittle, pin pushed back, fluid wicked into the plug"
  effect "limp" {
    strength = 0.7
  }
  shows "resistance_off@served" {
    strength = expected
  }
  shows "light_on" {
    strength = probable
  }
  shows "key_off_cures" {
    strength = 0.4
  }
  because "age" {
    strength = 0.025
  }
}

mode "temperature_signal_lost" {
  title      = "fluid temperature signal wrong"
  of         = [temperature_sensor]
  frequency  = 0.004
  look       = "always reads cold or jumps; resistance does not fall as it warms"
  settled_by = ["scan_signals"]
  shows "no_lockup@*" {
    strength = fifty_fifty
  }
  shows "temperature_signal_wrong" {
    strength = 0.95
  }
  shows "code_P0710" {
    strength = 0.7
  }
  shows "late_shift@up" {
    strength = uncertain
  }
  shows "light_on" {
    strength = fifty_fifty
  }
  shows "lockup_not_commanded" {
    strength = 0.5
  }
  because "age" {
    strength = 0.008
  }
}
