language = 1
basis "invented" {
  note = "for tests"
}
case "x" {
  unit = "mill-2"
}
