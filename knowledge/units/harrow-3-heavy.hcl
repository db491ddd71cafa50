# The heavy-truck harrow-3: a fifth plate in the front clutch, more pressure in reverse,
# wider bushings. Told apart in rules/variants.hcl.
language = 1
basis "invented" {
  note = "demo unit; no maker's figures here"
}

unit "harrow-3-heavy" {
  title = "Three-speed Simpson with two bands, heavy truck"
  like  = "harrow-3"

  pressure "idle" "R" {
    low  = "160 psi"
    high = "215 psi"
  }
  limit "front_clutch_clearance" {
    low  = "1.8 mm"
    high = "3.0 mm"
  }
  limit "bushing_fit" {
    high = "0.15 mm"
  }
}
