language = 1
case "c" {
  unit = "mill-2"
  reports "driver" {
    present = ["burnt_friction", "flare@D/2-2", "line_pressure_low@idle/Z"]
  }
  reading "line_pressure" "idle/D" {
    value = "40 mm"
  }
  reading "line_pressure" {
    value = "40 psi"
  }
  reading "end_play" {
    value = "40 psi"
  }
  reading "oil_colour" {
    value = "4 V"
  }
  found "forward_plates" {
    mode = "cut_ring"
  }
  found "plates" {
    mode = "burnt"
  }
  cleared "burnt_friction" {
  }
  settled "wrong_fluids" {
    present = 1
  }
  done = ["pan_off", "pul"]
}
