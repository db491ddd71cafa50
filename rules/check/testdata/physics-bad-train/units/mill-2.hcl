language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "3" {
    apply = []
  }
  clutch "loop" {
    joins = ["sun", "case"]
  }
}
