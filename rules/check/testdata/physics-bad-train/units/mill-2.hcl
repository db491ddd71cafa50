language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "3" {
    apply = []
  }
  brake "loop" {
    holds = "sun"
  }
}
