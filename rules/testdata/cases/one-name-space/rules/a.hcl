language = 1
basis "invented" {
  note = "for tests"
}
stress "cut_ring" {
}
cause "low_apply_pressure" {
  frequency = 0.01
}
