language = 1
basis "invented" {
  note = "what the snippets of the page name and do not show"
}
kind "accumulator" {
}
kind "converter" {
}
kind "pump" {
}
stress "no_lubrication" {
}
reporter "eye" {
  hit         = 0.95
  false_alarm = 0.02
}
reporter "gauge" {
  hit         = 0.95
  false_alarm = 0.02
}
reporter "road_test" {
  hit         = 0.95
  false_alarm = 0.02
}
finding "history_towed" {
  stage = interview
}
finding "fluid_low" {
  stage = pan
}
finding "valve_sticks" {
  stage = teardown
}
finding "no_drive" {
  per   = row
  stage = road
}
caution "heavy_unit" {
  text = "Two people."
}
check "ask_history" {
  stage   = interview
  minutes = 1
  yields  = ["history_towed"]
}
kind "shell" {
}
kind "shaft" {
}
kind "piston" {
}
kind "external_seal" {
}
