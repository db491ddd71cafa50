language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  serves = [gearset unit]
  title  = "x"
}
