language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  component "drum" {
    kind   = drum
    serves = unit
  }
  component "roller" {
    frequency "burnt_friction" {
      rate = 0.1
    }
  }
  component "line_rings" {
    serves = element.forward
  }
  step "pan_off" {
    exposes = ["fluid", "drum"]
  }
}
