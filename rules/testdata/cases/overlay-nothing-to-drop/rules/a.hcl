language = 1
basis "invented" {
  note = "for tests"
}
mode "burnt_frction" {
  drop = true
}
