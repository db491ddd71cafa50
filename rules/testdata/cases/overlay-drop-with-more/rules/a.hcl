language = 1
basis "invented" {
  note = "for tests"
}
mode "burnt_friction" {
  drop  = true
  title = "x"
}
