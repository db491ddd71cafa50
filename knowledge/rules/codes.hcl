# Trouble codes, generic. The titles are the standard's definitions (SAE J2012, the same
# as ISO 15031-6), as the public list in rusefi/rusefi gives them
# (firmware/controllers/algo/obd_error_codes.h; abbreviations written out). P076F is as
# the public list at elm327.net/obd-dtc gives it. Those of P0218, P0300, P0500, P0562,
# P07D9, U0100 and U0101 are recalled, not from a list. The
# letters of solenoids, sensors and friction elements are the maker's: which one is A
# is in the maker's chart. A solenoid that a unit names by its letter (c to f) is the one that
# its codes mean; where none is so named, all shift and clutch solenoids may be meant.
#
# A code says that a monitored test failed. A "circuit" or "electrical" code is the coil,
# its wiring or the controller. A "performance or stuck off" code is set by a slipping
# clutch, a worn bore or a bad valve as well as by the solenoid. P0700 alone says nothing:
# it turns on the light because the transmission controller holds other codes. Codes
# without a sign have only their title; a report of them is kept and weighs nothing.
language = 1
basis "recalled" {
  note = "signs follow common practice; strengths and leaks are of the right size only"
}

code "P0218" {
  title = "Transmission Fluid Over Temperature Condition"
  leak  = 0.002
  sign "runs_hot" {
    strength = expected
  }
}

code "P0300" {
  title = "Random/Multiple Cylinder Misfire Detected"
  leak  = 0.015
  sign "misfire_felt" {
    strength = 0.6
  }
}

code "P0500" {
  title = "Vehicle Speed Sensor A"
  leak  = 0.002
  sign "output_signal_bad" {
    strength = fifty_fifty
  }
  sign "speedometer_dead" {
    strength = expected
  }
}

code "P0562" {
  title = "System Voltage Low"
  leak  = 0.002
  sign "charging_voltage_low" {
    strength = expected
  }
}

code "P0702" {
  title = "Transmission Control System Electrical"
  leak  = 0.02
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0705" {
  title = "Transmission Range Sensor Circuit (PRNDL Input)"
  leak  = 0.004
  sign "range_signal_wrong" {
    strength = probable
  }
}

code "P0706" {
  title = "Transmission Range Sensor Circuit Range/Performance"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = probable
  }
}

code "P0707" {
  title = "Transmission Range Sensor Circuit Low"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = probable
  }
}

code "P0708" {
  title = "Transmission Range Sensor Circuit High"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = probable
  }
}

code "P0709" {
  title = "Transmission Range Sensor Circuit Intermittent"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = probable
  }
}

code "P0710" {
  title = "Transmission Fluid Temperature Sensor Circuit"
  leak  = 0.006
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0711" {
  title = "Transmission Fluid Temperature Sensor Circuit Range/Performance"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
  sign "temperature_signal_wrong" {
    strength = probable
  }
}

code "P0712" {
  title = "Transmission Fluid Temperature Sensor Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
  sign "temperature_signal_wrong" {
    strength = probable
  }
}

code "P0713" {
  title = "Transmission Fluid Temperature Sensor Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
  sign "temperature_signal_wrong" {
    strength = probable
  }
}

code "P0714" {
  title = "Transmission Fluid Temperature Sensor Circuit Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
  sign "temperature_signal_wrong" {
    strength = probable
  }
}

code "P0715" {
  title = "Input/Turbine Speed Sensor Circuit"
  leak  = 0.003
  sign "input_signal_bad" {
    strength = probable
  }
}

code "P0716" {
  title = "Input/Turbine Speed Sensor Circuit Range/Performance"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = probable
  }
}

code "P0717" {
  title = "Input/Turbine Speed Sensor Circuit No Signal"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = probable
  }
}

code "P0718" {
  title = "Input/Turbine Speed Sensor Circuit Intermittent"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = probable
  }
}

code "P0720" {
  title = "Output Speed Sensor Circuit"
  leak  = 0.003
  sign "output_signal_bad" {
    strength = probable
  }
}

