# What a driver is asked about things that belong to no row or shift.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size; the questions are common practice"
}

check "ask_by_itself" {
  title    = "what it does on its own"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["drops_out_of_gear", "hunts"]
  asks     = "Does it drop into neutral on its own while driving, or keep shifting up and down at a steady speed?"
}

check "ask_which_downshift" {
  title    = "which downshift"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["harsh_shift@down", "coast_clunk@down"]
  asks     = "Which downshift bangs: with the pedal down, or rolling to a stop?"
  follows  = ["harsh_downshift"]
}

check "ask_downshifts" {
  title    = "downshifts"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_kickdown", "harsh_downshift"]
  asks     = "Does it shift down when you floor the pedal, and does it clunk or bang when it shifts down or as you stop?"
}
