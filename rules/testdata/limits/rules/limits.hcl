language = 1
basis "invented" {
  note = "for tests"
}
finding "dimension_off" {
  per          = limit
  title        = "{place} out of its limits"
  stage        = teardown
  reporter     = "eye"
  leak         = 0.005
  reading      = "limit"
  reading_side = either
}
cause "built_wrong" {
  title      = "built with the wrong parts"
  frequency  = 0.01
  settled_by = ["pan_look"]
  shows "dimension_off@*" {
    strength = probable
  }
}
