language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  outside = a ? true : false
}
