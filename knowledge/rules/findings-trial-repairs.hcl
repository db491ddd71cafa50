# Trial repairs: done because they cost little, and the drive after them tells. A
# complaint that comes and goes can stay away by chance: hence the leaks.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "gone_with_level_set" {
  title    = "complaint gone with the fluid level right"
  stage    = road
  reporter = "road_test"
  leak     = 0.02
}

finding "gone_with_new_fluid" {
  title    = "complaint gone with the maker's fluid in it"
  stage    = road
  reporter = "road_test"
  leak     = 0.02
}

finding "gone_after_relearn" {
  title    = "complaint gone after the relearn drive"
  stage    = road
  reporter = "road_test"
  leak     = 0.02
}
