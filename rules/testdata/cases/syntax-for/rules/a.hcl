language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  serves = [for k in kinds : k]
}
