language = 1
basis "invented" {
  note = "for tests"
}
stress "dirt" {
}
mode "cut_ring" {
  because "dirt" {
    strength = 0.1
  }
}
mode "burnt_friction" {
  stresses "dirt" {
    strength = 0.5
  }
}
