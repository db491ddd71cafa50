language = 1
basis "invented" {
  note = "for tests"
}
finding "hot_pan" {
  stage   = pan
  leak    = 0.01
  reading = "pan_temperature"
}
finding "cold_pan" {
  stage        = pan
  leak         = 0.01
  reading_side = low
}
