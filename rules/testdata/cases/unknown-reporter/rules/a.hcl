language = 1
basis "invented" {
  note = "for tests"
}
finding "smell" {
  stage    = road
  leak     = 0.01
  reporter = "drivers"
}
