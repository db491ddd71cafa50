language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  limit "forward_clearance" {
    measures = "clearance@forward"
    between  = ["60 psi", "90 psi"]
  }
  limit "direct_clearance" {
    measures = "clearance@direct"
    low      = "1.0 mm"
    high     = "20 ohm at 20 degC"
  }
  limit "low_clearance" {
    measures = "clearance@low"
    high     = "1.9 s"
  }
  limit "coil" {
    between = ["18 ohm", "24 ohm"]
  }
  limit "other_coil" {
    high = "24 ohm"
  }
  limit "third_coil" {
    between = ["18 ohm at 20 degC", "24 ohm at 20 degC"]
  }
}
