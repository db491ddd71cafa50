# What drivers complain of that belongs to no row or shift.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "drops_out_of_gear" {
  title    = "drops into neutral while driving"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases  = ["pops out of gear", "drops into neutral", "jumps out of second", "loses gear while driving"]
}

finding "hunts" {
  title    = "keeps shifting up and down at a steady speed"
  stage    = road
  reporter = "driver"
  leak     = 0.0015
  phrases  = ["hunts", "shifts back and forth", "in and out of overdrive"]
}

finding "no_kickdown" {
  title    = "no downshift when the pedal is floored"
  stage    = road
  reporter = "driver"
  leak     = 0.0015
  phrases  = ["no kickdown", "will not kick down", "passing gear does not work", "will not downshift", "will not downshift for passing"]
}

finding "harsh_downshift" {
  title    = "harsh downshift, or a clunk on coming to a stop"
  stage    = road
  reporter = "driver"
  leak     = 0.006
  phrases  = ["bangs on the downshift", "clunks on the downshift", "hard downshift", "clunks when I stop", "bangs down when I stop", "bangs coming to a stop", "bangs into first when I stop"]
  sign "down_hard" {
    strength = 0.4
  }
  sign "down_high_line" {
    strength = uncertain
  }
}

finding "gear_lamp_on" {
  title    = "overdrive-off light on all the time, or its button does nothing"
  stage    = road
  reporter = "driver"
  leak     = 0.006
  phrases  = ["overdrive off light", "overdrive light stays on", "overdrive button does nothing"]
}

finding "cruise_dead" {
  title    = "cruise control dead, or the brake lights stay on"
  stage    = road
  reporter = "driver"
  leak     = 0.02
  phrases  = ["cruise control quit", "cruise does not work", "brake lights stay on"]
}
