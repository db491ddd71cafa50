language = 1
basis "invented" {
  note = "for tests"
}
finding "clearance_high" {
  per          = element
  stage        = teardown
  reporter     = "eye"
  leak         = 0.01
  reading      = "clearance"
  reading_side = high
  reading_is   = length
}
finding "clearance_low" {
  per          = element
  stage        = teardown
  reporter     = "eye"
  leak         = 0.01
  reading      = "clearance"
  reading_side = low
  reading_is   = pressure
}
finding "bare" {
  stage      = teardown
  reporter   = "eye"
  leak       = 0.01
  reading_is = flow
}
finding "thick" {
  stage        = teardown
  reporter     = "eye"
  leak         = 0.01
  reading      = "thickness"
  reading_side = high
  reading_is   = width
}
example "pack measured in psi" {
  unit   = "mill-2"
  expect = ["forward_plates"]
  reading "clearance" "low" {
    value = "30 psi"
  }
}
