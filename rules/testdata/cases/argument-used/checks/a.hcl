language = 1
basis "invented" {
  note = "for tests"
}
check "a" {
  title    = "a"
  stage    = gauges
  minutes  = 3
  minute   = 4
  yield    = ["slips@*"]
  cautions = ["running"]
}
