language = 1
basis "invented" {
  note = "for tests"
}
check "drive" {
  stage    = road
  minutes  = 10
  reporter = "driver"
  yields   = ["slips"]
}
check "air_test" {
  stage    = teardown
  minutes  = 10
  reporter = "eye"
  yields   = ["slips"]
}
check "fair_look" {
  stage    = teardown
  minutes  = 10
  reporter = "eye"
  yields   = ["slips"]
}