code "P0721" {
  title = "Output Speed Sensor Circuit Range/Performance"
  leak  = 0.002
  sign "output_signal_bad" {
    strength = probable
  }
}

code "P0722" {
  title = "Output Speed Sensor Circuit No Signal"
  leak  = 0.002
  sign "output_signal_bad" {
    strength = probable
  }
}

code "P0723" {
  title = "Output Speed Sensor Circuit Intermittent"
  leak  = 0.002
  sign "output_signal_bad" {
    strength = probable
  }
}

code "P0729" {
  title = "Gear 6 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/6" {
    strength = expected
  }
}

code "P0730" {
  title = "Incorrect Gear Ratio"
  leak  = 0.002
  sign "wrong_gear@D/1" {
    strength = fifty_fifty
  }
  sign "ratio_off@D/3" {
    strength = 0.3
  }
}

code "P0731" {
  title = "Gear 1 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/1" {
    strength = expected
  }
}

code "P0732" {
  title = "Gear 2 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/2" {
    strength = expected
  }
}

code "P0733" {
  title = "Gear 3 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/3" {
    strength = expected
  }
}

code "P0734" {
  title = "Gear 4 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/4" {
    strength = expected
  }
}

code "P0735" {
  title = "Gear 5 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/5" {
    strength = expected
  }
}

code "P0736" {
  title = "Reverse Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@R/R" {
    strength = 0.6
  }
}

code "P0740" {
  title = "Torque Converter Clutch Circuit"
  leak  = 0.004
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0741" {
  title = "Torque Converter Clutch Circuit Performance or Stuck Off"
  leak  = 0.002
  sign "lockup.dead" {
    strength = expected
  }
  sign "lockup.slips" {
    strength = expected
  }
  sign "converter.stuck_off" {
    strength = 0.6
  }
  sign "converter.weak" {
    strength = fifty_fifty
  }
  sign "lockup.shudders" {
    strength = improbable
  }
}

code "P0742" {
  title = "Torque Converter Clutch Circuit Stuck On"
  leak  = 0.002
  sign "lockup.stays_on" {
    strength = expected
  }
  sign "converter.stuck_on" {
    strength = expected
  }
}

code "P0743" {
  title = "Torque Converter Clutch Circuit Electrical"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0744" {
  title = "Torque Converter Clutch Circuit Intermittent"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0745" {
  title = "Pressure Control Solenoid A"
  leak  = 0.002
  sign "resistance_off@pressure_control" {
    strength = fifty_fifty
  }
  sign "connector_bad" {
    strength = uncertain
  }
}

code "P0746" {
  title = "Pressure Control Solenoid A Performance or Stuck Off"
  leak  = 0.002
  sign "line.low" {
    strength = uncertain
  }
  sign "pressure.weak" {
    strength = uncertain
  }
}

code "P0747" {
  title = "Pressure Control Solenoid A Stuck On"
  leak  = 0.002
  sign "line.low" {
    strength = 0.2
  }
}

