language = 1
basis "invented" {
  note = "for tests"
}
finding "smell" {
  stage = road
}
code "P0700" {
}
