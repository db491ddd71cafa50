language = 1
basis "invented" {
  note = "for tests"
}
kind "gear" {
  title = { a = 1 }
  serves = {
    b = 2
  }
  outside = true
}
