language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  frequency = 0.01
  effect "slips" {
  }
}
reporter "boy" {
}
caution "c" {
}