code "P0748" {
  title = "Pressure Control Solenoid A Electrical"
  leak  = 0.002
  sign "resistance_off@pressure_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0749" {
  title = "Pressure Control Solenoid A Intermittent"
  leak  = 0.002
  sign "resistance_off@pressure_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0750" {
  title = "Shift Solenoid A"
  leak  = 0.002
  sign "a.stuck_off" {
    strength = 0.4
  }
  sign "resistance_off@a" {
    strength = 0.4
  }
  sign "connector_bad" {
    strength = 0.3
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = 0.1
  }
}

code "P0751" {
  title = "Shift Solenoid A Performance or Stuck Off"
  leak  = 0.002
  sign "a.stuck_off" {
    strength = 0.6
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = improbable
  }
  sign "*.slips" {
    strength = 0.1
  }
  sign "clutch.stuck_off" {
    strength = 0.2
  }
}

code "P0752" {
  title = "Shift Solenoid A Stuck On"
  leak  = 0.002
  sign "a.stuck_on" {
    strength = 0.6
  }
  sign "shift.missing" {
    strength = 0.1
  }
  sign "*.stays_on" {
    strength = improbable
  }
  sign "clutch.stuck_on" {
    strength = 0.2
  }
}

code "P0753" {
  title = "Shift Solenoid A Electrical"
  leak  = 0.002
  sign "resistance_off@a" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0754" {
  title = "Shift Solenoid A Intermittent"
  leak  = 0.002
  sign "resistance_off@a" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0755" {
  title = "Shift Solenoid B"
  leak  = 0.002
  sign "b.stuck_off" {
    strength = 0.4
  }
  sign "resistance_off@b" {
    strength = 0.4
  }
  sign "connector_bad" {
    strength = 0.3
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = 0.1
  }
}

code "P0756" {
  title = "Shift Solenoid B Performance or Stuck Off"
  leak  = 0.002
  sign "b.stuck_off" {
    strength = 0.6
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = improbable
  }
  sign "*.slips" {
    strength = 0.1
  }
  sign "clutch.stuck_off" {
    strength = 0.2
  }
}

code "P0757" {
  title = "Shift Solenoid B Stuck On"
  leak  = 0.002
  sign "b.stuck_on" {
    strength = 0.6
  }
  sign "shift.missing" {
    strength = 0.1
  }
  sign "*.stays_on" {
    strength = improbable
  }
  sign "clutch.stuck_on" {
    strength = 0.2
  }
}

code "P0758" {
  title = "Shift Solenoid B Electrical"
  leak  = 0.002
  sign "resistance_off@b" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0759" {
  title = "Shift Solenoid B Intermittent"
  leak  = 0.002
  sign "resistance_off@b" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0760" {
  title = "Shift Solenoid C"
  leak  = 0.002
  sign "c.stuck_off" {
    strength = 0.4
  }
  sign "resistance_off@c" {
    strength = 0.4
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0761" {
  title = "Shift Solenoid C Performance or Stuck Off"
  leak  = 0.002
  sign "c.stuck_off" {
    strength = 0.6
  }
  sign "clutch.stuck_off" {
    strength = 0.2
  }
  sign "shift.stuck_off" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = improbable
  }
  sign "*.slips" {
    strength = 0.1
  }
}

code "P0762" {
  title = "Shift Solenoid C Stuck On"
  leak  = 0.002
  sign "c.stuck_on" {
    strength = 0.6
  }
  sign "clutch.stuck_on" {
    strength = 0.2
  }
  sign "shift.stuck_on" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.1
  }
  sign "*.stays_on" {
    strength = improbable
  }
}

code "P0763" {
  title = "Shift Solenoid C Electrical"
  leak  = 0.002
  sign "resistance_off@c" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0764" {
  title = "Shift Solenoid C Intermittent"
  leak  = 0.002
  sign "resistance_off@c" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0765" {
  title = "Shift Solenoid D"
  leak  = 0.002
  sign "d.stuck_off" {
    strength = 0.4
  }
  sign "resistance_off@d" {
    strength = 0.4
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0766" {
  title = "Shift Solenoid D Performance or Stuck Off"
  leak  = 0.002
  sign "d.stuck_off" {
    strength = 0.6
  }
  sign "clutch.stuck_off" {
    strength = 0.2
  }
  sign "shift.stuck_off" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = improbable
  }
  sign "*.slips" {
    strength = 0.1
  }
}

code "P0767" {
  title = "Shift Solenoid D Stuck On"
  leak  = 0.002
  sign "d.stuck_on" {
    strength = 0.6
  }
  sign "clutch.stuck_on" {
    strength = 0.2
  }
  sign "shift.stuck_on" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.1
  }
  sign "*.stays_on" {
    strength = improbable
  }
}

code "P0768" {
  title = "Shift Solenoid D Electrical"
  leak  = 0.002
  sign "resistance_off@d" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0769" {
  title = "Shift Solenoid D Intermittent"
  leak  = 0.002
  sign "resistance_off@d" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0770" {
  title = "Shift Solenoid E"
  leak  = 0.002
  sign "e.stuck_off" {
    strength = 0.4
  }
  sign "resistance_off@e" {
    strength = 0.4
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0771" {
  title = "Shift Solenoid E Performance or Stuck Off"
  leak  = 0.002
  sign "e.stuck_off" {
    strength = 0.6
  }
  sign "clutch.stuck_off" {
    strength = 0.2
  }
  sign "shift.stuck_off" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = improbable
  }
  sign "*.slips" {
    strength = 0.1
  }
}

