# The heavy-truck harrow-3: a fifth plate in the front clutch, more pressure in reverse,
# wider bushings. Told apart in rules/variants.hcl.
language = 1
basis "invented" {
  note = "demo unit; no maker's figures here"
}

unit "harrow-3-heavy" {
  title = "Three-speed Simpson with two bands, heavy truck"
  like  = "harrow-3"

  pressure "idle" "R" { between = ["160 psi", "215 psi"] }
  limit "front_clutch_clearance" { between = ["1.8 mm", "3.0 mm"] }
  limit "bushing_fit" { high = "0.15 mm" }
}
