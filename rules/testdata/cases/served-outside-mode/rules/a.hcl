language = 1
basis "invented" {
  note = "for tests"
}
cause "rust" {
  frequency = 0.01
  shows "slips@served" {
    strength = 0.5
  }
}
