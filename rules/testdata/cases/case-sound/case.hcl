language = 1
case "c" {
  unit = "mill-2"
  reports "driver" {
    present = ["slips@D/1", "acts_as_1@D/2", "flare@D/1-2:hot", "code_P0741"]
    absent  = ["lining_in_pan"]
    at      = "2026-03-01 14:30"
  }
  reading "line_pressure" "idle/D" {
    value = "40 psi"
  }
  reading "end_play" {
    value = "0.030 in"
    by    = "eye"
  }
  found "forward_plates" {
    mode  = "burnt_friction"
    cause = "wrong_fluid"
  }
  cleared "roller" {
  }
  settled "wrong_fluid" {
    present = true
  }
  done = ["pan_off", "pull"]
}
