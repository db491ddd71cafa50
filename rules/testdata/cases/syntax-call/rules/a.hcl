language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  title = upper("gear")
  outside = true
}
