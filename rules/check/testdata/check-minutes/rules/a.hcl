language = 1
basis "invented" {
  note = "for tests"
}
check "c" {
  stage    = interview
  reporter = "driver"
}
