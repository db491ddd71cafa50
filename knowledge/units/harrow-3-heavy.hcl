# The heavy-truck harrow-3: a fifth plate in the front clutch, more pressure in reverse,
# wider bushings, and a vacuum modulator in place of the throttle rod. Told apart in
# rules/variants.hcl.
language = 1
basis "invented" {
  note = "demo unit; no maker's figures here"
}

unit "harrow-3-heavy" {
  title = "Three-speed Simpson with two bands, heavy truck, vacuum modulator"
  like  = "harrow-3"

  pressure "idle" "R" { between = ["160 psi", "215 psi"] }
  limit "front_clutch_clearance" { between = ["1.8 mm", "3.0 mm"] }
  limit "bushing_fit" { high = "0.15 mm" }

  component "throttle_valve" { drop = true }
  step "linkage_look" { title = "shift linkage and detent" }
  component "vacuum_modulator" {
    title  = "vacuum modulator and hose"
    kind   = modulator
    serves = [shift["1-2"], shift["2-3"], circuit.line]
    at     = "vacuum_modulator_out"
  }
  step "vacuum_modulator_out" {
    title    = "vacuum modulator out"
    stage    = in_vehicle
    same_as  = ["modulator_look"]
    minutes  = 6
    refit    = 4
    repair   = 6
    measure  = ["fluid in the hose?"]
    look     = ["diaphragm torn, stem stuck?"]
    cautions = ["hot_fluid", "supports"]
  }
  frequency "modulator_leaks" { rate = 0.025 }
  formerly "modulator" { now = "vacuum_modulator" }
  formerly "modulator_out" { now = "vacuum_modulator_out" }
}