code "P0772" {
  title = "Shift Solenoid E Stuck On"
  leak  = 0.002
  sign "e.stuck_on" {
    strength = 0.6
  }
  sign "clutch.stuck_on" {
    strength = 0.2
  }
  sign "shift.stuck_on" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.1
  }
  sign "*.stays_on" {
    strength = improbable
  }
}

code "P0773" {
  title = "Shift Solenoid E Electrical"
  leak  = 0.002
  sign "resistance_off@e" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0774" {
  title = "Shift Solenoid E Intermittent"
  leak  = 0.002
  sign "resistance_off@e" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P076F" {
  title = "Gear 7 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/7" {
    strength = expected
  }
}

code "P0775" {
  title = "Pressure Control Solenoid B"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0776" {
  title = "Pressure Control Solenoid B Performance or Stuck Off"
  leak  = 0.002
  sign "pressure.weak" {
    strength = 0.2
  }
  sign "pressure.stuck_off" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.15
  }
  sign "*.dead" {
    strength = 0.15
  }
}

code "P0777" {
  title = "Pressure Control Solenoid B Stuck On"
  leak  = 0.002
  sign "pressure.stuck_on" {
    strength = 0.3
  }
  sign "*.stays_on" {
    strength = 0.15
  }
}

code "P0778" {
  title = "Pressure Control Solenoid B Electrical"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0779" {
  title = "Pressure Control Solenoid B Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0780" {
  title = "Shift"
  leak  = 0.002
  sign "no_shift@*" {
    strength = 0.3
  }
  sign "flare@up" {
    strength = 0.2
  }
}

code "P0781" {
  title = "1-2 Shift"
  leak  = 0.002
  sign "no_shift@D/1-2" {
    strength = fifty_fifty
  }
  sign "flare@D/1-2" {
    strength = uncertain
  }
}

code "P0782" {
  title = "2-3 Shift"
  leak  = 0.002
  sign "no_shift@D/2-3" {
    strength = fifty_fifty
  }
  sign "flare@D/2-3" {
    strength = uncertain
  }
}

code "P0783" {
  title = "3-4 Shift"
  leak  = 0.002
  sign "no_shift@D/3-4" {
    strength = fifty_fifty
  }
  sign "flare@D/3-4" {
    strength = uncertain
  }
}

code "P0784" {
  title = "4-5 Shift"
  leak  = 0.002
  sign "no_shift@D/4-5" {
    strength = fifty_fifty
  }
  sign "flare@D/4-5" {
    strength = uncertain
  }
}

code "P0795" {
  title = "Pressure Control Solenoid C"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0796" {
  title = "Pressure Control Solenoid C Performance or Stuck Off"
  leak  = 0.002
  sign "pressure.weak" {
    strength = 0.2
  }
  sign "pressure.stuck_off" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.15
  }
  sign "*.dead" {
    strength = 0.15
  }
}

code "P0797" {
  title = "Pressure Control Solenoid C Stuck On"
  leak  = 0.002
  sign "pressure.stuck_on" {
    strength = 0.3
  }
  sign "*.stays_on" {
    strength = 0.15
  }
}

