language = 1
basis "invented" {
  note = "for tests"
}
mode "cut_ring" {
  because "low_apply_pressure" {
    strength = 0.5
  }
}
