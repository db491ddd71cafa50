# The late northfork-4: the same train and clutches under another valve body. Told apart
# in rules/variants.hcl.
language = 1
basis "invented" {
  note = "demo unit; no maker's figures here"
}

unit "northfork-4-late" {
  title = "Four-speed Ravigneaux with overdrive band, late valve body"
  like  = "northfork-4"

  # Other solenoid states: without power D is in fourth, not in third.
  row "D" "1" { solenoids = ["a"] }
  row "D" "2" { solenoids = ["a", "b"] }
  row "D" "3" { solenoids = ["b"] }
  row "D" "4" { solenoids = [] }
  row "2" "1" { solenoids = ["a"] }
  row "2" "2" { solenoids = ["a", "b"] }
  row "L" "1" { solenoids = ["a"] }
  failsafe "D" { gear = "4" }
  pressure "idle" "R" { between = ["95 psi", "140 psi"] }
  component "plug_seal" {
    title  = "seal of the nine-pin plug"
    kind   = external_seal
    serves = unit
    at     = "pan_off"
  }
}