code "P0798" {
  title = "Pressure Control Solenoid C Electrical"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0799" {
  title = "Pressure Control Solenoid C Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P07D9" {
  title = "Gear 8 Incorrect Ratio"
  leak  = 0.002
  sign "ratio_off@D/8" {
    strength = expected
  }
}

code "P0811" {
  title = "Excessive Clutch Slippage"
  leak  = 0.002
  sign "*.slips" {
    strength = expected
  }
}

code "P0812" {
  title = "Reverse Input Circuit"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0819" {
  title = "Up and Down Shift Switch to Transmission Range Correlation"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0829" {
  title = "5-6 Shift"
  leak  = 0.002
  sign "no_shift@D/5-6" {
    strength = fifty_fifty
  }
  sign "flare@D/5-6" {
    strength = uncertain
  }
}

code "P0840" {
  title = "Transmission Fluid Pressure Sensor/Switch A Circuit"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0841" {
  title = "Transmission Fluid Pressure Sensor/Switch A Circuit Range/Performance"
  leak  = 0.002
  sign "line.low" {
    strength = 0.2
  }
}

code "P0842" {
  title = "Transmission Fluid Pressure Sensor/Switch A Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0843" {
  title = "Transmission Fluid Pressure Sensor/Switch A Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0844" {
  title = "Transmission Fluid Pressure Sensor/Switch A Circuit Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0845" {
  title = "Transmission Fluid Pressure Sensor/Switch B Circuit"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0846" {
  title = "Transmission Fluid Pressure Sensor/Switch B Circuit Range/Performance"
  leak  = 0.002
  sign "line.low" {
    strength = 0.2
  }
}

code "P0847" {
  title = "Transmission Fluid Pressure Sensor/Switch B Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0848" {
  title = "Transmission Fluid Pressure Sensor/Switch B Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0849" {
  title = "Transmission Fluid Pressure Sensor/Switch B Circuit Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0850" {
  title = "Park/Neutral Switch Input Circuit"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0851" {
  title = "Park/Neutral Switch Input Circuit Low"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0852" {
  title = "Park/Neutral Switch Input Circuit High"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0853" {
  title = "Drive Switch Input Circuit"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0854" {
  title = "Drive Switch Input Circuit Low"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0855" {
  title = "Drive Switch Input Circuit High"
  leak  = 0.002
  sign "range_signal_wrong" {
    strength = 0.3
  }
}

code "P0863" {
  title = "TCM Communication Circuit"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.3
  }
  sign "charging_voltage_low" {
    strength = 0.2
  }
}

code "P0864" {
  title = "TCM Communication Circuit Range/Performance"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.3
  }
  sign "charging_voltage_low" {
    strength = 0.2
  }
}

code "P0865" {
  title = "TCM Communication Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.3
  }
  sign "charging_voltage_low" {
    strength = 0.2
  }
}

code "P0866" {
  title = "TCM Communication Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.3
  }
  sign "charging_voltage_low" {
    strength = 0.2
  }
}

code "P0867" {
  title = "Transmission Fluid Pressure"
  leak  = 0.002
  sign "line.low" {
    strength = 0.4
  }
  sign "line.high" {
    strength = 0.2
  }
}

code "P0868" {
  title = "Transmission Fluid Pressure Low"
  leak  = 0.002
  sign "line.low" {
    strength = expected
  }
}

code "P0869" {
  title = "Transmission Fluid Pressure High"
  leak  = 0.002
  sign "line.high" {
    strength = expected
  }
}

code "P0870" {
  title = "Transmission Fluid Pressure Sensor/Switch C Circuit"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0871" {
  title = "Transmission Fluid Pressure Sensor/Switch C Circuit Range/Performance"
  leak  = 0.002
  sign "line.low" {
    strength = 0.2
  }
}

code "P0872" {
  title = "Transmission Fluid Pressure Sensor/Switch C Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0873" {
  title = "Transmission Fluid Pressure Sensor/Switch C Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0874" {
  title = "Transmission Fluid Pressure Sensor/Switch C Circuit Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0875" {
  title = "Transmission Fluid Pressure Sensor/Switch D Circuit"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0876" {
  title = "Transmission Fluid Pressure Sensor/Switch D Circuit Range/Performance"
  leak  = 0.002
  sign "line.low" {
    strength = 0.2
  }
}

code "P0877" {
  title = "Transmission Fluid Pressure Sensor/Switch D Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0878" {
  title = "Transmission Fluid Pressure Sensor/Switch D Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0879" {
  title = "Transmission Fluid Pressure Sensor/Switch D Circuit Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0880" {
  title = "TCM Power Input Signal"
  leak  = 0.002
  sign "charging_voltage_low" {
    strength = 0.4
  }
  sign "ground_drop_high" {
    strength = 0.4
  }
}

code "P0881" {
  title = "TCM Power Input Signal Range/Performance"
  leak  = 0.002
  sign "charging_voltage_low" {
    strength = 0.4
  }
  sign "ground_drop_high" {
    strength = 0.4
  }
}

code "P0882" {
  title = "TCM Power Input Signal Low"
  leak  = 0.002
  sign "charging_voltage_low" {
    strength = 0.4
  }
  sign "ground_drop_high" {
    strength = 0.4
  }
}

code "P0883" {
  title = "TCM Power Input Signal High"
  leak  = 0.002
  sign "charging_voltage_low" {
    strength = 0.4
  }
  sign "ground_drop_high" {
    strength = 0.4
  }
}

code "P0884" {
  title = "TCM Power Input Signal Intermittent"
  leak  = 0.002
  sign "charging_voltage_low" {
    strength = 0.4
  }
  sign "ground_drop_high" {
    strength = 0.4
  }
}

code "P0885" {
  title = "TCM Power Relay Control Circuit/Open"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0886" {
  title = "TCM Power Relay Control Circuit Low"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0887" {
  title = "TCM Power Relay Control Circuit High"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0888" {
  title = "TCM Power Relay Sense Circuit"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0889" {
  title = "TCM Power Relay Sense Circuit Range/Performance"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0890" {
  title = "TCM Power Relay Sense Circuit Low"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0891" {
  title = "TCM Power Relay Sense Circuit High"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0892" {
  title = "TCM Power Relay Sense Circuit Intermittent"
  leak  = 0.002
  sign "ground_drop_high" {
    strength = 0.2
  }
}

code "P0893" {
  title = "Multiple Gears Engaged"
  leak  = 0.002
  sign "ties_up@*" {
    strength = expected
  }
}

code "P0894" {
  title = "Transmission Component Slipping"
  leak  = 0.002
  sign "*.slips" {
    strength = expected
  }
}

code "P0895" {
  title = "Shift Time Too Short"
  leak  = 0.002
  sign "harsh_shift@up" {
    strength = 0.4
  }
}

code "P0896" {
  title = "Shift Time Too Long"
  leak  = 0.002
  sign "flare@up" {
    strength = 0.4
  }
  sign "soft_shift@*" {
    strength = 0.4
  }
}

code "P0897" {
  title = "Transmission Fluid Deteriorated"
  leak  = 0.002
  sign "fluid_burnt_smell" {
    strength = 0.4
  }
}

code "P2700" {
  title = "Transmission Friction Element A Apply Time Range/Performance"
  leak  = 0.002
  sign "*.applies_late" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.2
  }
  sign "*.leaks" {
    strength = 0.15
  }
}

code "P2701" {
  title = "Transmission Friction Element B Apply Time Range/Performance"
  leak  = 0.002
  sign "*.applies_late" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.2
  }
  sign "*.leaks" {
    strength = 0.15
  }
}

code "P2702" {
  title = "Transmission Friction Element C Apply Time Range/Performance"
  leak  = 0.002
  sign "*.applies_late" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.2
  }
  sign "*.leaks" {
    strength = 0.15
  }
}

code "P2703" {
  title = "Transmission Friction Element D Apply Time Range/Performance"
  leak  = 0.002
  sign "*.applies_late" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.2
  }
  sign "*.leaks" {
    strength = 0.15
  }
}

code "P2704" {
  title = "Transmission Friction Element E Apply Time Range/Performance"
  leak  = 0.002
  sign "*.applies_late" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.2
  }
  sign "*.leaks" {
    strength = 0.15
  }
}

code "P2705" {
  title = "Transmission Friction Element F Apply Time Range/Performance"
  leak  = 0.002
  sign "*.applies_late" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.2
  }
  sign "*.leaks" {
    strength = 0.15
  }
}

code "P2706" {
  title = "Shift Solenoid F"
  leak  = 0.002
  sign "f.stuck_off" {
    strength = 0.4
  }
  sign "resistance_off@f" {
    strength = 0.4
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2707" {
  title = "Shift Solenoid F Performance or Stuck Off"
  leak  = 0.002
  sign "f.stuck_off" {
    strength = 0.6
  }
  sign "clutch.stuck_off" {
    strength = 0.2
  }
  sign "shift.stuck_off" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.2
  }
  sign "*.dead" {
    strength = improbable
  }
  sign "*.slips" {
    strength = 0.1
  }
}

code "P2708" {
  title = "Shift Solenoid F Stuck On"
  leak  = 0.002
  sign "f.stuck_on" {
    strength = 0.6
  }
  sign "clutch.stuck_on" {
    strength = 0.2
  }
  sign "shift.stuck_on" {
    strength = 0.2
  }
  sign "shift.missing" {
    strength = 0.1
  }
  sign "*.stays_on" {
    strength = improbable
  }
}

code "P2709" {
  title = "Shift Solenoid F Electrical"
  leak  = 0.002
  sign "resistance_off@f" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2710" {
  title = "Shift Solenoid F Intermittent"
  leak  = 0.002
  sign "resistance_off@f" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2711" {
  title = "Unexpected Mechanical Gear Disengagement"
  leak  = 0.002
  sign "drops_out_of_gear" {
    strength = 0.4
  }
}

code "P2713" {
  title = "Pressure Control Solenoid D"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2714" {
  title = "Pressure Control Solenoid D Performance or Stuck Off"
  leak  = 0.002
  sign "pressure.weak" {
    strength = 0.2
  }
  sign "pressure.stuck_off" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.15
  }
  sign "*.dead" {
    strength = 0.15
  }
}

code "P2715" {
  title = "Pressure Control Solenoid D Stuck On"
  leak  = 0.002
  sign "pressure.stuck_on" {
    strength = 0.3
  }
  sign "*.stays_on" {
    strength = 0.15
  }
}

code "P2716" {
  title = "Pressure Control Solenoid D Electrical"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2717" {
  title = "Pressure Control Solenoid D Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2722" {
  title = "Pressure Control Solenoid E"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2723" {
  title = "Pressure Control Solenoid E Performance or Stuck Off"
  leak  = 0.002
  sign "pressure.weak" {
    strength = 0.2
  }
  sign "pressure.stuck_off" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.15
  }
  sign "*.dead" {
    strength = 0.15
  }
}

code "P2724" {
  title = "Pressure Control Solenoid E Stuck On"
  leak  = 0.002
  sign "pressure.stuck_on" {
    strength = 0.3
  }
  sign "*.stays_on" {
    strength = 0.15
  }
}

code "P2725" {
  title = "Pressure Control Solenoid E Electrical"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2726" {
  title = "Pressure Control Solenoid E Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2731" {
  title = "Pressure Control Solenoid F"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2732" {
  title = "Pressure Control Solenoid F Performance or Stuck Off"
  leak  = 0.002
  sign "pressure.weak" {
    strength = 0.2
  }
  sign "pressure.stuck_off" {
    strength = 0.3
  }
  sign "*.slips" {
    strength = 0.15
  }
  sign "*.dead" {
    strength = 0.15
  }
}

code "P2733" {
  title = "Pressure Control Solenoid F Stuck On"
  leak  = 0.002
  sign "pressure.stuck_on" {
    strength = 0.3
  }
  sign "*.stays_on" {
    strength = 0.15
  }
}

code "P2734" {
  title = "Pressure Control Solenoid F Electrical"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2735" {
  title = "Pressure Control Solenoid F Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2740" {
  title = "Transmission Fluid Temperature Sensor B Circuit"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P2741" {
  title = "Transmission Fluid Temperature Sensor B Circuit Range/Performance"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P2742" {
  title = "Transmission Fluid Temperature Sensor B Circuit Low"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P2743" {
  title = "Transmission Fluid Temperature Sensor B Circuit High"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P2744" {
  title = "Transmission Fluid Temperature Sensor B Circuit Intermittent"
  leak  = 0.002
  sign "connector_bad" {
    strength = improbable
  }
}

code "P2756" {
  title = "Torque Converter Clutch Pressure Control Solenoid"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2757" {
  title = "Torque Converter Clutch Pressure Control Solenoid Performance or Stuck Off"
  leak  = 0.002
  sign "lockup.dead" {
    strength = expected
  }
  sign "lockup.slips" {
    strength = expected
  }
  sign "converter.stuck_off" {
    strength = 0.6
  }
  sign "converter.weak" {
    strength = fifty_fifty
  }
  sign "lockup.shudders" {
    strength = improbable
  }
}

code "P2758" {
  title = "Torque Converter Clutch Pressure Control Solenoid Stuck On"
  leak  = 0.002
  sign "lockup.stays_on" {
    strength = expected
  }
  sign "converter.stuck_on" {
    strength = expected
  }
}

code "P2759" {
  title = "Torque Converter Clutch Pressure Control Solenoid Electrical"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2760" {
  title = "Torque Converter Clutch Pressure Control Solenoid Intermittent"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2761" {
  title = "Torque Converter Clutch Pressure Control Solenoid Control Circuit/Open"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2762" {
  title = "Torque Converter Clutch Pressure Control Solenoid Control Circuit Range/Performance"
  leak  = 0.002
  sign "lockup.dead" {
    strength = expected
  }
  sign "lockup.slips" {
    strength = expected
  }
  sign "converter.stuck_off" {
    strength = 0.6
  }
  sign "converter.weak" {
    strength = fifty_fifty
  }
  sign "lockup.shudders" {
    strength = improbable
  }
}

code "P2763" {
  title = "Torque Converter Clutch Pressure Control Solenoid Control Circuit High"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2764" {
  title = "Torque Converter Clutch Pressure Control Solenoid Control Circuit Low"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2765" {
  title = "Input/Turbine Speed Sensor B Circuit"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = 0.3
  }
}

code "P2766" {
  title = "Input/Turbine Speed Sensor B Circuit Range/Performance"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = 0.3
  }
}

code "P2767" {
  title = "Input/Turbine Speed Sensor B Circuit No Signal"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = 0.3
  }
}

code "P2768" {
  title = "Input/Turbine Speed Sensor B Circuit Intermittent"
  leak  = 0.002
  sign "input_signal_bad" {
    strength = 0.3
  }
}

code "P2769" {
  title = "Torque Converter Clutch Circuit Low"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2770" {
  title = "Torque Converter Clutch Circuit High"
  leak  = 0.002
  sign "resistance_off@lockup_control" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P2783" {
  title = "Torque Converter Temperature Too High"
  leak  = 0.002
  sign "runs_hot" {
    strength = 0.4
  }
}

code "P2787" {
  title = "Clutch Temperature Too High"
  leak  = 0.002
  sign "*.slips" {
    strength = 0.4
  }
}

code "P2789" {
  title = "Clutch Adaptive Learning at Limit"
  leak  = 0.002
  sign "*.slips" {
    strength = fifty_fifty
  }
  sign "*.applies_late" {
    strength = 0.4
  }
}

code "U0100" {
  title = "Lost Communication With ECM/PCM A"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.3
  }
  sign "charging_voltage_low" {
    strength = 0.2
  }
}

code "U0101" {
  title = "Lost Communication With TCM"
  leak  = 0.002
  sign "connector_bad" {
    strength = 0.2
  }
  sign "ground_drop_high" {
    strength = 0.3
  }
  sign "charging_voltage_low" {
    strength = 0.2
  }
}

code "P0703" {
  title = "Brake Switch B Circuit"
  leak  = 0.002
  sign "brake_signal_wrong" {
    strength = expected
  }
}

code "P0719" {
  title = "Brake Switch B Circuit Low"
  leak  = 0.002
  sign "brake_signal_wrong" {
    strength = expected
  }
}

code "P0724" {
  title = "Brake Switch B Circuit High"
  leak  = 0.002
  sign "brake_signal_wrong" {
    strength = expected
  }
}
