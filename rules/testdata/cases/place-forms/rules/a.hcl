language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  shows "slips" {
    strength = 0.5
  }
  shows "lining_in_pan@D/1" {
    strength = 0.5
  }
  shows "slips@D/7" {
    strength = 0.5
  }
  shows "slips@served" {
    strength = 0.5
  }
  shows "slips@D/1:warm" {
    strength = 0.5
  }
}
